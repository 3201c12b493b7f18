package weather

import (
	"fmt"
	"slices"
	"time"

	"legwork/where"
)

// stamp is the end of an interval on the file's own clock.
type stamp struct {
	year, month, day int
	minutes          int // since the start of that day, 1 to 24·60
}

func (s stamp) String() string {
	return fmt.Sprintf("%04d-%02d-%02d %02d:%02d", s.year, s.month, s.day, s.minutes/60, s.minutes%60)
}

// end is the instant on a clock without zone, in a year.
func (s stamp) end(year int) time.Time {
	return time.Date(year, time.Month(s.month), s.day, 0, s.minutes, 0, 0, time.UTC)
}

// date checks a calendar date; the day of a month is a matter of its year.
func (r *reader) date(line int, f field, year, month, day int) bool {
	days := time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC).Day()
	if day > days {
		r.faultAt(line, f, "day", fmt.Sprintf("1 to %d in month %d of %d", days, month, year))
		return false
	}
	return true
}

// settle turns the stamps into intervals. A file whose own dates run on is taken
// as it stands. Otherwise it is a typical year if its dates run on within one
// nominal year. Where neither holds, each break is a fault.
func (r *reader) settle(step time.Duration) {
	f := r.file
	f.Step = step
	if len(f.Records) == 0 {
		r.fault(where.Error{Came: "no records", Expected: "a record an interval"})
		return
	}
	if slices.ContainsFunc(r.stamps, func(s stamp) bool { return s.minutes == 0 }) {
		f.Notes = append(f.Notes, "some stamps say 00:00 where the form has 24:00, so they may begin their intervals and not end them")
	}
	year := NominalYear
	for _, s := range r.stamps {
		if s.month == 2 && s.day == 29 {
			year = NominalLeapYear
		}
	}
	own := func(s stamp) time.Time { return s.end(s.year) }
	nominal := func(s stamp) time.Time { return s.end(year) }
	stampedBy, breaks := own, r.breaks(own)
	if r.years() > 1 && len(breaks) > 0 {
		if b := r.breaks(nominal); len(b) < len(breaks) {
			stampedBy, breaks, f.Typical = nominal, b, true
		}
	}
	for _, i := range breaks {
		if r.leapDayLeftOut(i) {
			f.Notes = append(f.Notes, fmt.Sprintf("February 29, %d is left out", r.stamps[i].year))
			continue
		}
		r.fault(where.Error{
			Line: f.Records[i].Line, Col: 1, Path: "date and time", Came: r.stamps[i].String(),
			Expected: fmt.Sprintf("%v after the record before, %s", step, r.stamps[i-1]), Try: "is a record missing or doubled?",
		})
	}
	for i := range f.Records {
		end := stampedBy(r.stamps[i]).Add(-f.Station.Offset)
		f.Records[i].From, f.Records[i].To = end.Add(-step), end
	}
}

// breaks are the records that do not follow the one before by a step.
func (r *reader) breaks(end func(stamp) time.Time) []int {
	var out []int
	for i := 1; i < len(r.stamps); i++ {
		if end(r.stamps[i]).Sub(end(r.stamps[i-1])) != r.file.Step {
			out = append(out, i)
		}
	}
	return out
}

// leapDayLeftOut says that record i is the first of March in a leap year, after
// the last of February 28.
func (r *reader) leapDayLeftOut(i int) bool {
	s, before := r.stamps[i], r.stamps[i-1]
	return s.month == 3 && s.day == 1 && before.month == 2 && before.day == 28 &&
		s.end(s.year).Sub(before.end(before.year)) == r.file.Step+24*time.Hour
}

func (r *reader) years() int {
	seen := map[int]bool{}
	for _, s := range r.stamps {
		seen[s.year] = true
	}
	return len(seen)
}
