package site

// NodeKind tells what a node of the plant's graph is.
type NodeKind string

// Kinds of nodes, from the roof to the street.
const (
	UnitNode     NodeKind = "unit"
	JunctionNode NodeKind = "junction"
	BusNode      NodeKind = "bus"
	TapNode      NodeKind = "tap"
	UtilityNode  NodeKind = "utility"
)

// Node is a point of the plant where circuits meet.
type Node struct {
	ID   string
	Kind NodeKind
	Unit *Unit
	Bus  *Bus
	Up   *Edge // the way towards the utility; nil at the utility
}

// EdgeKind tells what joins two nodes.
type EdgeKind string

// Kinds of edges.
const (
	TrunkEdge   EdgeKind = "trunk"
	RunEdge     EdgeKind = "run"
	ServiceEdge EdgeKind = "service"
)

// Edge joins a node to the next one towards the utility, with the overcurrent
// device at its far end where there is one.
type Edge struct {
	ID       string
	Kind     EdgeKind
	From, To *Node
	Branch   *Branch
	Trunk    *TrunkSegment
	Run      *Run
	Device   *Breaker
}

// Path lists the edges from a node to the utility, in order.
func (n *Node) Path() []*Edge {
	var out []*Edge
	for e := n.Up; e != nil; e = e.To.Up {
		out = append(out, e)
	}
	return out
}

// Node returns the node with an id, nil if there is none.
func (p *Plant) Node(id string) *Node {
	for _, n := range p.Nodes {
		if n.ID == id {
			return n
		}
	}
	return nil
}

// join builds the graph. Buses and branches stand already.
func (p *Plant) join() {
	utility := &Node{ID: "utility", Kind: UtilityNode}
	byBus := map[*Bus]*Node{}
	for _, b := range p.Buses {
		byBus[b] = &Node{ID: b.ID, Kind: BusNode, Bus: b}
	}
	var taps []*Node
	for _, b := range p.Buses {
		n := byBus[b]
		switch {
		case b.Up == nil:
			n.Up = &Edge{ID: "service", Kind: ServiceEdge, From: n, To: utility}
		case b.Up.To != nil:
			n.Up = &Edge{ID: b.Up.Run.ID, Kind: RunEdge, From: n, To: byBus[b.Up.To], Run: b.Up.Run, Device: b.Up.Device}
		default:
			tap := &Node{ID: b.Up.Supply.Connection.ID + "/tap", Kind: TapNode}
			tap.Up = &Edge{ID: "service", Kind: ServiceEdge, From: tap, To: utility}
			n.Up = &Edge{ID: b.Up.Run.ID, Kind: RunEdge, From: n, To: tap, Run: b.Up.Run, Device: b.Up.Device}
			taps = append(taps, tap)
		}
	}
	for _, br := range p.Branches {
		if br.Bus == nil || br.Run == nil {
			continue
		}
		// Several branches share a junction box, but each has its own splice there.
		box := &Node{ID: br.From + "/" + br.ID, Kind: JunctionNode}
		box.Up = &Edge{ID: br.Run.ID + "/" + br.ID, Kind: RunEdge, From: box, To: byBus[br.Bus], Branch: br, Run: br.Run, Device: br.Breaker}
		p.Nodes = append(p.Nodes, box)
		for _, arm := range br.Trunk() {
			prev := box
			for i := range arm {
				u := &Node{ID: arm[i].To.Position, Kind: UnitNode, Unit: arm[i].To}
				u.Up = &Edge{ID: br.ID + "/" + arm[i].To.Position, Kind: TrunkEdge, From: u, To: prev, Branch: br, Trunk: &arm[i]}
				p.Nodes = append(p.Nodes, u)
				prev = u
			}
		}
	}
	for _, b := range p.Buses {
		p.Nodes = append(p.Nodes, byBus[b])
	}
	p.Nodes = append(append(p.Nodes, taps...), utility)
}
