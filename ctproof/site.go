package ctproof

import (
	"strings"

	"legwork/meter"
	"legwork/quantity"
)

// Sky is how steady the sun is while the readings are taken.
type Sky string

// The skies; anything else is not known, and is taken as unsteady.
const (
	Clear  Sky = "clear"
	Broken Sky = "broken" // clouds passing
	Dull   Sky = "dull"   // overcast
)

// Site is what stands on the plan and does not change between states.
type Site struct {
	System   meter.System
	Windows  int // production windows: 2, 1, or 0 when production is not metered
	Branches int // at least 1
	Sky      Sky
	// Rated is the rated primary current of the CTs. Zero is not known, and is
	// taken as 200 A, a usual split core, which makes small readings worth less.
	Rated quantity.Amps
}

func (s Site) rated() float64 {
	if s.Rated > 0 {
		return float64(s.Rated)
	}
	return 200
}

// channels are the names of the site's channels, grid first.
func (s Site) channels() []string {
	return []string{"G1", "G2", "P1", "P2"}[:2+s.Windows]
}

// Known is a test load as its nameplate tells it.
type Known struct {
	W   quantity.Watts
	VAR meter.Value[meter.Vars] // 0 for a heater; unknown for a motor
}

// State is the evidence of one named state.
type State struct {
	// Reading carries the name of the state: S0 PV off, S1, S2, S3 a known load on
	// L1, on L2, between them, B12 branches 1 and 2 on; joined by + where several
	// hold, such as B1+S2.
	meter.Reading
	L1, L2, L12 Known
	// On lists the branches that are switched on, from 1.
	On []int
	// Expected is what each branch should make by the sun, by branch from 1; an
	// unknown value for a branch that is on is wide.
	Expected []meter.Value[quantity.Watts]
	// InverterSum is what the microinverters themselves report.
	InverterSum meter.Value[quantity.Watts]
	// ClampOutput is a clamp meter's current on one PV output conductor.
	ClampOutput meter.Value[quantity.Amps]
	// Waited is the time in seconds since the last branch was switched on.
	Waited meter.Value[quantity.Seconds]
}

// StateName says a state in words.
func StateName(code string) string {
	var out []string
	for _, part := range strings.Split(code, "+") {
		switch {
		case part == "S0":
			out = append(out, "all PV branches off, house as found")
		case part == "S1":
			out = append(out, "a known load on L1")
		case part == "S2":
			out = append(out, "a known load on L2")
		case part == "S3":
			out = append(out, "a known 240 V load between L1 and L2")
		case len(part) == 2 && part[0] == 'B':
			out = append(out, "PV branch "+part[1:]+" on")
		case len(part) > 2 && part[0] == 'B':
			out = append(out, "PV branches "+strings.Join(strings.Split(part[1:], ""), ", ")+" on")
		default:
			out = append(out, part)
		}
	}
	return strings.Join(out, ", ")
}
