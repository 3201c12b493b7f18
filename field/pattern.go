package field

import (
	"slices"

	"legwork/quantity"
)

// Pattern is a wrong picture of readings with all that it may come from.
type Pattern struct {
	ID     string
	Seen   Text      // what the crew sees
	When   []Picture // any of these; none where only eyes can tell
	Causes []Cause   // more than one where more than one looks alike
}

// Cause is one explanation of a pattern with the test that tells it from the
// others.
type Cause struct {
	Means Text
	Test  Text
	// Inside says that test or cure needs a hand in an enclosure: the order of
	// making it dead comes first.
	Inside bool
}

// Picture is readings that stand together.
type Picture []Range

// Range says that a reading lies from Low to High, both included.
type Range struct {
	Reading   string // id of an Expect
	Low, High float64
}

// Fits reports whether the readings show the pattern. A pattern for eyes never
// fits by itself.
func (p Pattern) Fits(readings map[string]Reading) bool {
	return slices.ContainsFunc(p.When, func(x Picture) bool { return x.fits(readings) })
}

func (x Picture) fits(readings map[string]Reading) bool {
	for _, r := range x {
		v, ok := readings[r.Reading]
		above := quantity.Compare(v.Value, r.High) > 0 || v.Over && r.High != huge
		if !ok || quantity.Compare(v.Value, r.Low) < 0 || above {
			return false
		}
	}
	return len(x) > 0
}
