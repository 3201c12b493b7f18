package field

import (
	"cmp"
	"fmt"
	"strconv"
	"time"

	"legwork/where"
)

// stamp is how instants are written: RFC 3339 in UTC to the millisecond.
const stamp = "2006-01-02T15:04:05.000Z"

// FormatTime writes an instant in UTC to the millisecond, cutting the rest.
func FormatTime(t time.Time) string { return t.UTC().Format(stamp) }

// ParseTime reads exactly what FormatTime writes.
func ParseTime(s string) (time.Time, error) {
	t, err := time.Parse(stamp, s)
	if err != nil || FormatTime(t) != s {
		return time.Time{}, where.Error{Came: quote(s),
			Expected: "an instant in UTC to the millisecond, such as 2026-05-04T15:30:00.000Z"}
	}
	return t, nil
}

// HLC is a hybrid logical clock: the latest instant that the device had seen,
// its own or another's, and a count that keeps events of one instant in order.
// It never runs backwards, even when somebody sets the phone's clock back, so
// that an event that was made knowing another sorts after it.
//
// Source: Kulkarni et al. 2014, figure 5, with l in milliseconds.
// Valid: years 1 to 9999. A clock set far ahead drags all who hear of it along;
// whoever takes events from others decides how far ahead is believable.
type HLC struct {
	ms    int64
	count uint16
}

// Next is the clock of the next event of a device whose last clock is h, when
// its wall clock shows now.
func (h HLC) Next(now time.Time) HLC {
	if ms := now.UnixMilli(); ms > h.ms {
		return HLC{ms: ms}
	}
	return h.after()
}

// Hear is the clock of a device after it has received an event with clock other
// when its wall clock shows now. It is later than both clocks.
func (h HLC) Hear(other HLC, now time.Time) HLC {
	if h.Compare(other) < 0 {
		h = other
	}
	return h.Next(now)
}

// after is the least clock above h; a full count carries into the milliseconds.
func (h HLC) after() HLC {
	if h.count == 1<<16-1 {
		return HLC{ms: h.ms + 1}
	}
	return HLC{h.ms, h.count + 1}
}

// Compare orders clocks: -1, 0 or 1.
func (h HLC) Compare(o HLC) int {
	return cmp.Or(cmp.Compare(h.ms, o.ms), cmp.Compare(h.count, o.count))
}

// Time is the instant of the clock in UTC.
func (h HLC) Time() time.Time { return time.UnixMilli(h.ms).UTC() }

// String writes "2026-05-04T15:30:00.000Z-0003": the instant, then the count in
// four hexadecimal digits. As text such clocks sort as they compare.
func (h HLC) String() string { return fmt.Sprintf("%s-%04x", FormatTime(h.Time()), h.count) }

// ParseHLC reads exactly what String writes.
func ParseHLC(s string) (HLC, error) {
	if cut := len(stamp); len(s) == cut+5 {
		t, errT := ParseTime(s[:cut])
		n, errN := strconv.ParseUint(s[cut+1:], 16, 16)
		if h := (HLC{t.UnixMilli(), uint16(n)}); errT == nil && errN == nil && h.String() == s {
			return h, nil
		}
	}
	return HLC{}, where.Error{Came: quote(s),
		Expected: "a clock such as 2026-05-04T15:30:00.000Z-0003"}
}
