package font

import (
	"encoding/binary"
	"fmt"
)

// glyph is one character's measures in font units.
type glyph struct {
	advance     int
	top, bottom int // ink above the baseline; bottom is negative below it
	inked       bool
	outline     []byte // glyf entry; empty for a space
}

type metrics struct {
	unitsPerEm, capHeight float64
	glyphs                map[rune]glyph
}

// glyph gives the measures of r, or of the mark that is set in its place.
func (m *metrics) glyph(r rune) glyph {
	if g, ok := m.glyphs[r]; ok {
		return g
	}
	return m.glyphs[Absent]
}

// measure reads the measures of every character of the basic plane.
//
// Source: OpenType 1.9, tables cmap (format 4), head, hhea, hmtx, loca, glyf, OS/2.
// Valid: the embedded faces; a cut or foreign file gives an error or panics.
func measure(ttf []byte) (*metrics, error) {
	u16 := func(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
	i16 := func(b []byte, at int) int { return int(int16(binary.BigEndian.Uint16(b[at:]))) }
	u32 := func(b []byte, at int) int { return int(binary.BigEndian.Uint32(b[at:])) }

	tables := map[string][]byte{}
	for i := range u16(ttf, 4) {
		e := ttf[12+16*i:]
		tables[string(e[:4])] = ttf[u32(e, 8) : u32(e, 8)+u32(e, 12)]
	}
	for _, tag := range []string{"cmap", "head", "hhea", "hmtx", "loca", "glyf", "OS/2"} {
		if tables[tag] == nil {
			return nil, fmt.Errorf("truetype: no table %s", tag)
		}
	}
	m := &metrics{
		unitsPerEm: float64(u16(tables["head"], 18)),
		capHeight:  float64(i16(tables["OS/2"], 88)),
		glyphs:     map[rune]glyph{},
	}
	longLoca := u16(tables["head"], 50) == 1
	long := u16(tables["hhea"], 34) // glyphs with an advance of their own
	outline := func(id int) []byte {
		loca := tables["loca"]
		if longLoca {
			return tables["glyf"][u32(loca, 4*id):u32(loca, 4*id+4)]
		}
		return tables["glyf"][2*u16(loca, 2*id) : 2*u16(loca, 2*id+2)]
	}

	cmap := tables["cmap"]
	var sub []byte
	for i := range u16(cmap, 2) {
		e := cmap[4+8*i:]
		if t := cmap[u32(e, 4):]; u16(e, 0) == 3 && u16(e, 2) == 1 && u16(t, 0) == 4 {
			sub = t
		}
	}
	if sub == nil {
		return nil, fmt.Errorf("truetype: no cmap of format 4")
	}
	segments := u16(sub, 6) // times two
	for s := 0; s < segments; s += 2 {
		end, start := u16(sub, 14+s), u16(sub, 16+segments+s)
		delta, ranges := u16(sub, 16+2*segments+s), 16+3*segments+s
		for r := start; r <= end && r != 0xffff; r++ {
			id := r
			if off := u16(sub, ranges); off != 0 {
				if id = u16(sub, ranges+off+2*(r-start)); id == 0 {
					continue
				}
			}
			if id = (id + delta) & 0xffff; id == 0 {
				continue
			}
			g := glyph{advance: u16(tables["hmtx"], 4*min(id, long-1)), outline: outline(id)}
			if len(g.outline) >= 10 {
				g.inked, g.bottom, g.top = true, i16(g.outline, 4), i16(g.outline, 8)
			}
			m.glyphs[rune(r)] = g
		}
	}
	return m, nil
}
