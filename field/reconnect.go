package field

import (
	"time"

	"legwork/quantity"
	"legwork/working"
)

// Agreement is what the interconnection agreement sets for entering service. A
// utility's own values replace the defaults; whoever types them says where they
// stand.
type Agreement struct {
	Delay working.Fact[quantity.Seconds] // from good voltage to first output
	// Low and High are the window, in parts of the nominal voltage, in which a
	// unit that waits may start. It is narrower than that of trip: a service
	// that rises out of it with no plant running keeps the plant off.
	Low, High working.Fact[quantity.Ratio]
	Trip      working.Fact[quantity.Ratio] // over-voltage trip
}

// DefaultAgreement holds the defaults of IEEE 1547-2018: 300 s, 0.917 to 1.05,
// trip at 1.10.
//
// Source: IEEE 1547-2018, 4.10.2, table 4, and 6.4.1; values as seen in public
// transcriptions, clause numbers from memory.
func DefaultAgreement() Agreement {
	from := func(clause string) working.Origin {
		return working.Origin{Kind: working.Assumed, Path: "interconnection agreement", Clause: clause, Mark: "default of IEEE 1547-2018"}
	}
	return Agreement{
		Delay: working.State(quantity.Seconds(300), "enter-service delay", from("4.10.3")),
		Low:   working.State(quantity.Ratio(0.917), "lowest voltage to enter service", from("4.10.2")),
		High:  working.State(quantity.Ratio(1.05), "highest voltage to enter service", from("4.10.2")),
		Trip:  working.State(quantity.Ratio(1.10), "over-voltage trip", from("6.4.1")),
	}
}

// Reconnect is the delay that runs after a closing: units wait until the voltage
// has stood inside the window for the whole of it.
type Reconnect struct {
	Wait      working.Term // s
	Low, High working.Term // V between legs
}

// Sighting is a voltage between legs at an instant.
type Sighting struct {
	At    time.Time
	Volts float64
}

// Left is how long the wait still runs at now when the breaker closed at closed
// and these voltages were seen since, in order of time. A voltage outside the
// window stops the clock, which starts anew at the next one inside; running
// says whether it counts. known is false while the agreement's values or the
// nominal voltage are unknown.
func (r Reconnect) Left(closed, now time.Time, seen []Sighting) (left time.Duration, running, known bool) {
	if !r.Wait.Known() || !r.Low.Known() || !r.High.Known() {
		return 0, false, false
	}
	since, running := closed, true
	for _, s := range seen {
		if s.At.Before(closed) || s.At.After(now) {
			continue
		}
		inside := quantity.Compare(s.Volts, r.Low.Float()) >= 0 && quantity.Compare(s.Volts, r.High.Float()) <= 0
		if inside && !running {
			since = s.At
		}
		running = inside
	}
	wait := time.Duration(r.Wait.Float() * float64(time.Second))
	if !running {
		return wait, false, true
	}
	return max(0, wait-now.Sub(since)), true, true
}
