package plan

import (
	"fmt"
	"slices"

	"legwork/job"
	"legwork/quantity"
	"legwork/rules"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// runs sizes every new run that nobody has sized.
func (f *filler) runs() error {
	if !f.plant.Edition.Known { // no rule can judge a size
		f.lacks(f.plant.Edition.Ask)
		return nil
	}
	for i := range f.doc.Runs {
		r := f.plant.Run(f.doc.Runs[i].ID)
		if r.Existing || f.doc.Runs[i].Conductors != nil || f.sized(r.ID) || len(r.Circuits) == 0 {
			continue
		}
		if err := f.size(r.ID); err != nil {
			return err
		}
	}
	return f.raise()
}

func (f *filler) sized(id string) bool {
	for _, d := range f.dec.Runs {
		if d.Run == id {
			return true
		}
	}
	return false
}

// Copper THWN-2 in EMT is what the tool proposes; common practice. A person who
// wants another metal, insulation or raceway decides so.
const (
	metal      = tables.Copper
	insulation = tables.Insulation("THWN-2")
	raceway    = tables.EMT
	thinnest   = quantity.AWG12
)

// carrying are the rules that a conductor's size must pass.
func carrying() []*rules.Rule {
	return []*rules.Rule{&rules.ConductorCarries, &rules.Terminals, &rules.BreakerProtects}
}

// size finds the thinnest conductor that passes, from 12 AWG up, then its
// ground, its neutral and its raceway.
func (f *filler) size(id string) error {
	f.dec.Runs = append(f.dec.Runs, job.RunDecision{Run: id, Decided: job.Decided{By: job.Tool}})
	d := &f.dec.Runs[len(f.dec.Runs)-1]
	d.Conductors = job.Conductors{Material: known(metal), Insulation: known(insulation), Raceway: known(raceway)}
	governed, passed := "", false
	for s := thinnest; s <= quantity.KCMil500 && !passed; s++ {
		d.Conductors.Size = known(s)
		if err := f.resolve(); err != nil {
			return err
		}
		verdict, found := f.judge(id, carrying()...)
		if verdict == working.Ask {
			f.lacks(found.Missing...)
			f.dec.Runs = f.dec.Runs[:len(f.dec.Runs)-1]
			return f.resolve()
		}
		if passed = verdict != working.Stop; !passed {
			governed = found.Rule
		}
	}
	if !passed {
		f.lacks(working.Missing{Path: "decisions.runs." + id + ".conductors.size",
			What: fmt.Sprintf("conductors of the run %s: no %s %s up to %s passes", id, metal, insulation, quantity.KCMil500)})
		f.dec.Runs = f.dec.Runs[:len(f.dec.Runs)-1]
		return f.resolve()
	}
	why := "thinnest that passes; the next one down breaks this rule"
	if governed == "" {
		why = "the thinnest that the tool proposes; it passes"
	}
	f.chose("decisions.runs."+id+".size", fmt.Sprintf("%s %s %s", d.Conductors.Size.Value, metal, insulation), governed, "%s", why)
	return f.dress(id)
}

// dress chooses ground, neutral and raceway for a run whose conductor stands.
func (f *filler) dress(id string) error {
	d := f.decision(id)
	r := f.plant.Run(id)
	device := quantity.Amps(0)
	for _, c := range r.Circuits {
		device = max(device, c.Device.Rating.Value)
	}
	ground, err := tables.EquipmentGround(device, metal)
	if err != nil {
		return err
	}
	ground = min(ground, d.Conductors.Size.Value) // never larger than the circuit conductors, 250.122(A)
	d.Conductors.Ground = known(ground)
	for ; ground < d.Conductors.Size.Value; ground++ { // raised with the line conductors, 250.122(B)
		d.Conductors.Ground = known(ground)
		if err := f.resolve(); err != nil {
			return err
		}
		if v, _ := f.judge(id, &rules.EquipmentGround); v != working.Stop {
			break
		}
	}
	d.Conductors.Ground = known(ground)
	f.chose("decisions.runs."+id+".ground", ground.String(), "equipment-ground", "for a %g A breaker", device.Float())
	if r.Circuits[0].Kind == site.OutputCircuit {
		// Meter and gateway in the combiner need a neutral; it is no smaller than
		// the ground (705.95(B) in 2017; later editions from memory).
		d.Conductors.Neutral = known(ground)
		f.chose("decisions.runs."+id+".neutral", ground.String(), "", "for the meter and gateway in the combiner, no smaller than the ground")
	}
	for _, t := range quantity.TradeSizes() {
		d.Conductors.Trade = known(t)
		if err := f.resolve(); err != nil {
			return err
		}
		if v, _ := f.judge(id, &rules.RacewayFill); v != working.Stop {
			break
		}
	}
	f.chose("decisions.runs."+id+".trade_size", fmt.Sprintf("%s %s", d.Conductors.Trade.Value, raceway), "raceway-fill", "smallest that holds the conductors")
	return nil
}

func (f *filler) decision(id string) *job.RunDecision {
	for i := range f.dec.Runs {
		if f.dec.Runs[i].Run == id {
			return &f.dec.Runs[i]
		}
	}
	return nil
}

// raise thickens the tool's conductors, one size at a time on the run with the
// largest rise per branch, until the voltage-rise target is met. Where no size
// meets it, as behind an existing feeder that alone is too thin, the first sizes
// stay: copper that cures nothing helps nobody.
func (f *filler) raise() error {
	sizes, told := slices.Clone(f.dec.Runs), slices.Clone(f.choices)
	for {
		var worst working.Finding
		for _, found := range rules.VoltageRise.Check(f.plant, f.plant.Edition.Value) {
			if found.Verdict == working.Stop && (worst.Test == nil || found.Test.Margin < worst.Test.Margin) {
				worst = found
			}
		}
		if worst.Test == nil {
			return nil
		}
		id := f.steepest(worst)
		if id == "" {
			f.dec.Runs, f.choices = sizes, told
			return f.resolve()
		}
		d := f.decision(id)
		d.Conductors.Size = known(d.Conductors.Size.Value + 1)
		f.drop("decisions.runs." + id)
		f.chose("decisions.runs."+id+".size", fmt.Sprintf("%s %s %s", d.Conductors.Size.Value, metal, insulation), "voltage-rise",
			"raised for the rise of branch %s", worst.Place)
		if err := f.resolve(); err != nil {
			return err
		}
		if err := f.dress(id); err != nil {
			return err
		}
	}
}

// steepest is the tool-sized run with the largest share in a finding's rise; ""
// when none can grow.
func (f *filler) steepest(found working.Finding) string {
	best, most := "", 0.0
	for _, s := range found.Steps {
		for _, d := range f.dec.Runs {
			if d.By == job.Tool && !d.Pinned && d.Conductors.Size.Value < quantity.KCMil500 &&
				(s.Sym == "V_"+d.Run || s.Sym == "V_home" && f.plant.Branch(found.Place).Run.ID == d.Run) && s.Result.Float() > most {
				best, most = d.Run, s.Result.Float()
			}
		}
	}
	return best
}

// drop forgets the earlier choices under a path, so that each is told once.
func (f *filler) drop(path string) {
	kept := f.choices[:0]
	for _, c := range f.choices {
		if len(c.Path) < len(path) || c.Path[:len(path)] != path {
			kept = append(kept, c)
		}
	}
	f.choices = kept
}
