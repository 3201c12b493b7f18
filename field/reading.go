package field

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"legwork/quantity"
	"legwork/where"
)

// object reads the members of one JSON object strictly: every fault is
// gathered with its place and path, and finish tells of unknown members.
type object struct {
	value value
	path  string
	known []string
	errs  *where.Errors
}

func (o object) at(name string) string {
	if o.path == "" {
		return name
	}
	return o.path + "." + name
}

func (o object) fault(v value, name, came, expected string) {
	*o.errs = append(*o.errs, where.Error{Path: o.at(name), Came: came, Expected: expected}.At(v.at))
}

// member finds a member; one that must be there and is not is a fault.
func (o *object) member(name string, must bool) (value, bool) {
	o.known = append(o.known, name)
	v, ok := o.value.get(name)
	if !ok && must {
		o.fault(o.value, name, "nothing", "the member "+quote(name))
	}
	return v, ok
}

// maxText is how many bytes a text of a body may have.
const maxText = 10000

// text reads a text that says something.
func (o *object) text(name string) string { return o.words(name, true) }

// option reads a text that may be left out.
func (o *object) option(name string) string { return o.words(name, false) }

func (o *object) words(name string, must bool) string {
	v, ok := o.member(name, must)
	switch {
	case !ok:
		return ""
	case v.kind != '"':
		o.fault(v, name, v.describe(), "text in quotes")
	case strings.TrimSpace(v.text) == "":
		o.fault(v, name, "empty text", "some words, or no such member")
	case len(v.text) > maxText:
		o.fault(v, name, strconv.Itoa(len(v.text))+" bytes", "at most "+strconv.Itoa(maxText)+" bytes")
	default:
		return v.text
	}
	return ""
}

// shaped reads a text of one form.
func (o *object) shaped(name string, form *regexp.Regexp, expected string) string {
	s := o.text(name)
	if s != "" && !form.MatchString(s) {
		v, _ := o.value.get(name)
		o.fault(v, name, quote(s), expected)
		return ""
	}
	return s
}

// date reads a calendar day, "2026-05-04".
func (o *object) date(name string) string {
	s := o.text(name)
	if s == "" {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		v, _ := o.value.get(name)
		o.fault(v, name, quote(s), "a day such as 2026-05-04")
		return ""
	}
	return s
}

// flag reads true or false; left out it is false.
func (o *object) flag(name string) bool {
	v, ok := o.member(name, false)
	if ok && v.kind != 't' && v.kind != 'f' {
		o.fault(v, name, v.describe(), "true or false")
	}
	return ok && v.kind == 't'
}

// inner reads an object.
func (o *object) inner(name string, must bool) (object, bool) {
	v, ok := o.member(name, must)
	if !ok {
		return object{}, false
	}
	if v.kind != '{' {
		o.fault(v, name, v.describe(), "an object")
		return object{}, false
	}
	return object{value: v, path: o.at(name), errs: o.errs}, true
}

// finish tells of members that nobody asked for.
func (o *object) finish() {
	for _, m := range o.value.members {
		known := false
		for _, k := range o.known {
			known = known || k == m.name
		}
		if !known {
			o.fault(m.value, m.name, "unknown member "+quote(m.name), "only "+strings.Join(o.known, ", "))
		}
	}
}

// units are the units that a reading may come in.
var units = []quantity.Unit{"", "%", "A", "V", "VA", "W", "in-lb", "s", "°C", "Ω"}

// reading reads {"value": 24.32, "unit": "A", "over": true}; over may be left
// out.
func (o *object) reading(name string) Reading {
	in, ok := o.inner(name, true)
	if !ok {
		return Reading{}
	}
	var r Reading
	if v, ok := in.member("value", true); ok {
		if v.kind != '0' {
			in.fault(v, "value", v.describe(), "a number; for OL the end of the range, and over true")
		}
		r.Value = v.num
	}
	if v, ok := in.member("unit", true); ok {
		found := false
		var names []string
		for _, u := range units {
			found = found || v.kind == '"' && v.text == string(u)
			names = append(names, strconv.Quote(string(u)))
		}
		if !found {
			in.fault(v, "unit", v.describe(), "one of "+strings.Join(names, ", "))
		}
		r.Unit = quantity.Unit(v.text)
	}
	r.Over = in.flag("over")
	in.finish()
	return r
}

// Instrument is what a value was read from, with the day of its calibration.
type Instrument struct {
	Name       string
	Calibrated string // day, "2026-01-10"
}

func (o *object) instrument(name string) Instrument {
	in, ok := o.inner(name, true)
	if !ok {
		return Instrument{}
	}
	i := Instrument{Name: in.text("name"), Calibrated: in.date("calibrated")}
	in.finish()
	return i
}
