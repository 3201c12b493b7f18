package working

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"legwork/quantity"
)

// Text prints the calculation for a terminal: one line a step, in columns with
// the decimal points in line; then the comparison; then what is missing.
func (w *Sheet) Text() string {
	return text(w.steps, w.test, w.missing, w.notes)
}

// Line prints the finding on one line: verdict, title, comparison and clause.
func (f Finding) Line() string {
	verdict, said := string(f.Verdict), ""
	if f.NotCovered {
		verdict = "not covered"
	}
	if f.Test != nil {
		said = f.Test.String()
	}
	line := fmt.Sprintf("  %-5s %-62s %s", verdict, f.Title, said)
	if f.Clause != "" {
		line += "  (" + f.Clause + ")"
	}
	return line + "\n"
}

// Text prints the finding for a terminal: verdict, title, place and clause, the
// calculation, and what would cure a stop.
func (f Finding) Text() string {
	var b strings.Builder
	verdict := string(f.Verdict)
	if f.NotCovered {
		verdict = "not covered"
	}
	fmt.Fprintf(&b, "%s  %s\n", verdict, f.Title)
	fmt.Fprintf(&b, "%s", f.ID())
	if f.Edition != 0 {
		fmt.Fprintf(&b, "  %s", strings.TrimSpace(fmt.Sprintf("%d %s", f.Edition, f.Clause)))
	}
	if f.Existing {
		b.WriteString("  existing")
	}
	b.WriteString("\n")
	b.WriteString(text(f.Steps, f.Test, f.Missing, f.Notes))
	for _, x := range f.Fixes {
		fmt.Fprintf(&b, "  fix: %s, %s h", x.Title, quantity.Trim(x.Hours, 1))
		if x.Material > 0 {
			fmt.Fprintf(&b, ", $%.0f of material", x.Material)
		}
		for _, word := range x.Brings() {
			b.WriteString(", " + word)
		}
		if x.Margin != "" {
			b.WriteString("; then " + x.Margin)
		}
		if x.Notes != "" {
			b.WriteString(", " + x.Notes)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func text(steps []Step, test *Test, missing []Missing, notes []string) string {
	var b strings.Builder
	columns(&b, steps)
	if test != nil {
		fmt.Fprintf(&b, "\n  %s\n", test)
	}
	for _, m := range missing {
		fmt.Fprintf(&b, "  missing: %s\n", m)
	}
	for _, n := range notes {
		fmt.Fprintf(&b, "  note: %s\n", n)
	}
	return b.String()
}

// columns writes symbol, meaning, value and source in line.
func columns(b *strings.Builder, steps []Step) {
	rows := make([][5]string, len(steps))
	var width [5]int
	for i, s := range steps {
		whole, rest := atPoint(s.Result.Marked())
		rows[i] = [5]string{s.Sym, s.Meaning, whole, rest, s.source()}
		for c, cell := range rows[i] {
			width[c] = max(width[c], utf8.RuneCountInString(cell))
		}
	}
	for _, r := range rows {
		pad := func(c int) string { return strings.Repeat(" ", width[c]-utf8.RuneCountInString(r[c])) }
		line := "  " + r[0] + pad(0) + "  " + r[1] + pad(1) + "  " + pad(2) + r[2] + r[3] + pad(3) + "  " + r[4]
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// atPoint cuts a printed value where its decimal point stands or would stand.
func atPoint(s string) (whole, rest string) {
	number := strings.TrimLeft(s, "_[-")
	end := strings.IndexFunc(number, func(r rune) bool { return r < '0' || r > '9' })
	if end <= 0 {
		return s, ""
	}
	end += len(s) - len(number)
	return s[:end], s[end:]
}
