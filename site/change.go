package site

import (
	"slices"

	"legwork/job"
)

// panelWork is where the duties of a changed panel are found.
var panelWork = ask{"plan of the panel change, or look once it is done", "new service equipment"}

// change puts another main or a new busbar into a panel.
func (r *resolver) change(b *Bus) {
	for i := range r.dec.Panels {
		d := &r.dec.Panels[i]
		if d.Panel != b.ID {
			continue
		}
		at := "decisions.panels." + d.Panel + "."
		b.Change = &Change{Main: d.Main.Stated(), Panel: d.Busbar.Stated(),
			BySum:      d.Method.Known && d.Method.Value == job.SumOfBreakers,
			Emergency:  fact(d.Emergency, at+"emergency_disconnect", "emergency disconnect outside", panelWork),
			Surge:      fact(d.Surge, at+"surge_protection", "surge protection at the service", panelWork),
			Electrodes: fact(d.Electrodes, at+"electrodes_checked", "electrodes and their conductor up to the code", panelWork),
		}
		if b.Change.Main {
			b.Main, b.HasMain = decided(d.Main, d.By, at+"main", "rating of the new main of the "+b.Name), true
		}
		if b.Change.Panel {
			b.Rating = decided(d.Busbar, d.By, at+"busbar", "busbar of the new "+b.Name)
		}
	}
}

// controls joins each power control system to the bars that it watches.
func (r *resolver) controls() {
	for i := range r.dec.Controls {
		d := &r.dec.Controls[i]
		at := "decisions.controls." + d.ID + "."
		c := &Control{ID: d.ID,
			SetPoint: decided(d.SetPoint, d.By, at+"set_point", "current that the power control holds the sources to"),
			Listed:   fact(d.Listed, at+"listed", "listed as a power control system", nameplate),
			Locked:   fact(d.Locked, at+"locked", "settings locked to qualified people", ask{"commissioning record of the power control", "its settings"}),
		}
		for _, b := range r.plant.Buses {
			if slices.Contains(d.Monitors, b.ID) {
				b.Control = c
			}
		}
	}
}

// made reads how a tap is made.
func (t *SupplyTap) made(d job.Tap, at string) {
	t.Outside = fact(d.Outside, at+"outside", "tap outside the building", tapPlace)
	t.Limiters = fact(d.Limiters, at+"limiters", "cable limiters at the tap", tapPlace)
	t.Connectors = fact(d.Connectors, at+"connectors_listed", "connectors listed for the line side of a service", tapPlace)
	t.Consent = fact(d.Consent, at+"utility_consent", "written consent of the utility to the place of the tap", utility)
	t.GroundAhead = fact(d.GroundAhead, at+"ground_ahead", "equipment ground between tap and fuses", tapPlace)
	t.Bonded = fact(d.Bonded, at+"bonded_in_disconnect", "main bonding jumper in the PV disconnect", tapPlace)
	t.Raceway = fact(d.Raceway, at+"raceway_bonded", "raceway ahead of the fuses bonded as that of a service", tapPlace)
}

// switched reads the disconnect of a tap.
func (t *SupplyTap) switched(d *job.Disconnect) {
	at := "disconnects." + d.ID + "."
	look := ask{"look at the disconnect and its label", "disconnect with its label"}
	t.Disconnect = d
	t.ServiceRated = fact(d.ServiceRated, at+"service_rated", "PV disconnect marked as suitable for service equipment", look)
	t.DisconnectOutside = fact(d.Outside, at+"outside", "PV disconnect outside, in easy reach", look)
	t.Nearest = fact(d.Nearest, at+"nearest_entrance", "PV disconnect nearest to where the conductors enter", look)
	t.Fuses = fact(d.Fuses, at+"fuses", "fuses of the PV disconnect", look)
}

// tapOf is the supply-side connection that a run ends at, nil if there is none.
func (p *Plant) tapOf(run *Run) *SupplyTap {
	for _, b := range p.Buses {
		if b.Up != nil && b.Up.Run == run {
			return b.Up.Supply
		}
	}
	return nil
}
