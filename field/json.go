package field

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"legwork/where"
)

// maxDepth is how deep arrays and objects of an event may nest.
const maxDepth = 32

// value is one JSON value with its place. The standard decoder would quietly
// keep the last of two equal names, mend broken text and forget places; what a
// phone sends is hashed and kept, so nothing of that may pass.
type value struct {
	at      where.Pos
	kind    byte // '{', '[', '"', '0', or 't', 'f', 'n' for the three words
	text    string
	num     float64
	members []member // of an object, in the order of the source
	items   []value  // of an array
}

type member struct {
	name string
	value
}

// get is the member of that name.
func (v value) get(name string) (value, bool) {
	for _, m := range v.members {
		if m.name == name {
			return m.value, true
		}
	}
	return value{}, false
}

// scanner reads one I-JSON text (RFC 7493): UTF-8, unique names, no lone
// surrogates, numbers that a double can hold.
type scanner struct {
	src       string
	i         int
	file      string
	line      int
	lineStart int // offset of the first byte of the line
}

// parseJSON reads a whole text; anything after the value is an error.
func parseJSON(src []byte, file string) (value, error) {
	s := &scanner{src: string(src), file: file, line: 1}
	if !utf8.ValidString(s.src) {
		for _, r := range s.src { // range yields width 1 for broken bytes
			if r == utf8.RuneError && !strings.HasPrefix(s.src[s.i:], "\uFFFD") {
				break
			}
			s.step(r)
		}
		return value{}, s.fault("bytes that are no UTF-8", "text in UTF-8")
	}
	v, err := s.value(0)
	if err != nil {
		return value{}, err
	}
	s.space()
	if s.i < len(s.src) {
		return value{}, s.fault(s.here(), "nothing after the value")
	}
	return v, nil
}

func (s *scanner) step(r rune) {
	s.i += utf8.RuneLen(r)
	if r == '\n' {
		s.line++
		s.lineStart = s.i
	}
}

func (s *scanner) pos() where.Pos {
	return where.Pos{File: s.file, Line: s.line, Col: utf8.RuneCountInString(s.src[s.lineStart:s.i]) + 1}
}

func (s *scanner) fault(came, expected string) error {
	return where.Error{Came: came, Expected: expected}.At(s.pos())
}

// here names the next few characters, for messages.
func (s *scanner) here() string {
	if s.i >= len(s.src) {
		return "the text ends"
	}
	return quote(s.src[s.i:])
}

// quote shows what came, cut to a length that a message can carry.
func quote(s string) string {
	const most = 40
	if r := []rune(s[:min(len(s), 4*most)]); len(r) > most || len(s) > 4*most {
		s = string(r[:min(len(r), most)]) + "…"
	}
	return strconv.Quote(s)
}

func (s *scanner) space() {
	for s.i < len(s.src) && strings.IndexByte(" \t\r\n", s.src[s.i]) >= 0 {
		s.step(rune(s.src[s.i]))
	}
}

func (s *scanner) take(c byte) bool {
	if s.i < len(s.src) && s.src[s.i] == c {
		s.i++
		return true
	}
	return false
}

func (s *scanner) value(depth int) (value, error) {
	s.space()
	v := value{at: s.pos()}
	if depth > maxDepth {
		return v, s.fault("more than "+strconv.Itoa(maxDepth)+" levels", "fewer levels")
	}
	rest := s.src[s.i:]
	for _, word := range []string{"true", "false", "null"} {
		if strings.HasPrefix(rest, word) {
			s.i += len(word)
			v.kind, v.text = word[0], word
			return v, nil
		}
	}
	var err error
	switch {
	case strings.HasPrefix(rest, "{"):
		v.kind = '{'
		err = s.object(&v, depth)
	case strings.HasPrefix(rest, "["):
		v.kind = '['
		err = s.array(&v, depth)
	case strings.HasPrefix(rest, `"`):
		v.kind = '"'
		v.text, err = s.string()
	default:
		v.kind = '0'
		v.num, err = s.number()
	}
	return v, err
}

func (s *scanner) object(v *value, depth int) error {
	s.i++
	s.space()
	if s.take('}') {
		return nil
	}
	seen := map[string]bool{}
	for {
		s.space()
		if s.i >= len(s.src) || s.src[s.i] != '"' {
			return s.fault(s.here(), "a name in quotes")
		}
		at := s.pos()
		name, err := s.string()
		if err != nil {
			return err
		}
		if seen[name] {
			return where.Error{Came: quote(name) + " a second time", Expected: "each name once"}.At(at)
		}
		seen[name] = true
		s.space()
		if !s.take(':') {
			return s.fault(s.here(), "a colon")
		}
		kid, err := s.value(depth + 1)
		if err != nil {
			return err
		}
		v.members = append(v.members, member{name, kid})
		s.space()
		switch {
		case s.take(','):
		case s.take('}'):
			return nil
		default:
			return s.fault(s.here(), "a comma or the end of the object")
		}
	}
}

func (s *scanner) array(v *value, depth int) error {
	s.i++
	s.space()
	if s.take(']') {
		return nil
	}
	for {
		kid, err := s.value(depth + 1)
		if err != nil {
			return err
		}
		v.items = append(v.items, kid)
		s.space()
		switch {
		case s.take(','):
		case s.take(']'):
			return nil
		default:
			return s.fault(s.here(), "a comma or the end of the array")
		}
	}
}

func (s *scanner) string() (string, error) {
	s.i++
	var b strings.Builder
	for s.i < len(s.src) {
		switch c := s.src[s.i]; {
		case c == '"':
			s.i++
			return b.String(), nil
		case c < 0x20:
			return "", s.fault("a bare control character in text", "an escape such as \\n")
		case c != '\\':
			b.WriteByte(c)
			s.i++
		default:
			r, err := s.escape()
			if err != nil {
				return "", err
			}
			b.WriteRune(r)
		}
	}
	return "", s.fault("the text ends", "a closing quote")
}

func (s *scanner) escape() (rune, error) {
	rest := s.src[s.i:]
	if len(rest) >= 2 {
		if k := strings.IndexByte(`"\/bfnrt`, rest[1]); k >= 0 {
			s.i += 2
			return rune("\"\\/\b\f\n\r\t"[k]), nil
		}
	}
	r, ok := hex4(rest)
	if !ok {
		return 0, s.fault(s.here(), "an escape of JSON")
	}
	if !utf16.IsSurrogate(r) {
		s.i += 6
		return r, nil
	}
	low, _ := hex4(rest[6:])
	pair := utf16.DecodeRune(r, low)
	if pair == utf8.RuneError {
		return 0, s.fault("half of a surrogate pair", "both halves")
	}
	s.i += 12
	return pair, nil
}

// hex4 reads an escape of four hexadecimal digits at the start of s.
func hex4(s string) (rune, bool) {
	if len(s) < 6 || s[:2] != `\u` {
		return 0, false
	}
	n, err := strconv.ParseUint(s[2:6], 16, 16)
	return rune(n), err == nil
}

// number takes the grammar of RFC 8259 section 6: no leading zero, no plus, a
// digit on each side of the point.
func (s *scanner) number() (float64, error) {
	start := s.i
	s.take('-')
	switch {
	case s.take('0'):
	case s.digits() == 0:
		s.i = start
		return 0, s.fault(s.here(), "a JSON value")
	}
	if s.take('.') && s.digits() == 0 {
		return 0, s.fault(s.here(), "a digit after the point")
	}
	if s.take('e') || s.take('E') {
		if !s.take('+') {
			s.take('-')
		}
		if s.digits() == 0 {
			return 0, s.fault(s.here(), "a digit in the exponent")
		}
	}
	f, err := strconv.ParseFloat(s.src[start:s.i], 64)
	if err != nil || math.IsInf(f, 0) {
		came := quote(s.src[start:s.i])
		s.i = start
		return 0, s.fault(came, "a number of at most 1.7976931348623157e308")
	}
	return f, nil
}

func (s *scanner) digits() int {
	start := s.i
	for s.i < len(s.src) && s.src[s.i] >= '0' && s.src[s.i] <= '9' {
		s.i++
	}
	return s.i - start
}
