package ctproof

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"legwork/meter"
	"legwork/quantity"
	"legwork/where"
)

// Case is the readings of one site, as a table gives them.
type Case struct {
	Name   string
	Site   Site
	States []State
	Lines  []int // of the table, by state
}

// answers are columns that a table of worked cases may carry; they are not read.
func answers(column string) bool {
	for _, prefix := range []string{"true_", "bg_", "known_", "pv_b", "fault_", "grid_also_fits", "production_also_fits"} {
		if strings.HasPrefix(column, prefix) {
			return true
		}
	}
	return column == "response" || column == "instruction" || column == "note"
}

// columns that are read, besides one told_pv_bN_W a branch.
var columns = func() []string {
	out := []string{"case", "service", "arrangement", "branches", "sky", "state_no", "state", "state_text", "t_min", "waited_s", "inverter_sum_W", "clamp_output_A"}
	for _, leg := range []string{"L1", "L2", "L12"} {
		out = append(out, "told_known_"+leg+"_W", "told_known_"+leg+"_var")
	}
	for _, c := range []string{"G1", "G2", "P1", "P2"} {
		for _, f := range []string{"V", "A", "W", "var", "PF"} {
			out = append(out, c+"_"+f)
		}
	}
	return out
}()

// mostBranches is how many branches a state's code can name, one digit each.
const mostBranches = 9

// ReadCSV reads a table of readings, one row a state; rows of one case stand
// together. The format is documented in docs/formats/ctproof-readings.md. All
// faults are returned together, joined, each a where.Error.
func ReadCSV(file string, text []byte) ([]Case, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	r := csv.NewReader(bytes.NewReader(text))
	head, err := r.Read()
	if err != nil {
		return nil, tableError(file, err, "a line of column names")
	}
	t := table{file: file, at: map[string]int{}}
	for i, name := range head {
		name = strings.TrimSpace(name)
		switch _, twice := t.at[name]; {
		case twice:
			t.fault(where.Error{Line: 1, Path: "column " + strconv.Itoa(i+1), Came: strconv.Quote(name) + " a second time", Expected: "each column once"})
		case known(name):
			t.at[name] = i
		case !answers(name):
			e := where.Error{Line: 1, Path: "column " + strconv.Itoa(i+1), Came: strconv.Quote(name), Expected: "a column of the format"}
			if n := where.Nearest(name, columns); n != "" {
				e.Try = "did you mean " + n + "?"
			}
			t.fault(e)
		}
	}
	for _, need := range []string{"case", "service", "arrangement", "branches", "state"} {
		if _, ok := t.at[need]; !ok {
			t.fault(where.Error{Line: 1, Came: "no column " + need, Expected: "the columns case, service, arrangement, branches and state"})
		}
	}
	if len(t.faults) > 0 {
		return nil, errors.Join(t.faults...)
	}
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.faults = append(t.faults, tableError(file, err, "a row with as many cells as there are columns"))
			if !errors.Is(err, csv.ErrFieldCount) {
				break
			}
			continue
		}
		t.line, _ = r.FieldPos(0)
		t.row = row
		t.take()
	}
	if len(t.cases) == 0 && len(t.faults) == 0 {
		t.fault(where.Error{Line: 1, Came: "no rows", Expected: "one row a state"})
	}
	if len(t.faults) > 0 {
		return nil, errors.Join(t.faults...)
	}
	return t.cases, nil
}

func known(name string) bool {
	if slices.Contains(columns, name) {
		return true
	}
	rest, ok := strings.CutPrefix(name, "told_pv_b")
	b, ok2 := strings.CutSuffix(rest, "_W")
	n, err := strconv.Atoi(b)
	return ok && ok2 && err == nil && n >= 1 && n <= mostBranches && b == strconv.Itoa(n)
}

func tableError(file string, err error, expected string) error {
	e := where.Error{File: file, Came: err.Error(), Expected: expected}
	var at *csv.ParseError
	switch {
	case errors.As(err, &at):
		e.Line, e.Col, e.Came = at.Line, at.Column, at.Err.Error()
	case errors.Is(err, io.EOF):
		e.Came = "an empty file"
	}
	return e
}

type table struct {
	file   string
	at     map[string]int
	row    []string
	line   int
	cases  []Case
	faults []error
}

func (t *table) fault(e where.Error) {
	e.File = t.file
	if e.Line == 0 {
		e.Line = t.line
	}
	t.faults = append(t.faults, e)
}

func (t *table) cell(name string) string {
	if i, ok := t.at[name]; ok {
		return strings.TrimSpace(t.row[i])
	}
	return ""
}

func value[T meter.Measured](t *table, name string) meter.Value[T] {
	v, err := meter.ParseValue[T](t.cell(name))
	var e where.Error
	if errors.As(err, &e) {
		e.Path = name
		t.fault(e)
	}
	return v
}

func (t *table) take() {
	name := t.cell("case")
	site := t.site()
	fresh := len(t.cases) == 0 || t.cases[len(t.cases)-1].Name != name
	switch {
	case name == "":
		t.fault(where.Error{Path: "case", Came: "an empty cell", Expected: "the name of the site"})
		return
	case fresh:
		for _, c := range t.cases {
			if c.Name == name {
				t.fault(where.Error{Path: "case", Came: strconv.Quote(name) + " again", Expected: "all rows of a case together"})
				return
			}
		}
		t.cases = append(t.cases, Case{Name: name, Site: site})
	case t.cases[len(t.cases)-1].Site != site:
		t.fault(where.Error{Path: "case", Came: "another site under the same name", Expected: "one service, arrangement, number of branches and sky a case"})
		return
	}
	c := &t.cases[len(t.cases)-1]
	c.States = append(c.States, t.state(site))
	c.Lines = append(c.Lines, t.line)
}

func (t *table) site() Site {
	s := Site{System: meter.System(t.cell("service")), Sky: Sky(t.cell("sky")), Branches: 1}
	if s.System != meter.Split && s.System != meter.Wye {
		t.fault(where.Error{Path: "service", Came: strconv.Quote(t.cell("service")), Expected: "split (120/240 V) or y208 (two legs of 208Y/120)"})
	}
	switch a := t.cell("arrangement"); a {
	case "grid2+prod2":
		s.Windows = 2
	case "grid2+prod1":
		s.Windows = 1
	case "grid2":
	default:
		t.fault(where.Error{Path: "arrangement", Came: strconv.Quote(a), Expected: "grid2+prod2, grid2+prod1 or grid2"})
	}
	switch s.Sky {
	case Clear, Broken, Dull, "":
	default:
		t.fault(where.Error{Path: "sky", Came: strconv.Quote(string(s.Sky)), Expected: "clear, broken, dull, or empty when not known"})
	}
	if n, err := strconv.Atoi(t.cell("branches")); err == nil && n >= 1 && n <= mostBranches {
		s.Branches = n
	} else {
		t.fault(where.Error{Path: "branches", Came: strconv.Quote(t.cell("branches")), Expected: "a whole number from 1 to 9"})
	}
	return s
}

func (t *table) state(site Site) State {
	code := t.cell("state")
	st := State{Reading: meter.Reading{State: code, Source: meter.CSV}}
	on, ok := branchesOn(code, site.Branches)
	if !ok {
		t.fault(where.Error{Path: "state", Came: strconv.Quote(code), Expected: "S0, S1, S2, S3, B and the branches that are on (B12), or some of these joined by +",
			Try: "branches run from 1 to " + strconv.Itoa(site.Branches)})
	}
	st.On = on
	for i, k := range []*Known{&st.L1, &st.L2, &st.L12} {
		leg := []string{"L1", "L2", "L12"}[i]
		k.W = value[quantity.Watts](t, "told_known_"+leg+"_W").Value
		k.VAR = value[meter.Vars](t, "told_known_"+leg+"_var")
		if k.W < 0 || k.W > 50000 {
			t.fault(where.Error{Path: "told_known_" + leg + "_W", Came: t.cell("told_known_" + leg + "_W"), Expected: "watts that the test load draws, 0 to 50000"})
		}
		if named := namesLoad(code, i); named != (k.W > 0) && ok {
			t.fault(where.Error{Path: "told_known_" + leg + "_W", Came: strconv.Quote(t.cell("told_known_" + leg + "_W")), Expected: "a known load on " + leg + " in state S" + strconv.Itoa(i+1) + ", and in no other"})
		}
	}
	st.Expected = make([]meter.Value[quantity.Watts], site.Branches)
	for b := range st.Expected {
		path := "told_pv_b" + strconv.Itoa(b+1) + "_W"
		v := value[quantity.Watts](t, path)
		if v.Known && v.Value < 0 || v.Value > 50000 {
			t.fault(where.Error{Path: path, Came: t.cell(path), Expected: "watts that the branch should make, 0 to 50000, or empty when not known"})
		}
		for _, n := range on {
			if n == b+1 && v.Known && v.Value == 0 {
				t.fault(where.Error{Path: path, Came: t.cell(path), Expected: "watts above 0 for a branch that is on, or empty when not known"})
			}
		}
		st.Expected[b] = v
	}
	st.InverterSum = value[quantity.Watts](t, "inverter_sum_W")
	st.ClampOutput = value[quantity.Amps](t, "clamp_output_A")
	st.Waited = value[quantity.Seconds](t, "waited_s")
	any := false
	for _, id := range site.channels() {
		c := meter.Channel{ID: id, V: value[quantity.Volts](t, id+"_V"), A: value[quantity.Amps](t, id+"_A"), W: value[quantity.Watts](t, id+"_W"),
			VAR: value[meter.Vars](t, id+"_var"), PF: value[quantity.Ratio](t, id+"_PF")}
		for _, x := range []float64{float64(c.W.Value), float64(c.VAR.Value), float64(c.V.Value), float64(c.A.Value)} {
			if x > 1e6 || x < -1e6 {
				t.fault(where.Error{Path: id, Came: strconv.FormatFloat(x, 'g', -1, 64), Expected: "a figure of a house, below 1000000"})
			}
		}
		any = any || c.W.Known || c.VAR.Known
		st.Channels = append(st.Channels, c)
	}
	if !any {
		t.fault(where.Error{Path: strings.Join(site.channels(), ", "), Came: "no watts and no vars", Expected: "the watts or vars of at least one channel"})
	}
	return st
}

// branchesOn reads a state's code.
func branchesOn(code string, branches int) ([]int, bool) {
	var on []int
	for _, part := range strings.Split(code, "+") {
		switch part {
		case "S0", "S1", "S2", "S3":
			continue
		}
		digits, ok := strings.CutPrefix(part, "B")
		if !ok || digits == "" {
			return nil, false
		}
		for _, d := range digits {
			b := int(d - '0')
			if b < 1 || b > branches || slices.Contains(on, b) {
				return nil, false
			}
			on = append(on, b)
		}
	}
	return on, true
}

func namesLoad(code string, leg int) bool {
	return slices.Contains(strings.Split(code, "+"), "S"+strconv.Itoa(leg+1))
}

// Prove judges one case. An error tells which row contradicts the site.
func Prove(c Case) (Answer, error) {
	p := New(c.Site)
	for i, st := range c.States {
		if err := p.Add(st); err != nil {
			var e where.Error
			if errors.As(err, &e) && i < len(c.Lines) {
				e.Line = c.Lines[i]
				return Answer{}, e
			}
			return Answer{}, err
		}
	}
	return p.Answer(), nil
}
