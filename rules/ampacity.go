package rules

import (
	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// wet tells whether the inside of a raceway counts as a wet location there
// (300.5(B), 300.9).
func wet(s *site.Segment) bool {
	return s.Where.Value != job.InAttic && s.Where.Value != job.Indoors
}

// wetColumn tells whether the insulation's wet column governs. A dry-only type in
// a wet place has none: it stands under its dry column here, and rule
// insulation-wet stops it.
func wetColumn(c *site.Conductors, s *site.Segment) bool {
	return wet(s) && c.Insulation.Value.Wet()
}

// wire is what the ampacity tables are entered with.
type wire struct{ size, metal, insulation working.Term }

func wireOf(w *working.Sheet, c *site.Conductors) wire {
	return wire{w.Fact("size", c.Size), w.Fact("metal", c.Material), w.Fact("type", c.Insulation)}
}

// airAround works out the air temperature that a segment's conductors see: the
// ambient, and on a roof in the sun the adder of the edition.
func airAround(w *working.Sheet, c *site.Conductors, s *site.Segment) (working.Term, quantity.Celsius) {
	air := w.Fact("T_a", s.Ambient)
	where := w.Fact("place", s.Where)
	if !where.Known() || s.Where.Value != job.OnRoof {
		return air.Needs(where), s.Ambient.Value
	}
	rule, err := tables.RooftopAdder(w.Edition)
	if err != nil {
		return w.Cell("T", "temperature around the conductors", tables.RooftopAdderOf(w.Edition)), 0
	}
	kind := c.Insulation.Term()
	if kind.Known() && rule.Exempts(c.Insulation.Value) {
		w.Note("%s is exempt from the rooftop adder", c.Insulation.Value)
		return air, s.Ambient.Value
	}
	if s.Height.Known && kind.Known() && !rule.Adds(s.Height.Value, c.Insulation.Value) {
		w.Fact("h", s.Height)
		w.Note("no rooftop adder: the raceway is not lower than %s above the roof", working.Figure(rule.Threshold.Float()*12, "in"))
		return air, s.Ambient.Value
	}
	sun := w.Fact("sun", s.Sun)
	if sun.Known() && !s.Sun.Value {
		w.Note("no rooftop adder: out of direct sun")
		return air, s.Ambient.Value
	}
	height := w.Fact("h", s.Height)
	if !height.Known() || !kind.Known() {
		return air.Needs(sun).Needs(height).Needs(kind), 0
	}
	roof := w.Cell("T_roof", "rooftop adder, raceway closer to the roof than the edition allows", tables.RooftopAdderOf(w.Edition), sun)
	return w.Let("T", air.Plus(roof), "temperature around the conductors"), s.Ambient.Value + rule.Adder
}

// ampacityAt is the ampacity of a segment before bundling, and whether every
// fact it needs is known.
func ampacityAt(e working.Edition, c *site.Conductors, s *site.Segment) (float64, bool) {
	w := working.NewSheet(e)
	air, t := airAround(w, c, s)
	if !air.Known() || !c.Insulation.Known || !c.Material.Known {
		return 0, false
	}
	column, err := tables.InsulationColumn(c.Insulation.Value, c.Material.Value, wetColumn(c, s))
	if err != nil {
		return 0, false
	}
	f, err := tables.AmbientFactor(t, column)
	if err != nil {
		return 0, false
	}
	if !c.Size.Known {
		return 0, false
	}
	a, err := tables.Ampacity(c.Size.Value, c.Material.Value, column)
	if err != nil {
		return 0, false
	}
	return f.Float() * a.Float(), true
}

// worstSegment is the segment with the lowest ampacity; one with an unknown fact
// comes first.
func worstSegment(e working.Edition, r *site.Run) *site.Segment {
	var worst *site.Segment
	var low float64
	for _, s := range r.Segments {
		f, known := ampacityAt(e, r.Conductors, s)
		if !known {
			return s
		}
		if worst == nil || f < low {
			worst, low = s, f
		}
	}
	return worst
}

// correctedAmpacity works out the ampacity of a run's conductors in their worst
// segment: table value times ambient factor times bundling factor. Where that is
// less than enough, a short worst stretch may be passed over.
func correctedAmpacity(w *working.Sheet, r *site.Run, k wire, enough working.Term) working.Term {
	c := r.Conductors
	s := worstSegment(w.Edition, r)
	if s == nil {
		return w.Fact("T_a", working.Fact[quantity.Amps]{Means: "segments of the run", From: working.Origin{Kind: working.Given, Path: "runs." + r.ID + ".segments"}, Ask: working.Missing{Path: "runs." + r.ID + ".segments", What: "segments of the run " + r.Name + " with their surroundings", Find: "walk the route"}})
	}
	s, lengths := relieved(w, r, s, enough)
	air, t := airAround(w, c, s)
	air = air.Needs(lengths)
	// Without a known type or metal the column is unknown, and so is all below.
	column, _ := tables.InsulationColumn(c.Insulation.Value, c.Material.Value, wetColumn(c, s))
	rated := w.Cell("T_ins", "column of the insulation there", tables.InsulationColumnOf(c.Insulation.Value, c.Material.Value, wetColumn(c, s)), k.insulation, k.metal)
	table := w.Cell("A_t", "table ampacity in that column", tables.AmpacityOf(c.Size.Value, c.Material.Value, column), k.size, rated)
	fT := w.Cell("f_T", "factor for the temperature around it", tables.AmbientFactorOf(t, column), air, rated)
	fN := sharing(w, r)
	return w.Let("A", table.By(fT).By(fN), "ampacity as installed")
}

// terminalAmpacity works out the ampacity in the column of the cooler terminal.
// A terminal without a stated mark is asked for: without a mark 60 °C governs.
func terminalAmpacity(w *working.Sheet, r *site.Run, k wire, device working.Term) working.Term {
	c := r.Conductors
	a, b := w.Fact("T_1", r.Terminals[0]), w.Fact("T_2", r.Terminals[1])
	mark := w.Let("T_term", working.Least(a, b), "cooler of the two ends")
	marked, rating := int(min(r.Terminals[0].Value, r.Terminals[1].Value)), largestDevice(r).Rating.Value
	column, _ := tables.TerminalColumn(rating, marked)
	allowed := w.Cell("column", "column that the terminals allow", tables.TerminalColumnOf(rating, marked), mark, device)
	return w.Cell("A_term", "table ampacity, column of the terminals",
		tables.AmpacityOf(c.Size.Value, c.Material.Value, column), allowed, k.size, k.metal)
}
