package sheets

import (
	"fmt"
	"strings"

	"legwork/job"
	"legwork/quantity"
	"legwork/scene"
	"legwork/scene/font"
	"legwork/scene/frame"
	"legwork/site"
	"legwork/working"
)

// markOf is how a value is marked on paper.
func markOf(t working.Term) scene.Mark {
	switch {
	case !t.Known():
		return scene.Chosen
	case t.From().Kind == working.Given:
		return scene.Given
	case t.From().Kind == working.Assumed:
		return scene.Assumed
	}
	return scene.Chosen
}

// fig is a fact as a piece of lettering, with its mark.
func fig(f working.Stater, face font.Face) scene.Piece {
	t := f.Term()
	return scene.Piece{Value: signed(t.String()), Face: face, Mark: markOf(t)}
}

// shown is fig for a quantity in the unit usual for its size: 8.1 kA.
func shown[Q quantity.Quantity](in *Input, f working.Fact[Q], face font.Face) scene.Piece {
	p := fig(f, face)
	if f.Known {
		p.Value = quantity.Show(f.Value, in.system())
	}
	return p
}

func (in *Input) system() quantity.System {
	if u := in.Plant.Job.Site.Print; u.Known && u.Value == job.SI {
		return quantity.SI
	}
	return quantity.US
}

func say(s string) scene.Piece  { return scene.Piece{Value: s} }
func bold(s string) scene.Piece { return scene.Piece{Value: s, Face: font.Bold} }

// orAsk is a word of the document, "?" while unknown.
func orAsk(f job.Fact[string]) string {
	if !f.Known || strings.TrimSpace(f.Value) == "" {
		return "?"
	}
	return f.Value
}

// clip shortens a name that has no end to n letters.
func clip(s string, n int) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > n {
		return strings.TrimSpace(string(r[:n-1])) + "…"
	}
	return s
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// listed joins words: "A", "A and B", "A, B and C".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// totals are the sizes of the whole plant; "?" where a nameplate is silent.
type totals struct {
	units, ac, dc, current string
	parts                  []string // "14 × MI-340, 341 VA"
	modules                []string // "14 × PV-405, 405 W"
}

func (in *Input) totals() totals {
	var (
		t        totals
		va, w, a float64
		okVA     = len(in.Plant.Units) > 0
		okA, okW = okVA, okVA
		inverter []*site.Inverter
		module   []*site.Module
		ofI      = map[*site.Inverter]int{}
		ofM      = map[*site.Module]int{}
	)
	for _, u := range in.Plant.Units {
		if ofI[u.Inverter] == 0 {
			inverter = append(inverter, u.Inverter)
		}
		if ofM[u.Module] == 0 {
			module = append(module, u.Module)
		}
		per := 1
		if n := u.Inverter.ModulesPerUnit; n.Known {
			per = n.Value
		} else {
			okW = false
		}
		ofI[u.Inverter]++
		ofM[u.Module] += per
		okVA, okA, okW = okVA && u.Inverter.Power.Known, okA && u.Inverter.Current.Known, okW && u.Module.Power.Known
		va += u.Inverter.Power.Value.Float()
		a += u.Inverter.Current.Value.Float()
		w += float64(per) * u.Module.Power.Value.Float()
	}
	for _, i := range inverter {
		t.parts = append(t.parts, fmt.Sprintf("%d × %s, %s", ofI[i], i.ID, i.Power))
	}
	for _, m := range module {
		t.modules = append(t.modules, fmt.Sprintf("%d × %s, %s", ofM[m], m.ID, m.Power))
	}
	t.units = unitsOf(in.Plant)
	t.ac, t.dc, t.current = "?", "?", "?"
	if okVA {
		t.ac = quantity.Trim(va/1000, 2) + " kVA"
	}
	if okW {
		t.dc = quantity.Trim(w/1000, 2) + " kW"
	}
	if okA {
		t.current = quantity.Trim(a, 2) + " A"
	}
	return t
}

// code is the adopted edition in words.
func (in *Input) code() string {
	if !in.Plant.Edition.Known {
		return "NFPA 70, edition ?"
	}
	return fmt.Sprintf("NFPA 70, %d", in.Plant.Edition.Value)
}

// summary is the plant in the title block.
func (in *Input) summary() []frame.Row {
	t, p := in.totals(), in.Plant
	return []frame.Row{
		{Name: "Units", Value: t.units},
		{Name: "AC rating", Value: t.ac + ", " + t.current},
		{Name: "DC rating", Value: t.dc},
		{Name: "System", Value: p.System.String()},
		{Name: "Code", Value: in.code()},
		{Name: "Coldest, hottest", Value: signed(p.Coldest.String()) + ", " + signed(p.Hottest.String())},
	}
}

// clipped is a fact in words, shortened.
func clipped(f working.Fact[string], n int) working.Fact[string] {
	f.Value = clip(f.Value, n)
	return f
}

// signed sets the minus of printing before a figure.
func signed(s string) string {
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		return "−" + rest
	}
	return s
}
