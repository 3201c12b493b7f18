package tables

// Provision is a rule of Article 705 or near it, in our words. The rules that
// the program checks are in package rules; this is the list they were made from.
type Provision struct {
	ID         string   `col:"rule_id"`
	Topic      string   `col:"topic"`
	Edition    Editions `col:"edition"`
	Clause     string   `col:"clause"`
	When       string   `col:"applies_when"`
	Text       string   `col:"requirement"`
	Formula    string   `col:"formula_ok_if"`
	Counts     string   `col:"what_counts"`
	Label      string   `col:"label_needed"`
	Confidence string   `col:"confidence"`
	Note       string   `col:"note"`
}

// Provisions lists the rules for connecting a source.
var Provisions = rows[Provision]("interconnection-rules")

// PVProvision is a rule of Article 690 or near it, in our words.
type PVProvision struct {
	Topic      string   `col:"topic"`
	Edition    Editions `col:"edition"`
	Clause     string   `col:"clause"`
	Text       string   `col:"requirement"`
	Value      string   `col:"value"`
	Unit       string   `col:"unit"`
	Applies    string   `col:"applies_to_microinverter"`
	Confidence string   `col:"confidence"`
	Note       string   `col:"note"`
}

// PVProvisions lists the rules for the PV system.
var PVProvisions = rows[PVProvision]("pv-rules")

// Label is a label or plaque that an edition asks for.
type Label struct {
	ID         string   `col:"label_id"`
	Edition    Editions `col:"edition"`
	Clause     string   `col:"clause"`
	Where      string   `col:"where"`
	Text       string   `col:"text_or_sense"`
	Exact      string   `col:"exact_wording"`
	Letters    string   `col:"min_letter_height_in"`
	Color      string   `col:"color"`
	Reflective string   `col:"reflective"`
	Applies    string   `col:"ac_only_microinverter"`
	Confidence string   `col:"confidence"`
	Note       string   `col:"note"`
}

// Labels lists the labels of all editions.
var Labels = rows[Label]("labels")

// LoadFactor is a factor or unit load of a dwelling load calculation.
type LoadFactor struct {
	Method string `col:"method"` // standard, optional, existing, measured
	Clause string `col:"clause"`
	Item   string `col:"item"`
	Value  string `col:"value"`
	Unit   string `col:"unit"`
	Note   string `col:"note"`
}

// LoadFactors lists Article 220 for dwellings, and 230.79(C).
var LoadFactors = rows[LoadFactor]("load-calculation")
