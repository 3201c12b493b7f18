package main

import (
	"math/cmplx"
	"math/rand/v2"
	"strconv"
	"strings"

	"legwork/ctproof"
	"legwork/meter"
	"legwork/quantity"
)

// mostStates is where an installation is given up.
const mostStates = 8

// course is how one installation went: after each state, by side.
type course struct {
	after    []moment
	mistakes []string
	code     []string
}

// moment is the answer after a state.
type moment struct{ grid, prod outcome }

// outcome is the answer for one side held against the truth.
type outcome struct {
	verdict ctproof.Verdict
	p       float64 // of the class on top
	right   bool    // it has the truth's response
	faults  []string
}

// run takes an installation through the states that the proof asks for.
func run(seed uint64, number int) (course, error) {
	r := rand.New(rand.NewPCG(seed, uint64(number)))
	p := build(r)
	spoil(p, r)
	site := ctproof.Site{System: meter.Split, Windows: p.windows, Branches: p.branches, Sky: ctproof.Sky(p.sky)}
	if p.wye {
		site.System = meter.Wye
	}
	proof := ctproof.New(site)
	out := course{mistakes: p.mistakes}
	code := "S0"
	for len(out.after) < mostStates {
		st := tell(p, code, p.take(r, legOf(code), branchesOf(code)))
		if err := proof.Add(st); err != nil {
			return out, err
		}
		a := proof.Answer()
		out.code = append(out.code, code)
		out.after = append(out.after, moment{p.hold(a.Grid), p.hold(a.Production)})
		if a.Next == nil || len(a.Refused) > 0 {
			break
		}
		code = a.Next.State
	}
	return out, nil
}

func legOf(code string) int {
	switch code {
	case "S1", "S2", "S3":
		return int(code[1] - '1')
	}
	return -1
}

func branchesOf(code string) []int {
	digits, ok := strings.CutPrefix(code, "B")
	if !ok {
		return nil
	}
	var out []int
	for _, d := range digits {
		out = append(out, int(d-'1'))
	}
	return out
}

func known[T meter.Measured](x, step float64) meter.Value[T] {
	return meter.Value[T]{Value: T(x), Known: true, Resolution: T(step)}
}

// tell says a state as the electrician would: what the meter shows, the nameplate
// of the test load, the expectation by the sun.
func tell(p *plant, code string, s state) ctproof.State {
	st := ctproof.State{Reading: meter.Reading{State: code, Source: meter.Typed}}
	for i, k := range []*ctproof.Known{&st.L1, &st.L2, &st.L12} {
		if s.leg == i {
			k.W, k.VAR = quantity.Watts(p.toldHeater[i]), known[meter.Vars](0, 1)
		}
	}
	st.Expected = make([]meter.Value[quantity.Watts], p.branches)
	for _, b := range s.on {
		st.On = append(st.On, b+1)
		st.Expected[b] = known[quantity.Watts](p.told[b], 1)
	}
	for _, id := range []string{"G1", "G2", "P1", "P2"}[:2+p.windows] {
		f := s.shown[id]
		st.Channels = append(st.Channels, meter.Channel{ID: id, V: known[quantity.Volts](f.v, .1), A: known[quantity.Amps](f.a, .01),
			W: known[quantity.Watts](f.w, p.resolution), VAR: known[meter.Vars](f.q, p.resolution)})
	}
	return st
}

// hold compares the class on top with the truth, within 0.05 of each factor. A core
// gap is no one number: there the size of the gap may be off by 0.3, but the class
// must say that this channel has a gap.
func (p *plant) hold(s ctproof.Side) outcome {
	out := outcome{verdict: s.Verdict}
	if len(s.Classes) == 0 {
		return out
	}
	top := s.Classes[0]
	out.p, out.right, out.faults = top.P, true, top.Faults
	for id, row := range top.Response {
		allowed := .05
		if p.open[id] {
			allowed = .3
			if live(p.truth(id)) && !saysGap(top.Faults, id) {
				out.right = false
			}
		}
		for device, want := range p.truth(id) {
			if cmplx.Abs(complex128(row[device])-want) > allowed {
				out.right = false
			}
		}
	}
	return out
}

func live(row map[string]complex128) bool {
	for _, k := range row {
		if cmplx.Abs(k) > .01 {
			return true
		}
	}
	return false
}

func saysGap(faults []string, id string) bool {
	channel := strings.NewReplacer("G", "g", "P", "w").Replace(id)
	return len(faults) > 0 && (strings.Contains(faults[0], channel+"_open_clamp") || strings.Contains(faults[0], channel+"_not_latched"))
}

func percent(n, of int) string {
	if of == 0 {
		return "-"
	}
	return strconv.FormatFloat(100*float64(n)/float64(of), 'f', 2, 64) + " %"
}
