package tables

import (
	"fmt"
	"slices"

	"legwork/quantity"
	"legwork/working"
)

// ratingRow says per edition whether a rating is standard: "yes", "no" (or, for
// 10 A before 2023, a fuse size only), "fuse".
type ratingRow struct {
	Rating quantity.Amps `col:"rating_A"`
	In2017 string        `col:"in_2017"`
	In2020 string        `col:"in_2020"`
	In2023 string        `col:"in_2023"`
	Note   string        `col:"note"`
}

var ratingRows = rows[ratingRow]("standard-ratings")

// in reads the column of an edition; empty for an edition without one.
func (r ratingRow) in(e working.Edition) string {
	return map[working.Edition]string{2017: r.In2017, 2020: r.In2020, 2023: r.In2023}[e]
}

// StandardRatings lists the standard ratings of breakers from small to large;
// the additional sizes of fuses are left out.
//
// Source: NFPA 70, 240.6(A): 10 A is one from 2023 on.
func StandardRatings(e working.Edition) ([]quantity.Amps, error) {
	var out []quantity.Amps
	for _, r := range ratingRows() {
		if r.in(e) == "yes" {
			out = append(out, r.Rating)
		}
	}
	if out == nil {
		return nil, table("standard-ratings").noEdition(e)
	}
	slices.Sort(out)
	return out, nil
}

// NextStandard is the smallest standard rating that is not below a current.
//
// Source: NFPA 70, 240.6(A).
func NextStandard(e working.Edition, least quantity.Amps) (quantity.Amps, error) {
	ratings, err := StandardRatings(e)
	if err != nil {
		return 0, err
	}
	if err := table("standard-ratings").number(least); err != nil {
		return 0, err
	}
	for _, r := range ratings {
		if quantity.Compare(least.Float(), r.Float()) <= 0 {
			return r, nil
		}
	}
	return 0, table("standard-ratings").none("rating of "+working.Figure(least.Float(), least.Unit())+" or more", "the most is 6000 A")
}

// NextStandardOf is NextStandard for a sheet.
func NextStandardOf(e working.Edition, least quantity.Amps) working.Lookup {
	return from("standard-ratings").cell(NextStandard(e, least))
}

// nextSizeUpEnds is the rating up to which a device may be the next size above
// the ampacity.
//
// Source: NFPA 70, 240.4(B)(3).
const nextSizeUpEnds quantity.Amps = 800

// LargestDevice is the largest standard device that still protects a conductor
// of this ampacity: the rating that equals it, else the next one up; above
// 800 A the next one down. Nothing protects a conductor that may carry no
// current, one whose ambient factor is 0: that answers 0 A. SmallConductor may
// cap the device further.
//
// Source: NFPA 70, 240.4(B), (C); ratings 240.6(A).
// Valid: not for branch circuits with several receptacles, 240.4(B)(1).
func LargestDevice(e working.Edition, ampacity quantity.Amps) (quantity.Amps, error) {
	ratings, err := StandardRatings(e)
	if err != nil {
		return 0, err
	}
	if err := table("next-size-up").number(ampacity); err != nil {
		return 0, err
	}
	if ampacity > 0 && quantity.Compare(ampacity.Float(), nextSizeUpEnds.Float()) <= 0 {
		return NextStandard(e, ampacity)
	}
	var largest quantity.Amps
	for _, r := range ratings {
		if quantity.Compare(r.Float(), ampacity.Float()) <= 0 {
			largest = r
		}
	}
	return largest, nil
}

// LargestDeviceOf is LargestDevice for a sheet.
func LargestDeviceOf(e working.Edition, ampacity quantity.Amps) working.Lookup {
	return from("next-size-up").cell(LargestDevice(e, ampacity))
}

// Condition is a condition of the next size up, in words.
type Condition struct {
	What   string `col:"condition"`
	Value  string `col:"value"`
	Clause string `col:"clause"`
	Note   string `col:"note"`
}

// NextSizeUp lists the conditions under which the next rating up may protect a
// conductor.
var NextSizeUp = rows[Condition]("next-size-up")

type smallRow struct {
	Size     quantity.Size `col:"size"`
	Material string        `col:"material"` // copper-clad aluminum too
	Most     quantity.Amps `col:"max_ocpd_A"`
	Clauses  working.Clauses
	Note     string `col:"note"`
}

var smallRows = rows[smallRow]("small-conductors")

// SmallConductor is the largest device for a small conductor after all
// factors; ok is false for a size without such a cap, 8 AWG and thicker.
//
// Source: NFPA 70, 240.4(D).
func SmallConductor(size quantity.Size, m Material) (most quantity.Amps, ok bool) {
	r, ok := smallRowOf(size, m)
	return r.Most, ok
}

func smallRowOf(size quantity.Size, m Material) (smallRow, bool) {
	for _, r := range smallRows() {
		if r.Size == size && r.Material == string(m) {
			return r, true
		}
	}
	return smallRow{}, false
}

// SmallConductorOf is SmallConductor for a sheet, with the clause of its row.
// Ask SmallConductor first: for a size without a cap this is an error.
func SmallConductorOf(size quantity.Size, m Material) working.Lookup {
	r, ok := smallRowOf(size, m)
	if !ok {
		return from("small-conductors").cell(quantity.Amps(0),
			table("small-conductors").none(fmt.Sprintf("%v %v", size, m), "there is 18 to 10 AWG copper, 12 and 10 AWG aluminum"))
	}
	return from("small-conductors").clauses(r.Clauses).cell(r.Most, nil)
}
