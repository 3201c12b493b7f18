package rules

import (
	"fmt"
	"slices"
	"strings"

	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// Label is a label or plaque that the job needs at a place.
type Label struct {
	ID         string            `json:"id"`
	Place      string            `json:"place"` // path of ids
	Where      string            `json:"where"` // in words, for the hand that sticks it on
	Text       string            `json:"text"`  // what it says, with this job's numbers
	Exact      bool              `json:"exact"` // the wording is prescribed, or the like of it
	Letters    string            `json:"letters,omitempty"`
	Color      string            `json:"color,omitempty"`
	Reflective string            `json:"reflective,omitempty"`
	Edition    working.Edition   `json:"edition"`
	Clause     string            `json:"clause"`
	Mark       string            `json:"mark"` // how far the clause was seen
	Note       string            `json:"note,omitempty"`
	Missing    []working.Missing `json:"missing,omitempty"` // facts that the text waits for; it shows "?"
}

// Unneeded is a label of the edition that this job does not need, and why.
type Unneeded struct {
	ID     string `json:"id"`
	Clause string `json:"clause"`
	Why    string `json:"why"`
}

// spot is a place for a label, and what the label says there when that is not
// the edition's own wording.
type spot struct {
	place, where, text string
	missing            []working.Missing
}

// labelPlaces finds the places of each label of the table. A label that is not
// listed here, or whose places are none, is told as not needed.
var labelPlaces = map[string]func(*site.Plant) []spot{
	"pv-disconnect":            pvDisconnectSpots,
	"directory":                directorySpots,
	"do-not-relocate":          doNotRelocateSpots,
	"sum-of-breakers":          sumSpots,
	"multiple-sources-marking": sourceSpots,
	"poi-rating":               ratingSpots,
	"rsd-building":             serviceSpots,
	"rsd-switch":               initiatorSpots,
	"dc-voltage":               dcVoltageSpots,
	"emergency-disc":           emergencySpots,
	"circuit-directory":        circuitSpots,
	"pcs":                      controlSpots,
}

// unneeded says why a label of the edition is not needed on a job without its
// places.
var unneeded = map[string]string{
	"general":                  "a rule for every label below: permanent, not hand written, durable",
	"pv-disc-energized":        "units stop without the grid, so that one side of the open switch is dead; an authority may still ask for it",
	"sum-of-breakers":          "no busbar is judged by the sum of its breakers",
	"do-not-relocate":          "no busbar rests on the position of a breaker",
	"poi-rating":               "no longer asked for by this edition; an authority may still ask",
	"rsd-switch":               "no marked switch starts rapid shutdown; the service disconnect does, or it is not known yet",
	"rsd-more-types":           "one kind of rapid shutdown on the whole roof",
	"dc-raceway":               "AC home runs carry no PV DC",
	"dc-voltage":               "no DC disconnect",
	"connector-load":           "marked on the connectors by their maker",
	"emergency-disc":           "the service is not new or replaced",
	"fault-current":            "dwellings are exempt",
	"pcs":                      "no power control system",
	"pv-disconnect":            "no PV disconnect is decided yet",
	"disconnect-id":            "PV SYSTEM DISCONNECT names the purpose",
	"multiple-sources-marking": "no panel is fed by a second source yet",
}

// Labels lists what has to be stuck on, in the order of the table, with this
// job's numbers filled in; and what the edition knows but this job does not
// need. Texts in capitals are the code's own words.
//
// Source: table labels; marks say how far each clause was seen.
func Labels(p *site.Plant, e working.Edition) (need []Label, not []Unneeded, err error) {
	if !Covers(e) {
		return nil, nil, fmt.Errorf("edition %d: no label of it is known", e)
	}
	for _, row := range tables.Labels() {
		if !row.Edition.Covers(e) {
			continue
		}
		var spots []spot
		if places := labelPlaces[row.ID]; places != nil && !strings.HasSuffix(row.Clause, "deleted)") {
			spots = places(p)
		}
		if len(spots) == 0 {
			why := unneeded[row.ID]
			if why == "" {
				why = row.Applies
			}
			not = append(not, Unneeded{row.ID, row.Clause, why})
			continue
		}
		for _, s := range spots {
			l := Label{ID: row.ID, Place: s.place, Where: s.where, Text: s.text, Letters: row.Letters, Color: row.Color, Reflective: row.Reflective,
				Edition: e, Clause: row.Clause, Mark: row.Confidence, Note: row.Note, Missing: s.missing}
			if l.Text == "" {
				l.Text, l.Exact = wording(row), strings.HasPrefix(row.Exact, "yes") || row.Exact == row.Text
			}
			need = append(need, l)
		}
	}
	return need, not, nil
}

// wording is the text of a row; one that only says "same" takes the words of the
// earlier edition.
func wording(row tables.Label) string {
	if !strings.HasPrefix(row.Text, "same") {
		return row.Text
	}
	for _, r := range tables.Labels() {
		if r.ID == row.ID && !strings.HasPrefix(r.Text, "same") {
			return r.Text
		}
	}
	return row.Text
}

// pvDisconnectSpots are the handles that disconnect the plant: its switches,
// else the breakers at which it meets a panel.
func pvDisconnectSpots(p *site.Plant) []spot {
	var out []spot
	for _, s := range pvSwitches(p) {
		out = append(out, spot{place: placeOf(p, s), where: "on the " + strings.ToLower(s.Name), text: "PV SYSTEM DISCONNECT"})
	}
	if len(out) > 0 {
		return out
	}
	for _, b := range p.Buses {
		for _, d := range pvBreakers(b) {
			out = append(out, spot{place: b.ID + "/" + d.Place(), where: beside(b, d), text: "PV SYSTEM DISCONNECT"})
		}
	}
	return out
}

func beside(b *site.Bus, d *site.Breaker) string {
	where := "beside the breaker of " + d.Name + " in the " + b.Name
	if len(d.Spaces) > 0 {
		where += ", spaces " + d.SpaceList()
	}
	return where
}

// directorySpots are the service and each PV disconnect; the text lists where
// every source is disconnected.
func directorySpots(p *site.Plant) []spot {
	handles := pvDisconnectSpots(p)
	if len(handles) == 0 {
		return nil
	}
	list := []string{"service: main of the " + p.Service.Panel.Name}
	for _, h := range handles {
		list = append(list, "PV: "+strings.TrimPrefix(h.where, "on the "))
	}
	for _, s := range p.Sources {
		list = append(list, fmt.Sprintf("existing %s: breaker in the %s", s.ID, s.Bus.Name))
	}
	text := "power sources and where each is disconnected: " + strings.Join(list, "; ")
	if p.Edition.Value >= 2020 {
		text = "CAUTION: MULTIPLE SOURCES OF POWER; " + text + "; telephone numbers of whoever serves a source from outside"
	}
	out := []spot{{place: p.Service.Panel.ID, where: "at the service, " + p.Service.Panel.Name, text: text}}
	for _, h := range handles {
		if site.PlaceRoot(h.place) != p.Service.Panel.ID {
			out = append(out, spot{place: h.place, where: h.where, text: text})
		}
	}
	return out
}

// doNotRelocateSpots are the breakers on whose position a 120 % sum rests: the
// PV breaker, and a feeder breaker upstream that lets the plant in.
func doNotRelocateSpots(p *site.Plant) []spot {
	var out []spot
	for _, b := range p.Buses {
		if takes(byOpposite)(p, b) || takes(byCenter)(p, b) {
			for _, d := range b.Entries() {
				out = append(out, spot{place: b.ID + "/" + d.Place(), where: beside(b, d)})
			}
		}
	}
	return out
}

func sumSpots(p *site.Plant) []spot {
	var out []spot
	for _, b := range p.Buses {
		if takes(bySum)(p, b) {
			out = append(out, spot{place: b.ID, where: "on the " + b.Name})
		}
	}
	return out
}

// sourceSpots are the panels that more than one source feeds.
func sourceSpots(p *site.Plant) []spot {
	var out []spot
	for _, b := range p.Buses {
		if b.HasSource() {
			out = append(out, spot{place: b.ID, where: "on the " + b.Name, text: "fed by the utility and by a photovoltaic system"})
		}
	}
	return out
}

// ratingSpots are the points of interconnection with rated current and voltage.
func ratingSpots(p *site.Plant) []spot {
	var out []spot
	for _, r := range p.Runs {
		for _, c := range r.Circuits {
			if c.Kind != site.OutputCircuit {
				continue
			}
			w := working.NewSheet(p.Edition.Value)
			i := groupCurrent(w, "I_out", "rated output", c.Groups(), nil)
			v := p.Nominal.Term()
			s := spot{place: r.ID, where: "at the disconnect of the PV output", missing: append(slices.Clone(i.Missing()), v.Missing()...)}
			s.text = fmt.Sprintf("PHOTOVOLTAIC POWER SOURCE: rated AC output current %s, nominal AC voltage %s", i, v)
			out = append(out, s)
		}
	}
	return out
}

func serviceSpots(p *site.Plant) []spot {
	if len(p.Branches) == 0 {
		return nil
	}
	return []spot{{place: p.Service.Panel.ID, where: "within 3 ft of the service disconnect, " + p.Service.Panel.Name}}
}

func initiatorSpots(p *site.Plant) []spot {
	var out []spot
	for _, s := range p.Switches {
		if s.Initiator.Known && s.Initiator.Value {
			out = append(out, spot{place: placeOf(p, s), where: "within 3 ft of the " + strings.ToLower(s.Name)})
		}
	}
	return out
}

// dcVoltageSpots is the highest DC voltage, from 2020 on at the conversion
// equipment or its distribution equipment: for microinverters the combiner or
// panel where the branches land.
func dcVoltageSpots(p *site.Plant) []spot {
	if p.Edition.Value < 2020 {
		return nil // asked for at DC disconnects only
	}
	seen := map[*site.Bus]bool{}
	var out []spot
	for _, br := range p.Branches {
		if br.Bus == nil || len(br.Units) == 0 || seen[br.Bus] {
			continue
		}
		seen[br.Bus] = true
		v := coldVoltage(working.NewSheet(p.Edition.Value), p, coldestModule(br))
		out = append(out, spot{place: br.Bus.ID, where: "on the " + br.Bus.Name, missing: v.Missing(),
			text: "MAXIMUM DC VOLTAGE of one module, on the coldest day: " + v.String()})
	}
	return out
}

func emergencySpots(p *site.Plant) []spot {
	if b := p.Service.Panel; b != nil && b.Change != nil {
		return []spot{{place: b.ID, where: "on the front of the service disconnect, " + b.Name}}
	}
	return nil
}

// circuitSpots are the circuit directories inside the doors of panels.
func circuitSpots(p *site.Plant) []spot {
	var out []spot
	for _, b := range p.Buses {
		var names []string
		for _, d := range b.Breakers {
			if d.New && len(d.Spaces) > 0 {
				names = append(names, d.SpaceList()+": "+d.Name)
			}
		}
		if len(names) > 0 {
			out = append(out, spot{place: b.ID, where: "directory in the door of the " + b.Name, text: "add " + strings.Join(names, "; ")})
		}
	}
	return out
}

func controlSpots(p *site.Plant) []spot {
	var out []spot
	for _, b := range p.Buses {
		if b.Control != nil {
			out = append(out, spot{place: b.ID, where: "on the " + b.Name, missing: b.Control.SetPoint.Term().Missing(),
				text: "power control " + b.Control.ID + ": sources are held to " + b.Control.SetPoint.String()})
		}
	}
	return out
}

// coldestModule is the module of a branch with the highest voltage; one whose
// voltage is unknown comes first.
func coldestModule(b *site.Branch) *site.Unit {
	u := b.Units[0]
	for _, o := range b.Units[1:] {
		if !o.Module.VoltageOpen.Known || o.Module.VoltageOpen.Value > u.Module.VoltageOpen.Value {
			u = o
		}
	}
	return u
}

// coldVoltage is the open-circuit voltage of a unit's module on the coldest day.
//
//	V = V_oc · (1 + k/100 · (T_min − 25 °C))
//
// Source: 690.7(A)(1), with the module's own temperature coefficient.
func coldVoltage(w *working.Sheet, p *site.Plant, u *site.Unit) working.Term {
	open, k := w.Fact("V_oc", u.Module.VoltageOpen), w.Fact("k", u.Module.VoltageTemp)
	cold := w.Let("ΔT", w.Fact("T_min", p.Coldest).Minus(working.Of(quantity.Celsius(25), "", working.Origin{})), "below standard conditions")
	part := w.Let("x", k.Over(working.Of(quantity.Percent(100), "", working.Origin{})).By(cold.Over(working.Of(quantity.Celsius(1), "", working.Origin{}))), "part of the voltage")
	return w.Let("V_cold", open.By(working.Num(1).Plus(part)), "one module on the coldest day")
}
