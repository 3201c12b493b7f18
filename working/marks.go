package working

import "strings"

// Given, chosen and assumed are told apart by marks that a copy machine, a
// terminal and a color-blind reader keep: a given value is underlined, a chosen
// one stands plain, an assumed one stands in brackets. In text the underline is
// a low line on either side. Values of tables and of sums say where they are
// from beside them and stand plain.

// MarksLegend explains the marks of the text form.
const MarksLegend = "_given by a person_   chosen by the tool   [assumed]"

// Marked prints the value with the mark of its origin: "_200 A_", "200 A",
// "[200 A]". An unknown value is "?" whatever its origin.
func (t Term) Marked() string {
	s := t.String()
	switch {
	case !t.known:
		return s
	case t.from.Kind == Given:
		return "_" + s + "_"
	case t.from.Kind == Assumed:
		return "[" + s + "]"
	}
	return s
}

// String says where a value is from: "given: panels.MP.main, oak.yaml:31:9",
// "table ampacity, 310.16, from memory". It is empty for sums, which show their
// figures instead.
func (o Origin) String() string {
	if o.Kind == "" || o.Kind == Computed && o.Path == "" {
		return ""
	}
	said := string(o.Kind)
	switch {
	case o.Path == "":
	case o.Kind == Table:
		said += " " + o.Path
	default:
		said += ": " + o.Path
	}
	for _, more := range []string{o.Clause, o.At.String(), o.Mark} {
		if more != "" {
			said += ", " + more
		}
	}
	return said
}

// source says where the value of a step is from: its origin, or the sum with
// and without figures.
func (s Step) source() string {
	switch {
	case s.Expr == "":
		return s.Result.from.String()
	case s.Expr == s.Filled:
		return s.Expr
	}
	return s.Expr + " = " + s.Filled
}

// String says which fact is missing and how to get it: "busbar rating of MP
// (panels.MP.busbar): label inside the door; photo: panel label".
func (m Missing) String() string {
	said := m.What
	if m.Path != "" {
		said += " (" + m.Path + ")"
	}
	var how []string
	if m.Find != "" {
		how = append(how, m.Find)
	}
	if m.Photo != "" {
		how = append(how, "photo: "+m.Photo)
	}
	if len(how) > 0 {
		said += ": " + strings.Join(how, "; ")
	}
	return said
}
