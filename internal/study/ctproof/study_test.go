package main

import (
	"math/cmplx"
	"strings"
	"testing"
)

// A slice of the study: a hundred installations by another seed than the committed
// table. With so few, one wrong answer is one in a hundred; the rates themselves are
// in docs/studies/ctproof.md.
func TestSliceOfTheStudy(t *testing.T) {
	const n = 100
	r, err := study(n, 77)
	if err != nil {
		t.Fatal(err)
	}
	last := r.both[mostStates]
	if last.all != n || last.spoke < n*6/10 {
		t.Errorf("spoke on both sides in %d of %d", last.spoke, last.all)
	}
	for _, side := range []struct {
		name string
		tally
	}{{"grid", r.grid[mostStates]}, {"production", r.prod[mostStates]}} {
		if wrong := side.spoke - side.right; wrong > 1 {
			t.Errorf("%s: %d of %d settled answers wrong: %s", side.name, wrong, side.spoke, strings.Join(r.wrong, "; "))
		}
	}
}

// The same seed gives the same table, whatever the number of processors.
func TestStudyRepeats(t *testing.T) {
	a, err := study(8, 5)
	if err != nil {
		t.Fatal(err)
	}
	b, err := study(8, 5)
	if err != nil {
		t.Fatal(err)
	}
	if a.markdown(8, 5) != b.markdown(8, 5) {
		t.Error("two runs of one seed differ")
	}
}

// The simulator's own truth, by hand: a right meter on 120/240 V answers 1 to its
// leg, half to a 240 V load, minus half to a branch.
func TestTruthOfARightMeter(t *testing.T) {
	p := &plant{branches: 1, windows: 2, rings: map[string]*ring{
		"G1": {turns: map[string]float64{"S1": 1}, gain: 1, plus: "L1", minus: "N"},
		"P2": {turns: map[string]float64{"B1.2": 1}, gain: 1, plus: "L2", minus: "N"},
	}}
	for _, c := range []struct {
		channel, device string
		want            complex128
	}{
		{"G1", "L1", 1}, {"G1", "L2", 0}, {"G1", "L12", .5}, {"G1", "pv1", -.5}, {"P2", "L1", 0}, {"P2", "pv1", .5},
	} {
		if got := p.truth(c.channel)[c.device]; cmplx.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s answers %v to %s, want %v", c.channel, got, c.device, c.want)
		}
	}
}
