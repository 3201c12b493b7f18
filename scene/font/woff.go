package font

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"math/bits"
)

// sfnt unpacks a WOFF 1.0 file into the TrueType file it was made from: every
// table byte for byte, in the order of the directory.
//
// Source: W3C, WOFF File Format 1.0, sections 3 to 5; OpenType, table directory.
func sfnt(woff []byte) ([]byte, error) {
	const head, entry = 44, 20
	if len(woff) < head || string(woff[:4]) != "wOFF" {
		return nil, fmt.Errorf("woff: no wOFF signature in %d bytes", len(woff))
	}
	n := int(binary.BigEndian.Uint16(woff[12:]))
	if len(woff) < head+n*entry {
		return nil, fmt.Errorf("woff: %d tables announced, directory cut short", n)
	}
	power := bits.Len(uint(n)) - 1
	search := 16 << power
	out := append([]byte(nil), woff[4:8]...) // flavor
	out = binary.BigEndian.AppendUint16(out, uint16(n))
	out = binary.BigEndian.AppendUint16(out, uint16(search))
	out = binary.BigEndian.AppendUint16(out, uint16(power))
	out = binary.BigEndian.AppendUint16(out, uint16(16*n-search))

	offset := len(out) + 16*n
	var body []byte
	for i := range n {
		e := woff[head+i*entry:]
		at, packed, full := binary.BigEndian.Uint32(e[4:]), binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
		if uint64(at)+uint64(packed) > uint64(len(woff)) || packed > full {
			return nil, fmt.Errorf("woff: table %q reaches past the end", e[:4])
		}
		table := woff[at : at+packed]
		if packed < full {
			z, err := zlib.NewReader(bytes.NewReader(table))
			if err != nil {
				return nil, fmt.Errorf("woff: table %q: %w", e[:4], err)
			}
			if table, err = io.ReadAll(io.LimitReader(z, int64(full)+1)); err != nil {
				return nil, fmt.Errorf("woff: table %q: %w", e[:4], err)
			}
		}
		if len(table) != int(full) {
			return nil, fmt.Errorf("woff: table %q has %d bytes, expected %d", e[:4], len(table), full)
		}
		out = append(out, e[:4]...)    // tag
		out = append(out, e[16:20]...) // checksum, of the unpacked table
		out = binary.BigEndian.AppendUint32(out, uint32(offset+len(body)))
		out = binary.BigEndian.AppendUint32(out, full)
		body = append(body, table...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	return append(out, body...), nil
}
