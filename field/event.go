package field

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"legwork/where"
)

// Kind says what an event tells.
type Kind string

// The kinds of events.
const (
	StepDone     Kind = "step-done"   // a step of the procedure was carried out
	Measurement  Kind = "measurement" // value, unit, instrument with calibration date
	Torque       Kind = "torque"      // value at the moment of tightening, tool with calibration date
	Photo        Kind = "photo"       // hash of the picture and what it shows
	Serial       Kind = "serial"      // a serial number at a position
	Note         Kind = "note"        // words
	HoldDecision Kind = "hold-point"  // passed with readings, or with a reason and a name
	AsBuilt      Kind = "as-built"    // how what was built differs from the plan
	CTProof      Kind = "ct-proof"    // evidence and posterior, whole
	Signature    Kind = "signature"   // who stands for what
	Correction   Kind = "correction"  // names the event that it corrects
)

// versions is, for each kind, the newest version of its body that we read.
var versions = map[Kind]int{
	StepDone: 1, Measurement: 1, Torque: 1, Photo: 1, Serial: 1, Note: 1,
	HoldDecision: 1, AsBuilt: 1, CTProof: 1, Signature: 1, Correction: 1,
}

// Kinds lists all kinds in alphabetical order.
func Kinds() []Kind {
	out := make([]Kind, 0, len(versions))
	for k := range versions {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// MaxEvent is the most bytes that one event may have; a CT proof with all its
// readings stays far below.
const MaxEvent = 1 << 20

// maxSeq is the largest whole number that JSON carries exactly (RFC 7493,
// section 2.2).
const maxSeq = 1<<53 - 1

// Event is one thing that was seen or done on site, as a device sends it.
type Event struct {
	ID     ID     // made on the device; sending an event twice changes nothing
	Job    ID     // the job it belongs to
	Device ID     // the device that made it
	Seq    int64  // counts the device's events, from 1
	HLC    HLC    // when, in an order that no clock setting can turn round
	Kind   Kind   // what it tells
	V      int    // version of the body's form, from 1
	Body   []byte // a JSON object; canonical when Decode gave it
}

// Decode reads one event. Every member must be there, none may be unknown, and
// the body must be an object; all faults come at once as where.Errors. file
// names the source in errors ("events.jsonl", "upload").
func Decode(src []byte, file string) (Event, error) {
	if len(src) > MaxEvent {
		return Event{}, where.Errors{{File: file, Came: strconv.Itoa(len(src)) + " bytes",
			Expected: "an event of at most " + strconv.Itoa(MaxEvent) + " bytes",
			Try:      "send pictures as photos, not inside an event"}}
	}
	v, err := parseJSON(src, file)
	if err != nil {
		if e, ok := err.(where.Error); ok {
			return Event{}, where.Errors{e}
		}
		return Event{}, err
	}
	d := decoder{object: v}
	if v.kind != '{' {
		d.add(v, "", v.describe(), "an object")
		return Event{}, d.errs
	}
	e := Event{
		ID: textMember(&d, "id", ParseID), Job: textMember(&d, "job", ParseID),
		Device: textMember(&d, "device", ParseID), HLC: textMember(&d, "hlc", ParseHLC),
		Kind: textMember(&d, "kind", parseKind),
		Seq:  d.whole("seq", maxSeq), V: int(d.whole("v", 1<<30)),
	}
	if newest := versions[e.Kind]; newest > 0 && e.V > newest {
		version, _ := v.get("v")
		d.add(version, "v", "version "+strconv.Itoa(e.V)+" of "+string(e.Kind),
			"version "+strconv.Itoa(newest)+" at most; update this program to read it")
	}
	if body, ok := d.take("body"); ok {
		if body.kind != '{' {
			d.add(body, "body", body.describe(), "an object")
		}
		e.Body = body.canonical(nil)
	}
	for _, m := range v.members {
		if !slices.Contains(envelope, m.name) {
			d.add(m.value, m.name, "unknown member "+quote(m.name), "only "+strings.Join(envelope, ", "))
		}
	}
	if len(d.errs) > 0 {
		slices.SortStableFunc(d.errs, func(a, b where.Error) int {
			return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
		})
		return Event{}, d.errs
	}
	return e, nil
}

// envelope names the members of an event in canonical order.
var envelope = []string{"body", "device", "hlc", "id", "job", "kind", "seq", "v"}

// Canonical is the event in RFC 8785 form, which is what Hash covers and what
// stores keep. It fails only when the body is not JSON.
func (e Event) Canonical() ([]byte, error) {
	body, err := Canonical(e.Body, "body of event "+string(e.ID))
	if err != nil {
		return nil, err
	}
	text := func(s string) value { return value{kind: '"', text: s} }
	b := append([]byte(`{"body":`), body...)
	for _, m := range []member{
		{"device", text(string(e.Device))}, {"hlc", text(e.HLC.String())},
		{"id", text(string(e.ID))}, {"job", text(string(e.Job))}, {"kind", text(string(e.Kind))},
		{"seq", value{kind: '0', num: float64(e.Seq)}}, {"v", value{kind: '0', num: float64(e.V)}},
	} {
		b = append(append(append(b, ',', '"'), m.name...), '"', ':')
		b = m.canonical(b)
	}
	return append(b, '}'), nil
}

// MarshalJSON writes the canonical form.
func (e Event) MarshalJSON() ([]byte, error) { return e.Canonical() }

// Hash is the SHA-256 of the canonical form in lower case hexadecimal. Two
// events with one id and different hashes are different stories of one thing.
func (e Event) Hash() (string, error) {
	b, err := e.Canonical()
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:]), nil
}

// Compare orders events as the fold takes them: by clock, device, count. The id
// settles what a device that counts wrongly leaves open, so that the order
// never depends on the order of arrival.
func Compare(a, b Event) int {
	return cmp.Or(a.HLC.Compare(b.HLC), cmp.Compare(a.Device, b.Device),
		cmp.Compare(a.Seq, b.Seq), cmp.Compare(a.ID, b.ID))
}

func parseKind(s string) (Kind, error) {
	if _, ok := versions[Kind(s)]; !ok {
		var all []string
		for _, k := range Kinds() {
			all = append(all, string(k))
		}
		return "", where.Error{Came: quote(s), Expected: "one of " + strings.Join(all, ", ")}
	}
	return Kind(s), nil
}

// decoder gathers every fault of one object.
type decoder struct {
	object value
	errs   where.Errors
}

func (d *decoder) add(v value, path, came, expected string) {
	d.errs = append(d.errs, where.Error{Path: path, Came: came, Expected: expected}.At(v.at))
}

func (d *decoder) take(name string) (value, bool) {
	v, ok := d.object.get(name)
	if !ok {
		d.add(d.object, name, "nothing", "the member "+quote(name))
	}
	return v, ok
}

// whole reads a whole number from 1 to most.
func (d *decoder) whole(name string, most float64) int64 {
	v, ok := d.take(name)
	if !ok {
		return 0
	}
	n := int64(v.num)
	if v.kind != '0' || v.num < 1 || v.num > most || float64(n) != v.num {
		d.add(v, name, v.describe(), "a whole number from 1 to "+strconv.FormatFloat(most, 'f', 0, 64))
		return 0
	}
	return n
}

// textMember reads a text member through its parser.
func textMember[T any](d *decoder, name string, parse func(string) (T, error)) (out T) {
	v, ok := d.take(name)
	if !ok {
		return out
	}
	if v.kind != '"' {
		d.add(v, name, v.describe(), "text in quotes")
		return out
	}
	out, err := parse(v.text)
	if e, ok := err.(where.Error); ok {
		d.add(v, name, e.Came, e.Expected)
	}
	return out
}

// describe says what kind of value came, and which when it is short.
func (v value) describe() string {
	switch v.kind {
	case '{':
		return "an object"
	case '[':
		return "an array"
	}
	return "the value " + string(v.canonical(nil))
}
