package field

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"legwork/quantity"
	"legwork/working"
)

// Print writes the procedure as a crew reads it, one block a step: what stays
// live first, then gear, weather and company, then the hand. say turns a Text
// into a sentence of the reader's language; its first fault ends the printing.
func (p Procedure) Print(w io.Writer, say func(Text) (string, error)) error {
	b := bufio.NewWriter(w)
	pr := &printer{out: b, say: say, told: map[string]int{}}
	pr.line("", "field.local_code")
	pr.line("\n", "field.make_dead")
	for i, t := range p.MakeDead {
		pr.text("  "+strconv.Itoa(i+1)+". ", t)
	}
	phase := Phase("")
	for i, s := range p.Steps {
		if s.Phase != phase {
			phase = s.Phase
			fmt.Fprintf(b, "\n== %s\n", pr.words(phase.key()))
		}
		pr.step(i+1, s)
	}
	if pr.err != nil {
		return pr.err
	}
	return b.Flush()
}

// key is the phase's name in the message catalogue.
func (p Phase) key() string { return "phase." + strings.ReplaceAll(string(p), "-", "_") }

type printer struct {
	out  io.Writer
	say  func(Text) (string, error)
	told map[string]int // pattern to the step that tells it in full
	err  error
}

func (pr *printer) words(key string, slots ...string) string { return pr.sentence(say(key, slots...)) }

func (pr *printer) sentence(t Text) string {
	s, err := pr.say(t)
	if err != nil && pr.err == nil {
		pr.err = err
	}
	return s
}

func (pr *printer) text(before string, t Text) {
	fmt.Fprintf(pr.out, "%s%s\n", before, pr.sentence(t))
}

func (pr *printer) line(before, key string, slots ...string) { pr.text(before, say(key, slots...)) }

func (pr *printer) list(ts []Text) string { return strings.Join(pr.each(ts), "; ") }

func (pr *printer) each(ts []Text) []string {
	var out []string
	for _, t := range ts {
		out = append(out, pr.sentence(t))
	}
	return out
}

func (pr *printer) step(n int, s Step) {
	title := pr.sentence(s.Title)
	if s.Hold != nil {
		title = strings.ToUpper(pr.words("field.hold_point")) + " · " + title
	}
	fmt.Fprintf(pr.out, "\n%d. %s  [%s, %s]\n", n, title, s.ID, s.Place)
	pr.line("   ", "field.stays_live", "what", pr.list(s.StaysLive))
	if len(s.Wear) > 0 {
		pr.line("   ", "field.wear", "what", pr.list(s.Wear))
	}
	if s.Weather.Key != "" {
		pr.line("   ", "field.weather", "what", pr.sentence(s.Weather))
	}
	if s.Second.Key != "" {
		pr.line("   ", "field.second", "what", pr.sentence(s.Second))
	}
	if len(s.Do) > 0 {
		pr.line("   ", "field.do")
		for _, t := range s.Do {
			pr.text("   - ", t)
		}
	}
	if len(s.Expect) > 0 {
		pr.line("   ", "field.readings")
		for _, x := range s.Expect {
			fmt.Fprintf(pr.out, "   [ ] %s\n", pr.expect(x))
		}
	}
	if w := s.Wait; w != nil {
		pr.line("   ", "field.wait_clock", "wait", figure(w.Wait), "low", figure(w.Low), "high", figure(w.High))
	}
	if s.Photos > 0 {
		pr.line("   ", "field.photos", "count", strconv.Itoa(s.Photos))
	}
	if s.Hold != nil {
		fmt.Fprintf(pr.out, "   %s: %s\n", pr.words("field.hold_point"), pr.hold(*s.Hold))
	}
	for _, p := range s.Patterns {
		pr.pattern(n, p)
	}
	pr.line("   ", "field.why", "what", pr.sentence(s.Why))
	fmt.Fprintf(pr.out, "   %s\n", pr.basis(s))
}

// basis says what a step rests on.
func (pr *printer) basis(s Step) string {
	switch {
	case s.Mark == Standard:
		return pr.words("field.standard", "source", s.Basis)
	case s.Basis != "":
		return pr.words("field.common_practice") + "; " + s.Basis
	}
	return pr.words("field.common_practice")
}

// hold says what passes a hold point.
func (pr *printer) hold(h Hold) string {
	how := "field.hold_readings"
	if h.EyesOnly {
		how = "field.eyes_only"
	}
	if !h.EyesOnly && !h.ReasonPasses {
		how = "field.no_pass_with_reason"
	}
	s := pr.words(how)
	if h.ReasonPasses {
		s += "; " + pr.words("field.pass_with_reason")
	}
	return s
}

// pattern tells a wrong picture in full once, and later where it was told.
func (pr *printer) pattern(n int, p Pattern) {
	seen := pr.words("field.wrong", "seen", pr.sentence(p.Seen))
	if at, ok := pr.told[p.ID]; ok {
		fmt.Fprintf(pr.out, "   %s %s\n", seen, pr.words("field.patterns_above", "number", strconv.Itoa(at)))
		return
	}
	pr.told[p.ID] = n
	fmt.Fprintf(pr.out, "   %s\n", seen)
	for _, c := range p.Causes {
		fmt.Fprintf(pr.out, "     · %s\n", pr.cause(c))
	}
}

// cause says what it may be and how to tell.
func (pr *printer) cause(c Cause) string {
	s := pr.words("field.cause", "means", pr.sentence(c.Means)) + "; " + pr.words("field.test", "test", pr.sentence(c.Test))
	if c.Inside {
		s += " (" + pr.words("field.inside") + ")"
	}
	return s
}

func (pr *printer) expect(x Expect) string {
	parts := []string{pr.sentence(x.What)}
	if x.Between != "" {
		parts[0] += ", " + x.Between
	}
	if x.Unit != "" {
		parts[0] += " (" + string(x.Unit) + ")"
	}
	if x.Value != nil {
		parts = append(parts, pr.words("field.expected", "value", figure(*x.Value)))
	}
	if !x.Look.Open() {
		parts = append(parts, pr.words("field.look_when", "band", pr.outside(x.Look)))
	}
	switch {
	case x.Stop.Open():
	case x.Stop.Low == x.Stop.High:
		parts = append(parts, pr.words("field.only"))
	default:
		parts = append(parts, pr.words("field.stop_when", "band", pr.outside(x.Stop)))
	}
	if x.Look.Open() && x.Stop.Open() {
		parts = append(parts, pr.words("field.record_only"))
	}
	for _, m := range x.missing() {
		parts = append(parts, pr.words("field.stop_unknown", "what", m.String()))
	}
	return strings.Join(parts, "; ")
}

// missing is what keeps a limit unknown, each fact once.
func (x Expect) missing() []working.Missing {
	var out []working.Missing
	for _, t := range []*working.Term{x.Value, x.Look.Low, x.Look.High, x.Stop.Low, x.Stop.High} {
		if t == nil {
			continue
		}
	next:
		for _, m := range t.Missing() {
			for _, have := range out {
				if have.Path == m.Path {
					continue next
				}
			}
			out = append(out, m)
		}
	}
	return out
}

// outside words what lies outside a band.
func (pr *printer) outside(b Band) string {
	switch {
	case b.Low == nil:
		return pr.words("field.band_above", "high", figure(*b.High))
	case b.High == nil:
		return pr.words("field.band_below", "low", figure(*b.Low))
	}
	return pr.words("field.band_outside", "low", figure(*b.Low), "high", figure(*b.High))
}

// figure prints a limit; insulation is read in megohms.
func figure(t working.Term) string {
	if t.Known() && t.Unit() == "Ω" && t.Float() >= 1e6 {
		return quantity.Trim(t.Float()/1e6, 2) + " MΩ"
	}
	return t.String()
}
