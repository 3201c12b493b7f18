package ctproof

// level is one kind of house: how much each leg draws as found, and how that
// wanders between two states minutes apart. Standard deviations in W and var.
type level struct {
	weight         float64
	mean, spread   float64
	meanQ, spreadQ float64
	between        float64 // of loads between the legs
	drift, driftQ  float64
}

// houses is the prior of the load of a leg. The middle one is the metering
// reference's study (section 3): 600 ± 350 W, 120 ± 150 var, drifting 70 W and
// 35 var; the others are judgement: an empty house, and a busy one that drifts by a
// sixth of its load.
var houses = []level{
	{.2, 100, 80, 30, 70, 60, 30, 20},
	{.5, 600, 350, 120, 150, 300, 70, 35},
	{.3, 1300, 900, 250, 350, 1200, 220, 130},
}

// A jump is a load switched between two states: on L1, on L2 or between them.
// Chances and sizes are judgement: a refrigerator, a kettle; a heat pump, whose motor
// draws about as many vars as a power factor of 0.85 makes.
const (
	jumpChance     = .05
	jumpW          = 900.
	jumpVAR        = 450.
	jumpBetween    = 1800.
	jumpBetweenVAR = 1000.
)

// A test load's error, as shares of its watts: a nameplate of ±7 % as an even
// spread (metering reference, section 3), the line voltage included.
const (
	testLoadW       = .045
	testLoadVAR     = .03
	testLoadNoPower = .5 // power factor not known
)

// PV against the expectation by the sun: in common, and each branch alone. The
// metering reference, section 3, has ±20 % and ±8 %; in common we grant more, since an
// expectation made for the wrong hour or sky can be off by a half, and no other tail
// covers that. By the sky, from state to state: judgement.
const (
	sunCommon = .35
	sunBranch = .08
	noIdea    = .8   // no expectation was told
	idleGuess = 1200 // watts of a branch of which nothing is known
)

func (s Sky) drift() float64 {
	switch s {
	case Clear:
		return .05
	case Dull:
		return .15
	case Broken:
		return .40
	}
	return .25
}
