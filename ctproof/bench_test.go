package ctproof

import (
	"fmt"
	"testing"

	"legwork/meter"
	"legwork/quantity"
)

// shown is a channel with watts and vars as a meter of 1 W steps gives them.
func shown(id string, v, w, q float64) meter.Channel {
	return meter.Channel{ID: id,
		V:   meter.Value[quantity.Volts]{Value: quantity.Volts(v), Known: true, Resolution: .1},
		W:   meter.Value[quantity.Watts]{Value: quantity.Watts(w), Known: true, Resolution: 1},
		VAR: meter.Value[meter.Vars]{Value: meter.Vars(q), Known: true, Resolution: 1}}
}

// healthy lists states of a right meter on a split service, worked by hand: a
// house of 600 and 400 W, a heater of 1500 W, branches of 1000 W, which give 500 W
// on each leg.
func healthy(branches, states int) (Site, []State) {
	site := Site{System: meter.Split, Windows: 2, Branches: branches, Sky: Clear}
	var out []State
	for i := range states {
		st := State{}
		h1, h2, pv := 600.+float64(7*i%20), 400.-float64(5*i%20), 0.
		v1, v2 := 121.0, 120.6
		switch {
		case i == 0:
			st.Reading.State = "S0"
		case i == 1:
			st.Reading.State, st.L1.W, st.L1.VAR.Known = "S1", 1500, true
			h1, v1, v2 = h1+1500, v1-.7, v2+.4
		case i == 2:
			st.Reading.State, st.L2.W, st.L2.VAR.Known = "S2", 1500, true
			h2, v1, v2 = h2+1500, v1+.4, v2-.7
		default:
			st.Reading.State = "B"
			for b := 1; b <= min(i-2, branches); b++ {
				st.Reading.State += fmt.Sprint(b)
				st.On = append(st.On, b)
				pv += 1000
			}
		}
		for b := range branches {
			known := b < len(st.On)
			st.Expected = append(st.Expected, meter.Value[quantity.Watts]{Value: 1000, Known: known})
		}
		st.Channels = []meter.Channel{shown("G1", v1, h1-pv/2, 90), shown("G2", v2, h2-pv/2, 60), shown("P1", v1, pv/2, 0), shown("P2", v2, pv/2, 0)}
		out = append(out, st)
	}
	return site, out
}

// An update is one state taken in and the answer after it.
func BenchmarkUpdate(b *testing.B) {
	for _, branches := range []int{1, 2, 3, 5} {
		for _, states := range []int{1, 2, 4, 6, 8} {
			b.Run(fmt.Sprintf("branches=%d/state=%d", branches, states), func(b *testing.B) {
				site, list := healthy(branches, states)
				libraryOf(site)
				for b.Loop() {
					b.StopTimer()
					p := New(site)
					for _, s := range list[:states-1] {
						if err := p.Add(s); err != nil {
							b.Fatal(err)
						}
					}
					b.StartTimer()
					if err := p.Add(list[states-1]); err != nil {
						b.Fatal(err)
					}
					p.Answer()
				}
			})
		}
	}
}
