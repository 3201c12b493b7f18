package where_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"legwork/where"
)

func TestPosString(t *testing.T) {
	for _, tt := range []struct {
		p    where.Pos
		want string
	}{
		{where.Pos{}, ""},
		{where.Pos{File: "oak.yaml"}, "oak.yaml"},
		{where.Pos{File: "oak.yaml", Line: 31}, "oak.yaml:31"},
		{where.Pos{File: "oak.yaml", Line: 31, Col: 12}, "oak.yaml:31:12"},
		{where.Pos{Line: 31, Col: 12}, "31:12"},
		{where.Pos{File: "oak.yaml", Col: 12}, "oak.yaml"}, // a column without a line says nothing
	} {
		if got := tt.p.String(); got != tt.want {
			t.Errorf("%#v = %q, want %q", tt.p, got, tt.want)
		}
		if tt.p.IsZero() != (tt.p == where.Pos{}) {
			t.Errorf("%#v: IsZero is %v", tt.p, tt.p.IsZero())
		}
	}
}

func TestErrorText(t *testing.T) {
	for _, tt := range []struct {
		e    where.Error
		want string
	}{
		{where.Error{File: "oak.yaml", Line: 31, Col: 12, Path: "runs.output.length", Came: `"180" has no unit`, Try: "write 180 ft or 55 m"},
			`oak.yaml:31:12: runs.output.length: "180" has no unit; write 180 ft or 55 m`},
		{where.Error{Came: `"180 A"`, Expected: "a length in ft or m"}, `"180 A"; expected a length in ft or m`},
		{where.Error{Path: "register 40072", Came: "no answer", Expected: "two registers", Try: "is Modbus/TCP on?"},
			"register 40072: no answer; expected two registers; is Modbus/TCP on?"},
	} {
		if got := tt.e.Error(); got != tt.want {
			t.Errorf("got  %s\nwant %s", got, tt.want)
		}
	}
}

func TestErrorAt(t *testing.T) {
	p := where.Pos{File: "oak.yaml", Line: 31, Col: 12}
	bare := where.Error{Path: "runs", Came: "x", Expected: "y", Try: "z"}
	placed := bare.At(p)
	if placed.Pos() != p || placed.Path != "runs" || placed.Came != "x" || placed.Expected != "y" || placed.Try != "z" {
		t.Errorf("placed: %#v", placed)
	}
	if !bare.Pos().IsZero() {
		t.Errorf("At changed the original: %#v", bare)
	}
}

func TestErrors(t *testing.T) {
	two := where.Errors{{File: "a", Line: 1, Came: "x"}, {File: "a", Line: 2, Came: "y"}}
	if got, want := two.Error(), "a:1: x\na:2: y"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	var first where.Error
	if !errors.As(fmt.Errorf("job: %w", two), &first) || first.Line != 1 {
		t.Errorf("the first fault is not found: %#v", first)
	}
	if err := (where.Errors{}).OrNil(); err != nil {
		t.Errorf("no fault is an error: %v", err)
	}
	if err := two.OrNil(); err == nil {
		t.Error("two faults are no error")
	}
}

func TestErrorJSON(t *testing.T) {
	b, err := json.Marshal(where.Error{File: "oak.yaml", Line: 3, Came: "x"})
	if want := `{"file":"oak.yaml","line":3,"came":"x"}`; err != nil || string(b) != want {
		t.Errorf("got %s, %v; want %s", b, err, want)
	}
}
