package field

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// RFC 8785, section 3.2.2: the sample, and section 3.2.4: its bytes.
func TestCanonicalSampleOfTheRFC(t *testing.T) {
	const in = `{
  "numbers": [333333333.33333329, 1E30, 4.50,
              2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}`
	const want = `
7b 22 6c 69 74 65 72 61 6c 73 22 3a 5b 6e 75 6c 6c 2c 74 72
75 65 2c 66 61 6c 73 65 5d 2c 22 6e 75 6d 62 65 72 73 22 3a
5b 33 33 33 33 33 33 33 33 33 2e 33 33 33 33 33 33 33 2c 31
65 2b 33 30 2c 34 2e 35 2c 30 2e 30 30 32 2c 31 65 2d 32 37
5d 2c 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30
30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d`
	got, err := Canonical([]byte(in), "sample")
	if err != nil {
		t.Fatal(err)
	}
	wantBytes, err := hex.DecodeString(strings.Join(strings.Fields(want), ""))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, wantBytes) {
		t.Errorf("got  %s\nwant %s", got, wantBytes)
	}
}

// RFC 8785, section 3.2.3: the emoji sorts before U+FB33 by UTF-16 units,
// although its code point is higher.
func TestCanonicalSortingOfTheRFC(t *testing.T) {
	const in = `{
  "\u20ac": "Euro Sign",
  "\r": "Carriage Return",
  "\ufb33": "Hebrew Letter Dalet With Dagesh",
  "1": "One",
  "\ud83d\ude00": "Emoji: Grinning Face",
  "\u0080": "Control",
  "\u00f6": "Latin Small Letter O With Diaeresis"
}`
	const want = `{"\r":"Carriage Return","1":"One",` + "\"\u0080\"" + `:"Control",` +
		"\"\u00f6\"" + `:"Latin Small Letter O With Diaeresis",` + "\"\u20ac\"" + `:"Euro Sign",` +
		"\"\U0001F600\"" + `:"Emoji: Grinning Face",` + "\"\uFB33\"" + `:"Hebrew Letter Dalet With Dagesh"}`
	got, err := Canonical([]byte(in), "sample")
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// RFC 8785, appendix B: every finite row of the table.
func TestCanonicalNumbersOfTheRFC(t *testing.T) {
	for _, row := range []struct {
		bits uint64
		want string
	}{
		{0x0000000000000000, "0"},
		{0x8000000000000000, "0"},
		{0x0000000000000001, "5e-324"},
		{0x8000000000000001, "-5e-324"},
		{0x7fefffffffffffff, "1.7976931348623157e+308"},
		{0xffefffffffffffff, "-1.7976931348623157e+308"},
		{0x4340000000000000, "9007199254740992"},
		{0xc340000000000000, "-9007199254740992"},
		{0x4430000000000000, "295147905179352830000"},
		{0x44b52d02c7e14af5, "9.999999999999997e+22"},
		{0x44b52d02c7e14af6, "1e+23"},
		{0x44b52d02c7e14af7, "1.0000000000000001e+23"},
		{0x444b1ae4d6e2ef4e, "999999999999999700000"},
		{0x444b1ae4d6e2ef4f, "999999999999999900000"},
		{0x444b1ae4d6e2ef50, "1e+21"},
		{0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
		{0x3eb0c6f7a0b5ed8d, "0.000001"},
		{0x41b3de4355555553, "333333333.3333332"},
		{0x41b3de4355555554, "333333333.33333325"},
		{0x41b3de4355555555, "333333333.3333333"},
		{0x41b3de4355555556, "333333333.3333334"},
		{0x41b3de4355555557, "333333333.33333343"},
		{0xbecbf647612f3696, "-0.0000033333333333333333"},
		{0x43143ff3c1cb0959, "1424953923781206.2"},
	} {
		if got := string(canonicalNumber(nil, math.Float64frombits(row.bits))); got != row.want {
			t.Errorf("%016x: got %s, want %s", row.bits, got, row.want)
		}
	}
}

// RFC 8785 section 3.1 asks for I-JSON; RFC 8259 gives the grammar.
func TestCanonicalRefuses(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"nothing", ``, `f:1:1: the text ends; expected a JSON value`},
		{"two values", `{} {}`, `f:1:4: "{}"; expected nothing after the value`},
		{"one name twice", "{\"a\": 1,\n \"\\u0061\": 2}", `f:2:2: "a" a second time; expected each name once`},
		{"half a surrogate pair", `["\ud83d"]`, `f:1:3: half of a surrogate pair; expected both halves`},
		{"low half first", `["\ude00\ud83d"]`, `f:1:3: half of a surrogate pair; expected both halves`},
		{"not UTF-8", "[\n\"Ω\xff\"]", `f:2:3: bytes that are no UTF-8; expected text in UTF-8`},
		{"number too big", `[1e400]`, `f:1:2: "1e400"; expected a number of at most 1.7976931348623157e308`},
		{"leading zero", `[012]`, `f:1:3: "12]"; expected a comma or the end of the array`},
		{"leading plus", `[+1]`, `f:1:2: "+1]"; expected a JSON value`},
		{"bare point", `[1.]`, `f:1:4: "]"; expected a digit after the point`},
		{"bare exponent", `[1e]`, `f:1:4: "]"; expected a digit in the exponent`},
		{"not a number", `[NaN]`, `f:1:2: "NaN]"; expected a JSON value`},
		{"bare tab in text", "[\"a\tb\"]", `f:1:4: a bare control character in text; expected an escape such as \n`},
		{"unknown escape", `["\x41"]`, `f:1:3: "\\x41\"]"; expected an escape of JSON`},
		{"open text", `["a`, `f:1:4: the text ends; expected a closing quote`},
		{"open array", `[1`, `f:1:3: the text ends; expected a comma or the end of the array`},
		{"trailing comma", `{"a":1,}`, `f:1:8: "}"; expected a name in quotes`},
		{"no colon", `{"a" 1}`, `f:1:6: "1}"; expected a colon`},
		{"bottomless", strings.Repeat("[", 100), `f:1:34: more than 32 levels; expected fewer levels`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Canonical([]byte(c.in), "f")
			if err == nil {
				t.Fatalf("got %s, want an error", got)
			}
			if err.Error() != c.want {
				t.Errorf("got  %s\nwant %s", err, c.want)
			}
		})
	}
}

// anyJSON draws nested values as the standard encoder writes them.
func anyJSON(depth int) *rapid.Generator[any] {
	plain := rapid.OneOf(
		rapid.Map(rapid.String(), func(s string) any { return s }),
		rapid.Map(rapid.Float64Range(-1e300, 1e300), func(f float64) any { return f + 0 }), // minus zero loses its sign by rule
		rapid.Map(rapid.Bool(), func(b bool) any { return b }),
		rapid.Just[any](nil),
	)
	if depth == 0 {
		return plain
	}
	return rapid.OneOf(plain,
		rapid.Map(rapid.SliceOfN(anyJSON(depth-1), 0, 4), func(s []any) any { return s }),
		rapid.Map(rapid.MapOfN(rapid.String(), anyJSON(depth-1), 0, 4), func(m map[string]any) any { return m }),
	)
}

func TestCanonicalKeepsTheMeaning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyJSON(3).Draw(t, "value")
		plain, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		spaced, err := json.MarshalIndent(v, " ", "\t")
		if err != nil {
			t.Fatal(err)
		}
		a, errA := Canonical(plain, "plain")
		b, errB := Canonical(spaced, "spaced")
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Fatalf("%s, %v\n%s, %v", a, errA, b, errB)
		}
		var back, meant any // the standard decoder is the judge
		if err := json.Unmarshal(a, &back); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(plain, &meant); err != nil {
			t.Fatal(err)
		}
		again, err := json.Marshal(back)
		if err != nil {
			t.Fatal(err)
		}
		first, err := json.Marshal(meant)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(again, first) {
			t.Fatalf("%s became %s", first, again)
		}
	})
}

// FuzzCanonical holds that whatever we accept the standard decoder accepts, and
// that the form is a fixed point.
func FuzzCanonical(f *testing.F) {
	for _, s := range []string{`{"b":[1e21,-0,"\ud83d\ude00"],"a":null}`, `[1.0e-7, "\u001f", {}]`, "\"\xff\"", `[012]`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		once, err := Canonical(in, "in")
		if err != nil {
			return
		}
		if !json.Valid(in) {
			t.Fatalf("took %q, which is no JSON", in)
		}
		twice, err := Canonical(once, "once")
		if err != nil || !bytes.Equal(once, twice) {
			t.Fatalf("%q became %q, %v", once, twice, err)
		}
	})
}
