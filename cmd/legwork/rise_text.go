package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"legwork/quantity"
	"legwork/working"
)

func writeRise(w io.Writer, job string, r riseReport) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", job)
	if r.Rated != nil {
		fmt.Fprintf(&b, "\nsource %v, conductors at %v, reactance %s, power factor %s\n", r.Basis.Source, r.Basis.Temperature,
			map[bool]string{true: "taken in", false: "left out"}[r.Basis.Reactance], strconv.FormatFloat(r.Basis.PowerFactor, 'g', -1, 64))
		for _, a := range r.Basis.Assumed {
			fmt.Fprintf(&b, "[assumed: %s]\n", a)
		}
		r.Rated.write(&b)
	}
	if c := r.Curtailment; c != nil {
		fmt.Fprintf(&b, "\nat the highest measured service voltage of %v: %v at %s, the highest\n", c.Source, c.Volts, c.Unit)
		if c.VoltWatt {
			fmt.Fprintf(&b, "volt-watt (default curve) leaves it %v and the plant %v of rated power\n", c.UnitShare, c.Share)
		} else {
			fmt.Fprintf(&b, "no volt-watt in the grid profile\n")
		}
	}
	if len(r.Missing) > 0 {
		b.WriteString("\nmissing\n")
		if err := writeMissing(&b, r.Missing, nil); err != nil {
			return err
		}
	}
	b.WriteString("\nFor review under local code by a licensed person.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func (s *riseState) write(b *strings.Builder) {
	volts := map[string]riseVolts{}
	for _, n := range s.Nodes {
		volts[n.ID] = n.Volts
	}
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "\nsection\tpair\tV at its end\trise V\tformula V\tlost W\t")
	for _, e := range s.Sections {
		for i, v := range e.Rise {
			fmt.Fprintf(t, "%s\t%v\t%s\t%s\t%s\t%s\t\n", e.ID, v.pair, quantity.Fixed(volts[e.From][i].volts.Float(), 2),
				quantity.Fixed(v.volts.Float(), 3), fixed(e.Formula, 3), fixed(e.Lost, 1))
		}
	}
	t.Flush()
	b.WriteString("\nrise to the last unit of each branch\n")
	t = tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "branch\tunit\tvolts\trise V\t% of nominal\tformula V\tdifference V\t")
	for _, u := range s.last() {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", u.Branch, u.ID, fixed(u.Volts, 2), fixed(u.Rise, 3), fixed(u.Percent, 2), fixed(u.Formula, 3), fixed(u.Difference, 3))
	}
	t.Flush()
	fmt.Fprintf(b, "\nlost in the wiring %v of %v, %v\n", s.Lost, s.Generated, s.LostShare)
}

// fixed prints a value in a column whose head names the unit; "-" when there is
// none, as for a section ahead of the point of connection.
func fixed(t working.Term, places int) string {
	if !t.Known() {
		return "-"
	}
	return quantity.Fixed(t.Float(), places)
}

// last is the unit of each branch with the greatest rise.
func (s *riseState) last() []riseUnit {
	var out []riseUnit
next:
	for _, u := range s.Units {
		for i := range out {
			if out[i].Branch == u.Branch {
				if u.Rise.Float() > out[i].Rise.Float() {
					out[i] = u
				}
				continue next
			}
		}
		out = append(out, u)
	}
	return out
}
