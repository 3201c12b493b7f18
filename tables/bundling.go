package tables

import (
	"strconv"

	"legwork/quantity"
	"legwork/working"
)

type bundlingRow struct {
	Low     int              `col:"ccc_low"`
	High    int              `col:"ccc_high,blank"` // the last row has no upper end
	Percent quantity.Percent `col:"percent"`
	Clauses working.Clauses
	Note    string `col:"note"`
}

var bundlingRows = rows[bundlingRow]("bundling")

// BundlingFactor adjusts an ampacity for n current-carrying conductors in one
// raceway or bundle: 0.80 for four to six.
//
// Source: NFPA 70, Table 310.15(B)(3)(a) (2017), Table 310.15(C)(1) (2020, 2023).
// Valid: raceways longer than 24 in; see CountingRules for what counts.
func BundlingFactor(n int) (quantity.Ratio, error) {
	for _, r := range bundlingRows() {
		if n >= r.Low && (n <= r.High || r.High == 0) {
			return quantity.Ratio(r.Percent / 100), nil
		}
	}
	return 0, table("bundling").none(strconv.Itoa(n)+" conductors", "the least is 1")
}

// BundlingFactorOf is BundlingFactor for a sheet.
func BundlingFactorOf(n int) working.Lookup {
	return from("bundling").cell(BundlingFactor(n))
}

// CountingRule says in words whether a conductor counts as current-carrying.
type CountingRule struct {
	ID      string `col:"rule_id"`
	Clauses working.Clauses
	Text    string `col:"rule"`
}

// CountingRules lists which conductors count as current-carrying.
var CountingRules = rows[CountingRule]("counting")
