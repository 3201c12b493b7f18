package rules

import (
	"fmt"
	"strings"

	"legwork/job"
	"legwork/quantity"
	"legwork/site"
	"legwork/tables"
	"legwork/working"
)

// What only eyes can tell. A rule of this family asks until somebody has stated
// what he saw; it never passes by itself.

// look is one place with the facts that eyes tell about it.
type look struct {
	place string
	seen  site.Checked
	note  string
}

// eyes makes a rule from a fact that is seen at places.
func eyes(id, title, why, key string, stage Stage, clauses working.Clauses, mark string, places func(*site.Plant) []look) Rule {
	return Rule{
		ID: id, Title: title, Why: why, Clauses: clauses, Mark: mark, Stage: stage,
		Gives: []working.Verdict{working.OK, working.Ask, working.Stop},
		On: func(p *site.Plant, at func(string, bool, func(*working.Sheet) working.Verdict)) {
			for _, l := range places(p) {
				at(l.place, false, func(w *working.Sheet) working.Verdict {
					if l.note != "" {
						w.Note("%s", l.note)
					}
					return w.Is(w.Fact("seen", l.seen[key]), "yes")
				})
			}
		},
	}
}

// always is a clause that stands the same in all three editions.
func always(clause string) working.Clauses {
	return working.Clauses{2017: clause, 2020: clause, 2023: clause}
}

const memory = "from memory"

// The rules of this family, in the order of the line.
var (
	ArrayBonding = eyes("array-bonding", "Modules and rails bonded by listed parts",
		"Metal that a fault can reach must trip the breaker; paint and anodizing insulate, so only parts listed for bonding count.",
		"bonding", SiteStage, always("690.43"), "", arrayLook)
	ArrayGround = eyes("array-ground-protected", "Array ground thinner than 6 AWG kept from damage",
		"A thin bare wire in the open is torn off by snow, branches and boots.",
		"ground_protected", SiteStage, working.Clauses{2017: "690.46, 250.120(C)", 2020: "250.120(C)", 2023: "250.120(C)"}, "2020 and 2023 "+memory, arrayLook)
	TrunkSecured = eyes("trunk-secured", "Trunk cable fastened and off the roof",
		"Cable that lies on the roof or hangs in the wind chafes through. Where it is part of listed equipment, its instructions govern; otherwise every 6 ft, from 2020 also within 24 in of connectors.",
		"cable_secured", SiteStage, working.Clauses{2017: "690.31(D)", 2020: "690.31(C)(3)", 2023: "690.31(C)(3)"}, "", arrayLook)
	WetSplices = eyes("wet-splices", "Splices and boxes outdoors fit for rain",
		"Water stands in every box outdoors; a dry-only connector corrodes open or to ground.",
		"wet_splices", SiteStage, always("110.14(B), 110.28, 314.15"), memory, boxLook)
	RacewaySupports = eyes("raceway-supports", "Raceway fastened as its kind asks",
		"Unsupported raceway pulls its fittings apart, and where it is the ground the ground goes with it.",
		"supports", SiteStage, always("344.30, 348.30, 350.30, 352.30, 356.30, 358.30"), "seen in part", supportLook)
	RacewaySeals = eyes("raceway-seals", "Raceway sealed between warm and cold",
		"Warm air from the house condenses in the cold part and runs into the panel.",
		"seals", SiteStage, always("300.7(A)"), memory, sealLook)
	Openings = eyes("enclosure-openings", "Unused openings closed, knockouts filled by their fittings",
		"An open knockout lets fingers, rain and mice in; a loose one with oversized rings breaks the bond of a metal raceway.",
		"openings", SiteStage, always("110.12(A), 312.5(A)"), memory, enclosureLook)
	PVReach = eyes("pv-disconnect-reach", "PV disconnect in reach of anyone",
		"A disconnect behind a locked door or up a ladder is none in an emergency.",
		"reachable", PlanStage, always("690.13(A), 705.20"), "", disconnectLook)
	PVLock = eyes("pv-disconnect-lock", "PV disconnect can be locked open",
		"Who works on the roof must be the only one who can turn it on again; the provision for the lock stays in place with the lock off.",
		"lockable", PlanStage, working.Clauses{2017: "705.22, 110.25", 2020: "690.13(E), 705.20, 110.25", 2023: "690.13(E), 705.20, 110.25"}, "", disconnectLook)
	CTListed = eyes("ct-listed", "Current transformers listed for the panel they are put in",
		"Metering parts may share a panel only as an accessory listed for it or as equipment evaluated for that.",
		"ct_listed", PlanStage, always("312.8(B)"), memory, ctLook)
	CTRoom = eyes("ct-room", "Wiring space not filled above 75 % with the current transformers",
		"Heat stays, and wires get caught under the cover. Splices alone may fill 75 %, conductors alone 40 %, at any section.",
		"ct_room", SiteStage, always("312.8(A), (B)"), memory, ctLook)
	BuildingDisconnect = eyes("building-disconnect", "Separate building can be disconnected where its feeder enters",
		"Who works or fights a fire there must not have to walk to the other building; at most six handles, together, in reach, where the feeder enters.",
		"disconnect", PlanStage, always("225.31 to 225.36"), memory, entranceLook)
	BuildingNeutral = eyes("building-neutral", "Neutral kept apart from ground in a separate building",
		"Bonded again there, the neutral's current returns over the ground and every metal part between the buildings.",
		"neutral_apart", PlanStage, always("250.32(B)(1), 250.24(A)(5)"), memory, entranceLook)
	BuildingDirectory = eyes("building-directory", "Each building names the disconnects of the other",
		"Whoever turns off one building must know that another feeds or is fed.",
		"directory", SiteStage, always("225.37, 705.10"), memory, entranceLook)
)

func arrayLook(p *site.Plant) []look {
	if len(p.Units) == 0 {
		return nil
	}
	return []look{{"roof", p.Array, ""}}
}

func boxLook(p *site.Plant) (out []look) {
	for _, b := range p.Boxes {
		if len(branchesFrom(p, b)) > 0 {
			out = append(out, look{b.ID, b.Seen, ""})
		}
	}
	return out
}

// newRuns are the runs that this job pulls.
func newRuns(p *site.Plant) (out []*site.Run) {
	for _, r := range p.Runs {
		if len(r.Circuits) > 0 && !r.Existing {
			out = append(out, r)
		}
	}
	return out
}

func supportLook(p *site.Plant) (out []look) {
	for _, r := range newRuns(p) {
		out = append(out, look{r.ID, r.Seen, supportOf(r)})
	}
	return out
}

// supportOf says how the run's raceway is fastened.
func supportOf(r *site.Run) string {
	kind := string(r.Conductors.Raceway.Value)
	if plastic(r) {
		kind = "PVC 1/2 to 1"
		if r.Conductors.Trade.Value > quantity.Trade1 {
			kind = "PVC 1-1/4 to 2"
		}
	}
	for _, s := range tables.Supports() {
		if kind != "" && s.Spacing > 0 && (s.Method == kind || strings.HasPrefix(kind, s.Method+"-")) {
			return fmt.Sprintf("%s: within %g in of each %s and every %g ft (%s)", s.Method, s.Within, s.Of, s.Spacing.Float(), s.Clause)
		}
	}
	return ""
}

// sealLook finds new runs that pass between the weather and a room.
func sealLook(p *site.Plant) (out []look) {
	for _, r := range newRuns(p) {
		cold, warm := false, false
		for _, s := range r.Segments {
			in := s.Where.Value == job.Indoors || s.Where.Value == job.InAttic
			cold, warm = cold || !in || !s.Where.Known, warm || in || !s.Where.Known
		}
		if cold && warm {
			out = append(out, look{r.ID, r.Seen, ""})
		}
	}
	return out
}

// enclosureLook lists the enclosures that this job opens.
func enclosureLook(p *site.Plant) (out []look) {
	for _, b := range p.Buses {
		if b.New || len(pvBreakers(b)) > 0 {
			out = append(out, look{b.ID, b.Seen, ""})
		}
	}
	for _, s := range pvSwitches(p) {
		out = append(out, look{placeOf(p, s), s.Seen, ""})
	}
	return out
}

// disconnectLook lists what disconnects the plant: its switches, else the panels
// where it lands.
func disconnectLook(p *site.Plant) (out []look) {
	for _, s := range pvSwitches(p) {
		out = append(out, look{placeOf(p, s), s.Seen, ""})
	}
	for _, b := range p.Buses {
		if len(out) == 0 && len(pvBreakers(b)) > 0 {
			out = append(out, look{b.ID, b.Seen, ""})
		}
	}
	return out
}

// ctLook lists the panels, there before, that current transformers are put in:
// around the service, around a panel's supply, or around a run that leaves one.
func ctLook(p *site.Plant) (out []look) {
	seen := map[*site.Bus]bool{}
	for _, ch := range p.Job.Meter.Channels {
		b := p.Bus(ch.Around.Value)
		if ch.Around.Value == job.ServiceEnd {
			b = p.Service.Panel
		}
		if r := p.Run(ch.Around.Value); r != nil {
			b = p.Bus(r.From)
		}
		if b != nil && !b.New && !seen[b] {
			seen[b] = true
			out = append(out, look{b.ID, b.Seen, ""})
		}
	}
	return out
}

func entranceLook(p *site.Plant) (out []look) {
	for _, b := range buildings(p) {
		out = append(out, look{b.ID, b.Entrance, ""})
	}
	return out
}
