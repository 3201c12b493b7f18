package plan

import (
	_ "embed"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"sync"

	"legwork/quantity"
	"legwork/where"
)

// Cents is money, in hundredths of a dollar, so that sums are exact and two
// layouts of one price compare equal.
type Cents int64

// String prints dollars: "$1,034.50".
func (c Cents) String() string {
	sign := ""
	if c < 0 {
		sign, c = "-", -c
	}
	whole := strconv.FormatInt(int64(c/100), 10)
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return fmt.Sprintf("%s$%s.%02d", sign, whole, c%100)
}

// MarshalJSON writes {"value": 1034.5, "unit": "USD"}.
func (c Cents) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Value float64 `json:"value"`
		Unit  string  `json:"unit"`
	}{float64(c) / 100, "USD"})
}

// Costs are the prices by which layouts are compared: material and labor of one
// piece or foot, in dollars.
type Costs struct {
	Drop        float64 // a unit's drop with one spacing of trunk cable
	EmptyDrop   float64 // a drop that no unit hangs on, with its cap
	JumperEnds  float64 // the two connectors of a jumper
	JumperCable float64 // a foot of it
	TrunkEnd    float64 // the cap at an end of a trunk
	CenterFeed  float64 // a center-fed branch beyond an end-fed one, its second cap aside
	Branch      float64 // breaker, splice and landing
	HomeRun     float64 // a foot of one branch's conductors
	Imbalance   float64 // an ampere between phase pairs
}

//go:embed data/costs.csv
var costsTable string

// InventedCosts are the prices that come with the program. They are invented.
var InventedCosts = sync.OnceValue(func() *Costs {
	c, err := ReadCosts("costs.csv", strings.NewReader(costsTable))
	if err != nil {
		panic(err)
	}
	return c
})

// ReadCosts reads a table of prices in the form of data/costs.csv: a row an
// item, lines with # are remarks. Each item stands once and none is left out.
func ReadCosts(file string, in io.Reader) (*Costs, error) {
	r := csv.NewReader(in)
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', 4, true
	rows, err := r.ReadAll()
	if err != nil {
		return nil, where.Error{File: file, Came: err.Error(), Expected: "rows of item,per,material_USD,labor_min"}
	}
	if len(rows) == 0 {
		return nil, where.Error{File: file, Came: "no row", Expected: "a header and a row for each item"}
	}
	c := &Costs{}
	slots := map[string]*float64{"drop": &c.Drop, "empty_drop": &c.EmptyDrop, "jumper_ends": &c.JumperEnds,
		"jumper_cable": &c.JumperCable, "trunk_end": &c.TrunkEnd, "center_feed": &c.CenterFeed, "branch": &c.Branch,
		"home_run": &c.HomeRun, "imbalance": &c.Imbalance, "labor": new(float64)}
	minutes := map[string]float64{}
	for _, row := range rows[1:] {
		slot := slots[row[0]]
		_, twice := minutes[row[0]]
		switch {
		case slot == nil:
			return nil, where.Error{File: file, Came: fmt.Sprintf("item %q", row[0]), Expected: "an item of the table that comes with the program"}
		case twice:
			return nil, where.Error{File: file, Came: row[0] + " stands twice", Expected: "each item once"}
		}
		for i, out := range []*float64{slot, new(float64)} {
			v, err := strconv.ParseFloat(row[2+i], 64)
			if err != nil || !(v >= 0 && v <= 1e6) {
				return nil, where.Error{File: file, Path: row[0], Came: strconv.Quote(row[2+i]), Expected: "a number from 0 to 1000000"}
			}
			*out = v
			minutes[row[0]] = v
		}
	}
	for _, item := range []string{"drop", "empty_drop", "jumper_ends", "jumper_cable", "trunk_end", "center_feed", "branch", "home_run", "imbalance", "labor"} {
		if _, ok := minutes[item]; !ok {
			return nil, where.Error{File: file, Came: "no row for " + item, Expected: "a row for each item"}
		}
	}
	hour := *slots["labor"]
	for item, slot := range slots {
		*slot += minutes[item] * hour / 60
	}
	return c, nil
}

func cents(dollars float64) Cents { return Cents(math.Round(dollars * 100)) }

// link is how the trunk gets from one drop to the next.
type link struct {
	extra Cents         // beyond the drop and its spacing
	feet  quantity.Feet // of cable
	empty int           // drops without a unit on the way
	cut   bool          // a jumper with connectors
}

// link finds the cheaper way over a distance: the next drop where the spacing
// reaches, else leaving drops empty, or a jumper cut to the next whole foot.
func (c *Costs) link(distance, spacing quantity.Feet) link {
	sections := int(math.Ceil(quantity.Snap(float64(distance / spacing))))
	if sections <= 1 {
		return link{feet: spacing}
	}
	skip := link{extra: cents(c.EmptyDrop * float64(sections-1)), feet: spacing * quantity.Feet(sections), empty: sections - 1}
	whole := math.Ceil(quantity.Snap(float64(distance)))
	jumper := link{extra: cents(c.JumperEnds + c.JumperCable*whole), feet: quantity.Feet(whole), cut: true}
	if jumper.extra < skip.extra {
		return jumper
	}
	return skip
}
