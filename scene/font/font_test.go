package font

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"os"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"pgregory.net/rapid"
)

func TestBytesAreTheOnesPublished(t *testing.T) {
	sums, err := os.ReadFile("plex/SHA256SUMS")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(sums)), "\n")
	if len(lines) != 2*len(Faces)+1 {
		t.Fatalf("%d sums, want one for each of %d files", len(lines), 2*len(Faces)+1)
	}
	for _, line := range lines {
		want, name, _ := strings.Cut(line, "  ")
		got := sha256.Sum256(read(name))
		if hex.EncodeToString(got[:]) != want {
			t.Errorf("%s is not the published file", name)
		}
	}
	if !strings.Contains(License(), "SIL Open Font License, Version 1.1") {
		t.Error("license text is missing")
	}
}

// Each table's checksum is in the font itself: an unpacked table that was
// changed would not match. Source: OpenType, "Calculating checksums".
func TestUnpackedTablesMatchTheirChecksums(t *testing.T) {
	for _, f := range Faces {
		ttf := f.TTF()
		n := int(binary.BigEndian.Uint16(ttf[4:]))
		if n < 10 {
			t.Fatalf("%s: %d tables", f, n)
		}
		for i := range n {
			e := ttf[12+16*i:]
			tag, want := string(e[:4]), binary.BigEndian.Uint32(e[4:])
			at, size := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
			table := bytes.Clone(ttf[at : at+(size+3)/4*4])
			if tag == "head" {
				copy(table[8:12], []byte{0, 0, 0, 0}) // checkSumAdjustment counts as 0
			}
			var sum uint32
			for j := 0; j < len(table); j += 4 {
				sum += binary.BigEndian.Uint32(table[j:])
			}
			if sum != want {
				t.Errorf("%s: table %s sums to %08x, want %08x", f, tag, sum, want)
			}
		}
	}
}

// The PDF library reads the same bytes with code of its own.
func TestWidthAgreesWithThePDFLibrary(t *testing.T) {
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.AddPage()
	for _, f := range Faces {
		pdf.AddUTF8FontFromBytes(f.String(), "", f.TTF())
		pdf.SetFont(f.String(), "", 10)
		for _, s := range []string{"", "A", "15.03 A ≤ 24.3 A", "iIl1O0", "¾ EMT, 52 °C, 10 µs ±2 √3 →", "señal"} {
			size := 2.6
			pdf.SetFontUnitSize(f.Em(size))
			if got, want := f.Width(s, size), pdf.GetStringWidth(s); math.Abs(got-want) > 1e-6 {
				t.Errorf("%s %q runs %.4f mm, PDF library says %.4f mm", f, s, got, want)
			}
		}
	}
}

func TestCapitalsAreAsHighAsAsked(t *testing.T) {
	for _, f := range Faces {
		above, below := f.Reach("H", 3)
		if math.Abs(above-3) > 1e-9 || math.Abs(below) > 1e-9 {
			t.Errorf("%s: H reaches %.3f mm up and %.3f mm down, want 3 and 0", f, above, below)
		}
		if _, below := f.Reach("g", 3); below < 0.5 {
			t.Errorf("%s: g hangs only %.3f mm", f, below)
		}
	}
}

func TestTradeSignsArePresent(t *testing.T) {
	for _, f := range []Face{Regular, Bold} {
		for _, r := range "ΩØ±°≤≥→←√×µ²½¼¾Δθ≈−–·…′″áéíñóúü¿¡" + string(Absent) {
			if _, lost := f.Clean(string(r)); lost != nil {
				t.Errorf("%s lacks %q", f, r)
			}
		}
	}
	for _, r := range "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-./:" + string(Absent) {
		if _, lost := Mono.Clean(string(r)); lost != nil {
			t.Errorf("mono lacks %q", r)
		}
	}
}

func TestDigitsAreOfOneWidth(t *testing.T) {
	for _, f := range Faces {
		for _, d := range "123456789" {
			if f.Width(string(d), 1) != f.Width("0", 1) {
				t.Errorf("%s: %q is not as wide as 0", f, d)
			}
		}
	}
}

// Letters and digits that serial numbers confuse must be different outlines.
func TestMonoKeepsLookalikesApart(t *testing.T) {
	outline := func(t *testing.T, r rune) []byte {
		t.Helper()
		o := loads[Mono]().metrics.glyphs[r].outline
		if len(o) == 0 {
			t.Fatalf("mono draws nothing for %q", r)
		}
		return o
	}
	for _, pair := range []string{"0O", "1I", "1l", "Il"} {
		a, b := outline(t, rune(pair[0])), outline(t, rune(pair[1]))
		if bytes.Equal(a, b) {
			t.Errorf("mono draws %q alike", pair)
		}
	}
	// Contours of 0: outside, inside, and the dot in it.
	if n := int16(binary.BigEndian.Uint16(outline(t, '0'))); n != 3 {
		t.Errorf("mono's 0 has %d contours, want 3 with its dot", n)
	}
}

func TestCleanMarksWhatIsLost(t *testing.T) {
	for _, c := range []struct {
		name, in, want string
		lost           int
	}{
		{"plain", "20 A", "20 A", 0},
		{"emoji beyond the basic plane", "roof 😀 S", "roof ◊ S", 1},
		{"ground symbol", "⏚", "◊", 1},
		{"line break", "a\nb", "a◊b", 1},
		{"broken UTF-8", "a\xffb", "a◊b", 1},
		{"right-to-left override", "a\u202eb", "a◊b", 1},
	} {
		got, lost := Regular.Clean(c.in)
		if got != c.want || len(lost) != c.lost {
			t.Errorf("%s: %q with %d lost, want %q with %d", c.name, got, len(lost), c.want, c.lost)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		once, _ := Regular.Clean(s)
		if twice, lost := Regular.Clean(once); twice != once || lost != nil {
			t.Fatalf("%q cleaned to %q still loses %q", s, once, lost)
		}
		if math.Abs(Regular.Width(s, 1)-Regular.Width(once, 1)) > 1e-9 {
			t.Fatalf("%q is measured otherwise than drawn", s)
		}
	})
}

func TestForeignWOFFIsRefused(t *testing.T) {
	good := read(faces[Mono].file + ".woff")
	for _, c := range []struct {
		name string
		file []byte
	}{
		{"empty", nil},
		{"not WOFF", []byte(strings.Repeat("x", 100))},
		{"directory cut", good[:60]},
		{"body cut", good[:len(good)/2]},
	} {
		if _, err := sfnt(c.file); err == nil {
			t.Errorf("%s was taken", c.name)
		}
	}
}
