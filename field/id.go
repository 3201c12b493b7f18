package field

import (
	"encoding/hex"
	"io"
	"time"

	"legwork/where"
)

// ID is a UUID version 7 in lower case: "017f22e2-79b0-7cc3-98c4-dc0c0c07398f".
// Jobs, devices, events and photos have one. Most are made on a phone without
// signal and come in with the event; sorted as text they are in order of making.
//
// Source: RFC 9562, sections 4 and 5.7.
type ID string

// idBytes is the length of the 128 bits of a UUID.
const idBytes = 16

// NewID makes an ID at the given instant, taking ten bytes of entropy. The same
// instant and bytes give the same ID.
func NewID(now time.Time, entropy io.Reader) (ID, error) {
	var b [idBytes]byte
	if _, err := io.ReadFull(entropy, b[6:]); err != nil {
		return "", err
	}
	for i, ms := 5, now.UnixMilli(); i >= 0; i, ms = i-1, ms>>8 {
		b[i] = byte(ms)
	}
	b[6] = b[6]&0x0f | 0x70 // version 7
	b[8] = b[8]&0x3f | 0x80 // variant 10
	h := hex.EncodeToString(b[:])
	return ID(h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]), nil
}

// ParseID takes a UUID version 7 in lower case and nothing else: two spellings
// of one id would be two ids.
func ParseID(s string) (ID, error) {
	if !isID(s) {
		return "", where.Error{Came: quote(s), Expected: "a version 7 UUID in lower case, " +
			"such as 017f22e2-79b0-7cc3-98c4-dc0c0c07398f"}
	}
	return ID(s), nil
}

func isID(s string) bool {
	if len(s) != 36 || s[14] != '7' {
		return false
	}
	for i := range len(s) {
		switch c := s[i]; {
		case i == 8 || i == 13 || i == 18 || i == 23:
			if c != '-' {
				return false
			}
		case (c < '0' || c > '9') && (c < 'a' || c > 'f'):
			return false
		}
	}
	return s[19] == '8' || s[19] == '9' || s[19] == 'a' || s[19] == 'b'
}

// Time is the instant at which the ID was made, by its maker's clock, to the
// millisecond. Only for an ID that ParseID or NewID gave.
func (id ID) Time() time.Time {
	b, err := hex.DecodeString(string(id[:8] + id[9:13]))
	if err != nil {
		return time.Time{}
	}
	var ms int64
	for _, c := range b {
		ms = ms<<8 | int64(c)
	}
	return time.UnixMilli(ms).UTC()
}
