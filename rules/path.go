package rules

import (
	"fmt"

	"legwork/site"
	"legwork/working"
)

// yes passes when a stated fact is yes.
func yes(w *working.Sheet, sym string, f working.Fact[bool]) working.Verdict {
	return w.Is(w.Fact(sym, f), "yes")
}

// no passes when a stated fact is no.
func no(w *working.Sheet, sym string, f working.Fact[bool]) working.Verdict {
	return w.Is(w.Fact(sym, f), "no")
}

// onTap is a rule about a connection ahead of the service disconnect.
func onTap(check func(*site.Plant, *site.Bus, *working.Sheet) working.Verdict) Subject {
	return onto(func(p *site.Plant) []*site.Bus { return p.Buses },
		func(b *site.Bus) string { return b.Up.Run.ID + "/tap" },
		func(*site.Bus) bool { return false },
		func(_ *site.Plant, b *site.Bus) bool { return b.Up != nil && b.Up.Supply != nil },
		check)
}

// onTapFact is a rule about one fact of such a connection.
func onTapFact(is func(*working.Sheet, string, working.Fact[bool]) working.Verdict, sym string, of func(*site.SupplyTap) working.Fact[bool]) Subject {
	return onTap(func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict { return is(w, sym, of(b.Up.Supply)) })
}

// entry is a breaker through which a source enters a panel.
type entry struct {
	bus    *site.Bus
	device *site.Breaker
}

// onEntry is a rule about such breakers; a combiner's own belong to its listing.
func onEntry(applies func(*site.Breaker) bool, check func(*site.Bus, *site.Breaker, *working.Sheet) working.Verdict) Subject {
	return onto(func(p *site.Plant) []entry {
		var out []entry
		for _, b := range p.Buses {
			for _, d := range b.Entries() {
				if b.Kind == site.PanelBus && !d.Lugs && applies(d) {
					out = append(out, entry{b, d})
				}
			}
		}
		return out
	}, func(e entry) string { return fmt.Sprintf("%s/%s", e.bus.ID, e.device.Place()) },
		func(e entry) bool { return e.device.Existing != nil }, nil,
		func(_ *site.Plant, e entry, w *working.Sheet) working.Verdict { return check(e.bus, e.device, w) })
}

func isNew(d *site.Breaker) bool { return d.New }

// onService is a rule about the service panel. What stays as it was is reported
// as existing.
func onService(applies func(*site.Plant, *site.Bus) bool, check func(*site.Plant, *site.Bus, *working.Sheet) working.Verdict) Subject {
	return onto(func(p *site.Plant) []*site.Bus {
		if p.Service.Panel == nil {
			return nil
		}
		return []*site.Bus{p.Service.Panel}
	}, func(b *site.Bus) string { return b.ID + "/main" },
		func(b *site.Bus) bool { return !changed(b) }, applies, check)
}

// changed reports whether the job gives a panel another main or replaces it.
func changed(b *site.Bus) bool { return b.Change != nil && (b.Change.Main || b.Change.Panel) }

// newPanel reports whether the job replaces the panel.
func newPanel(_ *site.Plant, b *site.Bus) bool { return b.Change != nil && b.Change.Panel }

// onControlled is a rule about a bar that a power control system watches.
func onControlled(check func(*site.Bus, *working.Sheet) working.Verdict) Subject {
	return onBus(func(_ *site.Plant, b *site.Bus) bool { return b.Control != nil && b.HasSource() },
		func(_ *site.Plant, b *site.Bus, w *working.Sheet) working.Verdict { return check(b, w) })
}
