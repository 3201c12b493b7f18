// Package font holds the lettering of every drawing and page: its bytes, how
// wide a text runs and how far its ink reaches.
//
// Paper and screen measure with the same advances, so a text that fits on one
// fits on the other. No writer kerns.
//
// The faces are Plex Sans Condensed (regular, bold) for lettering and Plex
// Mono for serials and readings, under the SIL Open Font License 1.1
// (plex/OFL.txt). plex/SOURCE.md tells where the bytes are from. Digits are of
// one width. The sans draws zero narrower than the letter O, without a slash;
// the mono dots it, so serial numbers are set in mono.
package font

import (
	"embed"
	"strings"
	"sync"
	"unicode/utf8"
)

//go:embed plex/*.woff plex/*.woff2 plex/OFL.txt
var files embed.FS

// Face is one of the embedded faces.
type Face int

// The faces.
const (
	Regular Face = iota // sans, 400: lettering
	Bold                // sans, 700: names and results
	Mono                // monospaced, 400: serials and readings
)

// Faces are all faces, in a fixed order.
var Faces = []Face{Regular, Bold, Mono}

var faces = [...]struct {
	name, family, file string
	weight             int
}{
	Regular: {"regular", "IBM Plex Sans Condensed", "IBMPlexSansCondensed-Regular", 400},
	Bold:    {"bold", "IBM Plex Sans Condensed", "IBMPlexSansCondensed-Bold", 700},
	Mono:    {"mono", "IBM Plex Mono", "IBMPlexMono-Regular", 400},
}

// String names the face in dumps.
func (f Face) String() string { return faces[f].name }

// Family is the family name as style sheets know it.
func (f Face) Family() string { return faces[f].family }

// Weight is the weight as style sheets know it.
func (f Face) Weight() int { return faces[f].weight }

// WebName is the file name to serve WOFF2 under.
func (f Face) WebName() string { return faces[f].file + ".woff2" }

// WOFF2 is the face for browsers.
func (f Face) WOFF2() []byte { return read(faces[f].file + ".woff2") }

// License is the license text that goes wherever the faces go.
func License() string { return string(read("OFL.txt")) }

func read(name string) []byte {
	b, err := files.ReadFile("plex/" + name)
	if err != nil {
		panic(err) // embedded above
	}
	return b
}

type loaded struct {
	ttf     []byte
	metrics *metrics
}

var loads = [...]func() loaded{
	Regular: sync.OnceValue(func() loaded { return load(Regular) }),
	Bold:    sync.OnceValue(func() loaded { return load(Bold) }),
	Mono:    sync.OnceValue(func() loaded { return load(Mono) }),
}

func load(f Face) loaded {
	ttf, err := sfnt(read(faces[f].file + ".woff"))
	if err != nil {
		panic(err) // embedded bytes, held by a test
	}
	m, err := measure(ttf)
	if err != nil {
		panic(err)
	}
	delete(m.glyphs, utf8.RuneError) // stands for broken text, which is to be reported
	return loaded{ttf, m}
}

// TTF is the face for PDF: the tables of the WOFF file, unpacked, unchanged.
func (f Face) TTF() []byte { return loads[f]().ttf }

// Em is the em of lettering whose capitals are capHeight high, same unit.
// Drawings give sizes as the height of capitals, as ASME Y14.2 does.
func (f Face) Em(capHeight float64) float64 {
	m := loads[f]().metrics
	return capHeight * m.unitsPerEm / m.capHeight
}

// Width is how far s runs with capitals capHeight high, same unit.
func (f Face) Width(s string, capHeight float64) float64 {
	m := loads[f]().metrics
	sum := 0
	for _, r := range s {
		sum += m.glyph(r).advance
	}
	return float64(sum) * f.Em(capHeight) / m.unitsPerEm
}

// Reach is how far the ink of s reaches above and below its baseline; below
// is negative where the ink ends above the baseline.
func (f Face) Reach(s string, capHeight float64) (above, below float64) {
	m := loads[f]().metrics
	first, top, bottom := true, 0, 0
	for _, r := range s {
		g := m.glyph(r)
		if !g.inked {
			continue
		}
		if first || g.top > top {
			top = g.top
		}
		if first || g.bottom < bottom {
			bottom = g.bottom
		}
		first = false
	}
	scale := f.Em(capHeight) / m.unitsPerEm
	return float64(top) * scale, -float64(bottom) * scale
}

// Absent stands on paper where the face lacks a character.
const Absent = '◊'

// Clean replaces each character that the face lacks by Absent and returns the
// characters lost, in order. Invalid UTF-8 counts as U+FFFD.
func (f Face) Clean(s string) (string, []rune) {
	m := loads[f]().metrics
	var lost []rune
	var b strings.Builder
	for _, r := range s {
		if _, ok := m.glyphs[r]; !ok {
			lost = append(lost, r)
			r = Absent
		}
		b.WriteRune(r)
	}
	if lost == nil {
		return s, nil
	}
	return b.String(), lost
}
