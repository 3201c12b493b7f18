package job

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"legwork/where"
)

// Settle writes the tool's decisions into the document and returns the document
// that results. Of the given decisions only those "by: tool" are written; in the
// document only items "by: tool" that are not pinned are replaced or removed.
// What a person decided or pinned, and every other byte, stays. An item that
// says the same already keeps its bytes and comments; a new one is added at the
// end of its list, in block style, one key a line.
func (d *Document) Settle(plan Decisions) (*Document, error) {
	out := d
	for _, list := range decisionLists(&plan) {
		var err error
		if out, err = out.settle(list); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// item is one decision with what Settle must know of it.
type item struct {
	id    string
	by    Decided
	value reflect.Value
}

type itemList struct {
	key   string
	items []item
}

// decisionLists takes the decisions apart, in the order of the document.
func decisionLists(d *Decisions) []itemList {
	branches, runs := itemList{key: "branches"}, itemList{key: "runs"}
	connections, moves := itemList{key: "connections"}, itemList{key: "moves"}
	for i := range d.Branches {
		v := &d.Branches[i]
		branches.items = append(branches.items, item{v.ID, v.Decided, reflect.ValueOf(v).Elem()})
	}
	for i := range d.Runs {
		v := &d.Runs[i]
		runs.items = append(runs.items, item{v.Run, v.Decided, reflect.ValueOf(v).Elem()})
	}
	for i := range d.Connections {
		v := &d.Connections[i]
		connections.items = append(connections.items, item{v.ID, v.Decided, reflect.ValueOf(v).Elem()})
	}
	for i := range d.Moves {
		v := &d.Moves[i]
		moves.items = append(moves.items, item{fmt.Sprintf("%s %v", v.Panel, v.From), v.Decided, reflect.ValueOf(v).Elem()})
	}
	panels, controls := itemList{key: "panels"}, itemList{key: "controls"}
	for i := range d.Panels {
		v := &d.Panels[i]
		panels.items = append(panels.items, item{v.Panel, v.Decided, reflect.ValueOf(v).Elem()})
	}
	for i := range d.Controls {
		v := &d.Controls[i]
		controls.items = append(controls.items, item{v.ID, v.Decided, reflect.ValueOf(v).Elem()})
	}
	return []itemList{branches, runs, connections, moves, panels, controls}
}

func (i item) tools() bool { return i.by.By == Tool && !i.by.Pinned }

// settle writes one list, one edit at a time, each proved by a parse.
func (d *Document) settle(plan itemList) (*Document, error) {
	planned := map[string]item{}
	for _, p := range plan.items {
		if p.tools() {
			planned[p.id] = p
		}
	}
	there := d.list(plan.key)
	out := d
	// From the last to the first, so that indexes before the edit stay good.
	for i, old := range slices.Backward(there.items) {
		p, wanted := planned[old.id]
		var err error
		switch {
		case !old.tools() && wanted:
			return nil, where.Errors{{File: d.File, Path: fmt.Sprintf("decisions.%s[%d]", plan.key, i), Came: fmt.Sprintf("a plan for %q, which a person decided or pinned", old.id), Expected: "a plan that leaves it as it is"}}
		case !old.tools():
		case wanted && same(old, p):
		case wanted:
			out, err = out.rewrite(plan.key, i, listItem(p.value))
		default:
			out, err = out.rewrite(plan.key, i, nil)
		}
		if err != nil {
			return nil, err
		}
		delete(planned, old.id)
	}
	for _, p := range plan.items {
		if _, left := planned[p.id]; !left {
			continue
		}
		var err error
		if out, err = out.add(plan.key, listItem(p.value)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (d *Document) list(key string) itemList {
	for _, l := range decisionLists(&d.Decisions) {
		if l.key == key {
			return l
		}
	}
	return itemList{}
}

// same compares what two decisions say, not where they stand.
func same(a, b item) bool {
	return slices.Equal(printed(a.value), printed(b.value))
}

// rewrite replaces the lines of a list's item, or removes them.
func (d *Document) rewrite(key string, i int, lines []string) (*Document, error) {
	t, root, err := locate(d.File, d.Source)
	if err != nil {
		return nil, err
	}
	list := at(root, "decisions."+key)
	n := list.Content[i]
	if list.Style&yaml.FlowStyle != 0 {
		return nil, t.refuse(list, "a list of decisions in brackets")
	}
	from := t.lineStart(t.start(n))
	end, err := t.end(n)
	if err != nil {
		return nil, err
	}
	depth := list.Column - 1
	if strings.TrimSpace(string(t.src[from:from+depth])) != "" {
		return nil, t.refuse(n, "an item that does not start its own line")
	}
	block := ""
	for _, l := range lines {
		block += indent(depth, l) + t.eol()
	}
	return Parse(d.File, t.splice(from, t.nextLine(end), block))
}

// add puts an item at the end of a list, which may be empty or not there yet.
func (d *Document) add(key string, lines []string) (*Document, error) {
	t, root, err := locate(d.File, d.Source)
	if err != nil {
		return nil, err
	}
	decisions := child(root, "decisions")
	list := child(decisions, key)
	var after, depth int
	switch {
	case list != nil && list.Kind == yaml.SequenceNode && len(list.Content) > 0:
		if list.Style&yaml.FlowStyle != 0 {
			return nil, t.refuse(list, "a list of decisions in brackets")
		}
		if after, err = t.end(list); err != nil {
			return nil, err
		}
		depth = list.Column - 1
	case list != nil: // "branches:" or "branches: []"
		if t, after, err = t.emptied(list); err != nil {
			return nil, err
		}
		depth = keyColumn(decisions, key) + 1
	case decisions != nil && decisions.Kind == yaml.MappingNode && len(decisions.Content) > 0:
		if decisions.Style&yaml.FlowStyle != 0 {
			return nil, t.refuse(decisions, "decisions in brackets")
		}
		if after, err = t.end(decisions); err != nil {
			return nil, err
		}
		lines, depth = append([]string{key + ":"}, indented(lines)...), decisions.Column-1
	case decisions != nil: // "decisions:" or "decisions: {}"
		if t, after, err = t.emptied(decisions); err != nil {
			return nil, err
		}
		lines = append([]string{key + ":"}, indented(lines)...)
		depth = keyColumn(root, "decisions") + 1
	default:
		if root.Style&yaml.FlowStyle != 0 {
			return nil, t.refuse(root, "a document in brackets")
		}
		if after, err = t.end(root); err != nil {
			return nil, err
		}
		lines = append([]string{"decisions:"}, indented(append([]string{key + ":"}, indented(lines)...))...)
		depth = root.Column - 1
	}
	whole := make([]string, len(lines))
	for i, l := range lines {
		whole[i] = indent(depth, l)
	}
	return Parse(d.File, t.insertLines(after, whole))
}

// emptied takes the brackets of an empty collection away, so that block lines
// can follow its key. Offset is where the key's line goes on.
func (t *text) emptied(n *yaml.Node) (*text, int, error) {
	from := t.start(n)
	end, err := t.end(n)
	if err != nil || from == end {
		return t, from, err
	}
	for from > 0 && t.src[from-1] == ' ' {
		from--
	}
	u, _, err := locate(t.file, t.splice(from, end, ""))
	return u, from, err
}

func keyColumn(n *yaml.Node, key string) int {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i].Column
		}
	}
	return 1
}
