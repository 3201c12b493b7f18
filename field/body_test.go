package field

import (
	"strings"
	"testing"

	"legwork/where"
)

const tool = `{"name":"TW-2","calibrated":"2026-01-10"}`

// whole is one good body of every kind.
var whole = map[Kind]string{
	StepDone:     `{"step":"mount-S","by":"Ana"}`,
	Measurement:  `{"step":"service-voltage","reading":"L1-N","value":{"value":120.4,"unit":"V"},"instrument":` + tool + `,"by":"Ana"}`,
	Torque:       `{"step":"land-combiner","terminal":"A:L1","value":{"value":20,"unit":"in-lb"},"tool":` + tool + `,"by":"Ana"}`,
	Photo:        `{"blob":"` + strings.Repeat("0a", 32) + `","step":"cts","place":"MP/bus","shows":"arrow of G1","by":"Ana"}`,
	Serial:       `{"position":"S-r1-c1","serial":"000000000001","by":"Ana"}`,
	Note:         `{"text":"dog in the yard","by":"Ana"}`,
	HoldDecision: `{"step":"cts","decision":"pass-with-reason","reason":"G2 behind the barrier, photo from the side","by":"Ana"}`,
	AsBuilt:      `{"path":"runs.home.length","planned":"45 ft","built":"52 ft","by":"Ana"}`,
	CTProof:      `{"evidence":[{"state":"S0","W":[650,916]}],"posterior":{"p":0.97},"by":"Ana"}`,
	Signature:    `{"name":"Ana","role":"lead","statement":"read and tested as recorded"}`,
	Correction:   `{"target":"019df3a2-4c40-7a01-8000-000000000001","of":"note","body":{"text":"no dog","by":"Ana"},"because":"it was a fox","by":"Ana"}`,
}

func TestEveryKindHasABody(t *testing.T) {
	for _, k := range Kinds() {
		b, err := DecodeBody(k, []byte(whole[k]), "body")
		if err != nil {
			t.Errorf("%s: %v", k, err)
		} else if b.kind() != k {
			t.Errorf("%s was read as %s", k, b.kind())
		}
	}
}

func TestBodiesLackNothing(t *testing.T) {
	optional := map[string]bool{"shows": true}
	for _, k := range Kinds() {
		v, err := parseJSON([]byte(whole[k]), "body")
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range v.members {
			less := v
			less.members = append(append([]member{}, v.members[:i]...), v.members[i+1:]...)
			_, err := DecodeBody(k, less.canonical(nil), "body")
			if (err == nil) != optional[m.name] {
				t.Errorf("%s without %s: %v", k, m.name, err)
			}
		}
	}
}

func TestBodiesAreStrict(t *testing.T) {
	for _, c := range []struct {
		name     string
		kind     Kind
		old, new string
		want     string
	}{
		{"unknown member", Note, `"by"`, `"who":"x","by"`, `body:1:33: who: unknown member "who"; only text, step, place, by`},
		{"unit of another thing", Measurement, `"V"`, `"volts"`, `value.unit: the value "volts"; one of`},
		{"value in quotes", Measurement, `120.4`, `"120.4"`, `value.value: the value "120.4"; a number`},
		{"no calibration", Measurement, `,"calibrated":"2026-01-10"`, ``, `instrument.calibrated: nothing; the member "calibrated"`},
		{"a day that is none", Measurement, `2026-01-10`, `2026-02-30`, `instrument.calibrated: "2026-02-30"; a day such as 2026-05-04`},
		{"torque in volts", Torque, `"in-lb"`, `"V"`, `value: 20 V; a torque above zero in in-lb`},
		{"torque of nothing", Torque, `20`, `0`, `value: 0 in-lb; a torque above zero in in-lb`},
		{"path in a blob", Photo, strings.Repeat("0a", 32), "../../etc/passwd", `blob: "../../etc/passwd"; the SHA-256`},
		{"path in a step", StepDone, "mount-S", "../x", `step: "../x"; an id of the procedure`},
		{"serial with a space", Serial, "000000000001", "0000 0001", `serial: "0000 0001"; the serial as printed`},
		{"empty words", Note, "dog in the yard", " ", `text: empty text`},
		{"reason missing", HoldDecision, `"reason":"G2 behind the barrier, photo from the side",`, ``, `reason: nothing; a written reason`},
		{"decision unheard of", HoldDecision, `pass-with-reason`, `skip`, `decision: "skip"; pass, pass-with-reason or hold`},
		{"proof of nothing", CTProof, `[{"state":"S0","W":[650,916]}]`, `[]`, `evidence: an array; an object or array with something in it`},
		{"correction of a correction's kind", Correction, `"of":"note"`, `"of":"correction"`, `of: "correction"; the kind of the event`},
		{"correction with a bad body", Correction, `{"text":"no dog",`, `{`, `body.text: nothing; the member "text"`},
		{"correction that does both", Correction, `"because"`, `"withdraw":true,"because"`, `body: a body; none beside withdraw`},
		{"correction that does nothing", Correction, `"body":{"text":"no dog","by":"Ana"},`, ``, `body: nothing; the body that replaces`},
		{"not an object", Note, whole[Note], `[]`, `body:1:1: an array; an object`},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := strings.Replace(whole[c.kind], c.old, c.new, 1)
			if src == whole[c.kind] {
				t.Fatal("nothing was spoiled")
			}
			_, err := DecodeBody(c.kind, []byte(src), "body")
			if err == nil || !strings.Contains(strings.ReplaceAll(err.Error(), "expected ", ""), c.want) {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

// Whatever a device sends is read or refused with a place, and what is read
// prints and reads back alike.
func FuzzDecodeBody(f *testing.F) {
	for i, k := range Kinds() {
		f.Add(i, []byte(whole[k]))
	}
	kinds := Kinds()
	f.Fuzz(func(t *testing.T, k int, src []byte) {
		kind := kinds[uint(k)%uint(len(kinds))]
		_, err := DecodeBody(kind, src, "upload")
		if err == nil {
			canonical, err := Canonical(src, "upload")
			if err != nil {
				t.Fatal(err)
			}
			if _, err := DecodeBody(kind, canonical, "upload"); err != nil {
				t.Fatalf("canonical form refused: %v", err)
			}
			return
		}
		switch e := err.(type) {
		case where.Error:
		case where.Errors:
			if len(e) == 0 {
				t.Fatal("refused without a word")
			}
		default:
			t.Fatalf("%T: %v", err, err)
		}
	})
}
