package sheets

import (
	"fmt"
	"slices"

	"legwork/site"
)

// stand is a bus with its place on the one-line diagram: what lands on it
// stands above, the way to the service leaves below at out.
type stand struct {
	bus     *site.Bus
	feeders []*stand  // buses that feed it from above
	columns []*column // branches that land on it
	depth   int       // 0 for the service panel
	x, w    float64
	top, h  float64
	bar     float64 // height of the busbar
}

// column is a branch with the x of its conductor.
type column struct {
	branch *site.Branch
	left   float64
	x      float64
}

const (
	lineIn = 9.0 // from the left edge of a box or column to its conductor
	apart  = 8.0 // between boxes
	strand = 1.8 // between conductors of one raceway
)

func (s *stand) out() float64 { return s.x + lineIn }

// grow hangs what feeds the bus under it.
func grow(p *site.Plant, b *site.Bus, depth int) *stand {
	s := &stand{bus: b, depth: depth}
	for _, other := range p.Buses {
		if other.Up != nil && other.Up.To == b {
			s.feeders = append(s.feeders, grow(p, other, depth+1))
		}
	}
	for _, br := range p.Branches {
		if br.Bus == b {
			s.columns = append(s.columns, &column{branch: br})
		}
	}
	// Branches of one raceway stand side by side.
	slices.SortStableFunc(s.columns, func(a, b *column) int { return runIndex(p, a.branch) - runIndex(p, b.branch) })
	return s
}

func runIndex(p *site.Plant, b *site.Branch) int { return slices.Index(p.Runs, b.Run) }

// forest is the service panel, and beside it what no tie leads to it: buses
// tapped in ahead of the main, and those not connected yet.
func forest(p *site.Plant) (service *stand, aside []*stand) {
	if p.Service.Panel != nil {
		service = grow(p, p.Service.Panel, 0)
	}
	for _, b := range p.Buses {
		if b != p.Service.Panel && (b.Up == nil || b.Up.To == nil) {
			aside = append(aside, grow(p, b, 1))
		}
	}
	return service, aside
}

func (s *stand) each(do func(*stand)) {
	do(s)
	for _, f := range s.feeders {
		f.each(do)
	}
}

// wide is what the stand needs: its feeders and branches side by side, and no
// less than least.
func (s *stand) wide(pitch, least float64) float64 {
	w := float64(len(s.columns)) * pitch
	for _, f := range s.feeders {
		if w > 0 {
			w += apart
		}
		w += f.wide(pitch, least)
	}
	if s.depth == 0 {
		return w
	}
	return max(w+8, least)
}

// place gives the stand and all above it their x.
func (s *stand) place(x, pitch, least float64) {
	s.x, s.w = x, s.wide(pitch, least)
	for _, f := range s.feeders {
		f.place(x, pitch, least)
		x += f.w + apart
	}
	for _, c := range s.columns {
		c.left, c.x = x, x+lineIn
		x += pitch
	}
}

// tall is the height of the box: more branches need more room to spread.
func (s *stand) tall() float64 {
	h := titleHigh + s.spread() + breakerHigh
	if s.depth == 0 {
		return h + belowService
	}
	return h + belowBar
}

func (s *stand) spread() float64 { return strand * float64(max(0, len(s.columns)-1)) }

// Heights inside a box, mm.
const (
	titleHigh    = 12.6
	breakerHigh  = 11.0 // a breaker and its lead to the bar
	belowBar     = 20.0
	belowService = 28.0
)

// Heights of the rows above the buses, mm.
const (
	roofHigh  = 24.5 // words and sample of a branch
	trunkHigh = 8.5
	boxHigh   = 7.0 // junction box
	runHigh   = 11.0
	tapHigh   = 46.0 // gap that holds a fused disconnect and its tap
	gapHigh   = 12.0 // gap that holds a run
)

// arranged is the diagram's layout on one page.
type arranged struct {
	service  *stand // nil without a service panel
	aside    []*stand
	loose    []*column // branches that land nowhere yet
	pitch    float64
	wide     float64 // of all that stands above the service panel
	roof     float64 // y of the rows
	junction float64
	tiers    []*stand
}

// arrange lays the plant out in width by height, upper left corner at x, y. An
// error says what does not fit one sheet.
func arrange(p *site.Plant, x, y, width, height float64) (*arranged, error) {
	a := &arranged{roof: y}
	a.service, a.aside = forest(p)
	for _, b := range p.Branches {
		if b.Bus == nil {
			a.loose = append(a.loose, &column{branch: b})
		}
	}
	var tops []*stand
	if a.service != nil {
		tops = append(tops, a.service.feeders...)
	}
	tops = append(tops, a.aside...)

	least := 146.0
	if n := len(tops); n > 1 {
		least = max(70, min(least, (width-float64(n-1)*apart)/float64(n)))
	}
	need := func(pitch float64) float64 {
		w := float64(len(a.loose)) * pitch
		if a.service != nil {
			w += float64(len(a.service.columns)) * pitch
		}
		for _, t := range tops {
			if w > 0 {
				w += apart
			}
			w += t.wide(pitch, least)
		}
		return w
	}
	for a.pitch = 40; need(a.pitch) > width && a.pitch > 22; a.pitch-- {
	}
	if a.wide = need(a.pitch); a.wide > width {
		return nil, fmt.Errorf("one-line diagram: %d branches on %d buses need %.0f mm of %.0f mm", len(p.Branches), len(p.Buses), a.wide, width)
	}

	// From left to right: what taps in or is not connected, then the feeders of
	// the service panel, its own branches, and branches without a place.
	at := x
	for _, t := range tops {
		t.place(at, a.pitch, least)
		at += t.w + apart
	}
	columns := a.loose
	if a.service != nil {
		columns = append(slices.Clone(a.service.columns), a.loose...)
	}
	for _, c := range columns {
		c.left, c.x = at, at+lineIn
		at += a.pitch
	}
	return a, a.stack(tops, y, height)
}

// stack gives every stand its y. What height is left over goes to the gaps.
func (a *arranged) stack(tops []*stand, y, height float64) error {
	high := map[int]float64{} // tallest box by depth
	gap := map[int]float64{}  // below the boxes of a depth
	deepest := 0
	for _, t := range tops {
		t.each(func(s *stand) {
			deepest = max(deepest, s.depth)
			high[s.depth] = max(high[s.depth], s.tall())
			gap[s.depth] = max(gap[s.depth], gapHigh)
			if s.bus.Up != nil && s.bus.Up.Supply != nil {
				gap[s.depth] = max(gap[s.depth], tapHigh)
			}
		})
	}
	bottom := 0.0
	if a.service != nil {
		bottom = a.service.tall()
	}
	need := roofHigh + trunkHigh + boxHigh + runHigh + bottom
	for d := 1; d <= deepest; d++ {
		need += high[d] + gap[d]
	}
	spare := height - need
	if spare < 0 {
		return fmt.Errorf("one-line diagram: %d panels one behind the other need %.0f mm of %.0f mm", deepest+1, need, height)
	}
	ease := min(9, spare/float64(deepest+3))
	a.junction = a.roof + roofHigh + trunkHigh + ease
	top := a.junction + boxHigh + runHigh + ease
	first := map[int]float64{}
	for d := deepest; d >= 1; d-- {
		first[d] = top
		top += high[d] + gap[d] + ease
	}
	place := func(s *stand) {
		s.h = high[s.depth]
		s.top = first[s.depth]
		a.tiers = append(a.tiers, s)
	}
	for _, t := range tops {
		t.each(place)
	}
	if s := a.service; s != nil {
		s.h = s.tall()
		s.top = y + height - s.h
		a.tiers = append(a.tiers, s)
	}
	for _, s := range a.tiers {
		s.bar = s.top + titleHigh + s.spread() + breakerHigh
	}
	return nil
}
