package field

import (
	"cmp"
	"regexp"
	"slices"

	"legwork/where"
)

// Body is what an event tells; each Kind has its own type.
type Body interface{ kind() Kind }

// StepDoneBody says that a step was carried out.
type StepDoneBody struct{ Step, By, Note string }

// MeasurementBody is a reading of a step: Reading is the id of its Expect.
type MeasurementBody struct {
	Step, Reading string
	Value         Reading
	Instrument    Instrument
	By            string
}

// TorqueBody is the torque of one terminal at the moment of tightening: Terminal
// is the id of the step's Expect.
type TorqueBody struct {
	Step, Terminal string
	Value          Reading
	Tool           Instrument
	By             string
}

// PhotoBody is a picture, kept as a blob by the SHA-256 of its bytes.
type PhotoBody struct{ Blob, Step, Place, Shows, By string }

// SerialBody is a serial number at a position, kept to the letter.
type SerialBody struct{ Position, Serial, Model, By string }

// NoteBody is words, about a step or place where one is named.
type NoteBody struct{ Text, Step, Place, By string }

// Decision is what was decided at a hold point.
type Decision string

// The decisions. A pass with reason carries words and a name.
const (
	Pass           Decision = "pass"
	PassWithReason Decision = "pass-with-reason"
	HoldOn         Decision = "hold"
)

// HoldBody is a decision at a hold point.
type HoldBody struct {
	Step     string
	Decision Decision
	Reason   string
	By       string
}

// AsBuiltBody says how what was built differs from the plan. Path is where the
// document says it: "runs.home.length".
type AsBuiltBody struct{ Path, Planned, Built, Reason, By string }

// CTProofBody is a CT proof, whole: the readings and what was concluded, each as
// canonical JSON.
type CTProofBody struct {
	Evidence, Posterior []byte
	By                  string
}

// SignatureBody says who stands for what.
type SignatureBody struct{ Name, Role, Statement string }

// CorrectionBody replaces what another event told, or withdraws it. The target
// stays in the record. Of is the kind of the event that is corrected in the end.
type CorrectionBody struct {
	Target   ID
	Of       Kind
	Withdraw bool
	Body     []byte // canonical; empty when Withdraw
	Replaced Body   // Body, read
	Because  string
	By       string
}

func (StepDoneBody) kind() Kind    { return StepDone }
func (MeasurementBody) kind() Kind { return Measurement }
func (TorqueBody) kind() Kind      { return Torque }
func (PhotoBody) kind() Kind       { return Photo }
func (SerialBody) kind() Kind      { return Serial }
func (NoteBody) kind() Kind        { return Note }
func (HoldBody) kind() Kind        { return HoldDecision }
func (AsBuiltBody) kind() Kind     { return AsBuilt }
func (CTProofBody) kind() Kind     { return CTProof }
func (SignatureBody) kind() Kind   { return Signature }
func (CorrectionBody) kind() Kind  { return Correction }

// DecodeBody reads the body of an event of a kind, version 1. No member may be
// missing or unknown; all faults come at once as where.Errors, in the order of
// the source. file names the source in errors.
func DecodeBody(k Kind, src []byte, file string) (Body, error) {
	v, err := parseJSON(src, file)
	if err != nil {
		return nil, err
	}
	var errs where.Errors
	b := bodyOf(k, v, "", &errs)
	if len(errs) > 0 {
		slices.SortStableFunc(errs, func(a, b where.Error) int {
			return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
		})
		return nil, errs
	}
	return b, nil
}

var (
	hashForm   = regexp.MustCompile(`^[0-9a-f]{64}$`)
	nameForm   = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_:/+., -]{0,119}$`)
	serialForm = regexp.MustCompile(`^[!-~]{1,64}$`)
)

const (
	nameExpected   = "an id of the procedure or the plan: letters, digits, and _ : / + . , - inside"
	serialExpected = "the serial as printed, 1 to 64 characters without spaces"
)

func bodyOf(k Kind, v value, path string, errs *where.Errors) Body {
	o := object{value: v, path: path, errs: errs}
	if v.kind != '{' {
		*errs = append(*errs, where.Error{Path: path, Came: v.describe(), Expected: "an object"}.At(v.at))
		return nil
	}
	defer o.finish()
	id := func(name string) string { return o.shaped(name, nameForm, nameExpected) }
	switch k {
	case StepDone:
		return StepDoneBody{id("step"), o.text("by"), o.option("note")}
	case Measurement:
		return MeasurementBody{id("step"), id("reading"), o.reading("value"), o.instrument("instrument"), o.text("by")}
	case Torque:
		b := TorqueBody{id("step"), id("terminal"), o.reading("value"), o.instrument("tool"), o.text("by")}
		if b.Value.Unit != "in-lb" || b.Value.Value <= 0 || b.Value.Over {
			o.fault(v, "value", figureOf(b.Value), "a torque above zero in in-lb")
		}
		return b
	case Photo:
		return PhotoBody{o.shaped("blob", hashForm, "the SHA-256 of the picture in 64 lower-case hexadecimal digits"),
			id("step"), id("place"), o.option("shows"), o.text("by")}
	case Serial:
		return SerialBody{id("position"), o.shaped("serial", serialForm, serialExpected), o.option("model"), o.text("by")}
	case Note:
		return NoteBody{o.text("text"), o.option("step"), o.option("place"), o.text("by")}
	case HoldDecision:
		b := HoldBody{id("step"), Decision(o.text("decision")), o.option("reason"), o.text("by")}
		switch {
		case b.Decision != Pass && b.Decision != PassWithReason && b.Decision != HoldOn && b.Decision != "":
			o.fault(v, "decision", quote(string(b.Decision)), "pass, pass-with-reason or hold")
		case b.Decision == PassWithReason && b.Reason == "":
			o.fault(v, "reason", "nothing", "a written reason")
		}
		return b
	case AsBuilt:
		return AsBuiltBody{o.text("path"), o.text("planned"), o.text("built"), o.option("reason"), o.text("by")}
	case CTProof:
		return CTProofBody{o.whole("evidence"), o.whole("posterior"), o.text("by")}
	case Signature:
		return SignatureBody{o.text("name"), o.text("role"), o.text("statement")}
	case Correction:
		return o.correction()
	}
	*errs = append(*errs, where.Error{Path: path, Came: quote(string(k)), Expected: "a kind of event"}.At(v.at))
	return nil
}

// whole reads an array or object and keeps it as it is.
func (o *object) whole(name string) []byte {
	v, ok := o.member(name, true)
	if !ok {
		return nil
	}
	if v.kind != '{' && v.kind != '[' || len(v.members)+len(v.items) == 0 {
		o.fault(v, name, v.describe(), "an object or array with something in it")
		return nil
	}
	return v.canonical(nil)
}

func (o *object) correction() Body {
	b := CorrectionBody{Because: o.text("because"), By: o.text("by"), Withdraw: o.flag("withdraw")}
	if s := o.text("target"); s != "" {
		id, err := ParseID(s)
		if e, ok := err.(where.Error); ok {
			v, _ := o.value.get("target")
			o.fault(v, "target", e.Came, e.Expected)
		}
		b.Target = id
	}
	if s := o.text("of"); s != "" {
		k, err := parseKind(s)
		v, _ := o.value.get("of")
		if e, ok := err.(where.Error); ok {
			o.fault(v, "of", e.Came, e.Expected)
		} else if k == Correction {
			o.fault(v, "of", quote(s), "the kind of the event that is corrected in the end")
		}
		b.Of = k
	}
	v, ok := o.member("body", false)
	switch {
	case ok && b.Withdraw:
		o.fault(v, "body", "a body", "none beside withdraw")
	case !ok && !b.Withdraw:
		o.fault(o.value, "body", "nothing", "the body that replaces, or withdraw true")
	case ok && b.Of != "" && b.Of != Correction:
		b.Replaced = bodyOf(b.Of, v, o.at("body"), o.errs)
		b.Body = v.canonical(nil)
	}
	return b
}

func figureOf(r Reading) string { return figure(term(r.Value, r.Unit)) }
