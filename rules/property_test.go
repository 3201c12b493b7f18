package rules_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"legwork/job"
	"legwork/quantity"
	"legwork/rules"
	"legwork/site"
	"legwork/working"
)

// The properties change a parsed document in place of a text, for speed. A copy
// shares nothing that a property changes.
func changed(t *testing.T, change func(*job.Document)) []working.Finding {
	t.Helper()
	doc := base(t)
	change(doc)
	p, err := site.Resolve(doc, doc.Decisions)
	if err != nil {
		t.Fatal(err)
	}
	return rules.Check(p, 2020)
}

func find(t *testing.T, found []working.Finding, rule, place string) working.Finding {
	t.Helper()
	i := slices.IndexFunc(found, func(f working.Finding) bool { return f.Rule == rule && f.Place == place })
	if i < 0 {
		t.Fatalf("no %s at %s", rule, place)
	}
	return found[i]
}

func known[T any](v T) job.Fact[T] { return job.Fact[T]{Value: v, Known: true} }

func sizes(t *rapid.T, from, to quantity.Size) (thin, thick quantity.Size) {
	a := quantity.Size(rapid.IntRange(int(from), int(to)).Draw(t, "size"))
	b := quantity.Size(rapid.IntRange(int(from), int(to)).Draw(t, "other size"))
	return min(a, b), max(a, b)
}

// A thicker conductor never turns a rule about its current worse.
func TestThickerConductorNeverHurts(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		thin, thick := sizes(r, quantity.AWG14, quantity.KCMil500)
		amps := quantity.Amps(rapid.Float64Range(0.2, 3).Draw(r, "amps of a unit"))
		hot := quantity.Celsius(rapid.IntRange(20, 75).Draw(r, "attic"))
		breaker := rapid.SampledFrom([]quantity.Amps{15, 20, 25, 30, 40, 60}).Draw(r, "breaker")
		with := func(s quantity.Size) []working.Finding {
			return changed(t, func(d *job.Document) {
				d.Equipment.Inverters[0].Current240 = known(amps)
				d.Runs[0].Segments[1].Ambient = known(hot)
				d.Decisions.Branches[0].Breaker = known(breaker)
				d.Decisions.Runs[0].Conductors.Size = known(s)
			})
		}
		a, b := with(thin), with(thick)
		for _, rule := range []string{"conductor-carries", "terminals", "breaker-protects"} {
			notWorse(r, find(t, a, rule, "home"), find(t, b, rule, "home"), fmt.Sprintf("%v to %v", thin, thick))
		}
		notWorse(r, find(t, a, "voltage-rise", "A"), find(t, b, "voltage-rise", "A"), fmt.Sprintf("%v to %v", thin, thick))
	})
}

// Over all rules a thicker conductor turns a pass into a stop only where room or
// fault current decide: fill and jam of raceway and box; the fault that a thicker
// conductor lets through; the ground that grows with it.
func TestThickerConductorStopsOnlyForRoomAndFault(t *testing.T) {
	mayHurt := []string{"raceway-fill", "raceway-jam", "box-fill", "interrupting", "interrupting-neutral", "equipment-ground"}
	rapid.Check(t, func(r *rapid.T) {
		thin, thick := sizes(r, quantity.AWG14, quantity.KCMil500)
		run := rapid.IntRange(0, 1).Draw(r, "run")
		with := func(s quantity.Size) map[string]working.Finding {
			return byID(changed(t, func(d *job.Document) {
				d.Service.FaultCurrent.Current, d.Service.FaultCurrent.Kind = known(quantity.Amps(16000)), known(job.LegToLeg)
				d.Decisions.Runs[run].Conductors.Size = known(s)
			}))
		}
		before, after := with(thin), with(thick)
		for id, f := range after {
			was, there := before[id]
			if there && f.Verdict == working.Stop && passes(was) && !slices.Contains(mayHurt, f.Rule) {
				r.Fatalf("%v to %v: %s went from %s to stop\n%s", thin, thick, id, was.Verdict, f.Text())
			}
		}
	})
}

// notWorse fails when the verdict or the margin falls.
func notWorse(t *rapid.T, before, after working.Finding, change string) {
	t.Helper()
	if working.Worse(before.Verdict, after.Verdict) != before.Verdict {
		t.Fatalf("%s: %s went from %s to %s\n%s\n%s", change, before.ID(), before.Verdict, after.Verdict, before.Text(), after.Text())
	}
	if quantity.Compare(after.Test.Margin, before.Test.Margin) < 0 {
		t.Fatalf("%s: %s: margin fell from %v to %v", change, before.ID(), before.Test.Margin, after.Test.Margin)
	}
}

// busVerdict is the worst verdict about the bus of the main panel.
func busVerdict(found []working.Finding) working.Verdict {
	var worst working.Verdict
	for _, f := range found {
		if site.PlaceRoot(f.Place) == "MP" {
			worst = working.Worse(worst, f.Verdict)
		}
	}
	return worst
}

func TestLargerBusNeverHurts(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		small := rapid.IntRange(60, 400).Draw(r, "bus")
		large := small + rapid.IntRange(0, 200).Draw(r, "more")
		main := quantity.Amps(rapid.SampledFrom([]float64{60, 100, 125, 150, 200}).Draw(r, "main"))
		feed := rapid.SampledFrom([]job.Feed{job.FeedTop, job.FeedBottom, job.FeedCenter}).Draw(r, "feed")
		use := rapid.SampledFrom([]job.Occupancy{job.Dwelling, job.Other}).Draw(r, "use")
		with := func(bus int) working.Verdict {
			return busVerdict(changed(t, func(d *job.Document) {
				d.Site.Occupancy = known(use)
				d.Panels[0].Busbar, d.Panels[0].Main, d.Panels[0].Feed = known(quantity.Amps(bus)), known(main), known(feed)
			}))
		}
		// A larger bar may pass by the plain sum, and there by a hair: no harm.
		if a, b := with(small), with(large); working.Worse(a, b) != a && b != working.Look {
			r.Fatalf("%d A says %s, %d A says %s", small, a, large, b)
		}
	})
}

func TestHotterNeverHelps(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		cool := rapid.IntRange(20, 60).Draw(r, "air")
		hot := cool + rapid.IntRange(0, 15).Draw(r, "warmer by")
		segment := rapid.IntRange(0, 2).Draw(r, "segment")
		height := quantity.Feet(rapid.Float64Range(0, 0.2).Draw(r, "height"))
		with := func(c int) []working.Finding {
			return changed(t, func(d *job.Document) {
				d.Runs[0].Segments[0].Height = known(height)
				d.Runs[0].Segments[segment].Ambient = known(quantity.Celsius(c))
			})
		}
		a, b := with(cool), with(hot)
		for _, rule := range []string{"conductor-carries", "breaker-protects"} {
			before, after := find(t, a, rule, "home"), find(t, b, rule, "home")
			// Past the last row of the table there is no factor: it asks.
			if after.Verdict == working.Ask {
				continue
			}
			if before.Verdict == working.Ask {
				r.Fatalf("%s asks at %d C and answers at %d C", rule, cool, hot)
			}
			if quantity.Compare(after.Test.Margin, before.Test.Margin) > 0 {
				r.Fatalf("%s: margin rose from %v at %d C to %v at %d C", rule, before.Test.Margin, cool, after.Test.Margin, hot)
			}
		}
	})
}

func TestOneMoreUnitNeverLowersTheCurrent(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 11).Draw(r, "units")
		with := func(n int) []working.Finding {
			return changed(t, func(d *job.Document) {
				d.Decisions.Branches[0].Units = []string{fmt.Sprintf("S-r1-c1..c%d", n)}
			})
		}
		a, b := with(n), with(n+1)
		for rule, place := range map[string]string{"branch-current": "A", "branch-units": "A", "voltage-rise": "A"} {
			if x, y := find(t, a, rule, place).Test.Left.Float(), find(t, b, rule, place).Test.Left.Float(); !(y > x) {
				r.Fatalf("%s: %d units %v, %d units %v", rule, n, x, n+1, y)
			}
		}
		if x, y := find(t, a, "output-breaker", "output").Test.Right.Float(), find(t, b, "output-breaker", "output").Test.Right.Float(); !(y > x) {
			r.Fatalf("output: %d units %v A, %d units %v A", n, x, n+1, y)
		}
	})
}

// The order of the document's lists decides nothing: every finding has the same
// verdict and the same margin.
func TestOrderOfListsDecidesNothing(t *testing.T) {
	digest := func(found []working.Finding) map[string]string {
		out := map[string]string{}
		for _, f := range found {
			margin := math.NaN()
			if f.Test != nil {
				margin = quantity.Snap(f.Test.Margin)
			}
			out[f.ID()] = fmt.Sprint(f.Verdict, margin)
		}
		return out
	}
	want := digest(changed(t, func(*job.Document) {}))
	rapid.Check(t, func(r *rapid.T) {
		got := digest(changed(t, func(d *job.Document) {
			shuffle(r, d.Planes)
			shuffle(r, d.Runs)
			shuffle(r, d.Equipment.Inverters)
			shuffle(r, d.Decisions.Branches)
			shuffle(r, d.Decisions.Runs)
			shuffle(r, d.Runs[slices.IndexFunc(d.Runs, func(x job.Run) bool { return x.ID == "home" })].Segments)
		}))
		if len(got) != len(want) {
			r.Fatalf("%d findings, want %d", len(got), len(want))
		}
		for id, w := range want {
			if got[id] != w {
				r.Fatalf("%s: %s, want %s", id, got[id], w)
			}
		}
	})
}

func shuffle[T any](r *rapid.T, list []T) {
	for i := len(list) - 1; i > 0; i-- {
		j := rapid.IntRange(0, i).Draw(r, "place")
		list[i], list[j] = list[j], list[i]
	}
}
