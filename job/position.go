package job

import (
	"cmp"
	"fmt"
	"regexp"
	"strconv"

	"legwork/where"
)

// Position is the place of one module on a plane, written E-r1-c2. Row 1 is at
// the eave, column 1 at the left seen from the ground facing the plane.
type Position struct {
	Plane    string
	Row, Col int
}

// maxGrid is the most rows or columns of a plane, and so the longest stretch.
const maxGrid = 100

// String prints the position as a document writes it.
func (p Position) String() string { return fmt.Sprintf("%s-r%d-c%d", p.Plane, p.Row, p.Col) }

// Compare orders positions by plane, row and column.
func (p Position) Compare(q Position) int {
	return cmp.Or(cmp.Compare(p.Plane, q.Plane), cmp.Compare(p.Row, q.Row), cmp.Compare(p.Col, q.Col))
}

// MarshalText writes E-r1-c2.
func (p Position) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads E-r1-c2.
func (p *Position) UnmarshalText(text []byte) error {
	q, err := ParsePosition(string(text))
	if err == nil {
		*p = q
	}
	return err
}

var stretch = regexp.MustCompile(`^(.+)-r(\d{1,3})(?:\.\.r(\d{1,3}))?-c(\d{1,3})(?:\.\.c(\d{1,3}))?$`)

// ParsePosition reads one position.
func ParsePosition(s string) (Position, error) {
	ps, err := ParseStretch(s)
	if err != nil || len(ps) != 1 || ps[0].String() != s {
		return Position{}, where.Error{Came: strconv.Quote(shorten(s)) + " is no position", Expected: "plane, row and column, such as E-r1-c2"}
	}
	return ps[0], nil
}

// ParseStretch reads a position, or a straight stretch of them along a row
// (S-r1-c1..c7, S-r2-c7..c1) or a column (S-r1..r3-c2), in the order written.
func ParseStretch(s string) ([]Position, error) {
	bad := where.Error{Came: strconv.Quote(shorten(s)) + " is no position", Expected: "a position such as E-r1-c2, or a stretch such as S-r1-c1..c7 or S-r1..r3-c2"}
	m := stretch.FindStringSubmatch(s)
	if m == nil || m[3] != "" && m[5] != "" {
		return nil, bad
	}
	r1, r2 := ends(m[2], m[3])
	c1, c2 := ends(m[4], m[5])
	if min(r1, r2, c1, c2) < 1 || max(r1, r2, c1, c2) > maxGrid {
		return nil, bad
	}
	var out []Position
	for r, c := r1, c1; ; r, c = r+sign(r2-r1), c+sign(c2-c1) {
		out = append(out, Position{m[1], r, c})
		if r == r2 && c == c2 {
			return out, nil
		}
	}
}

func ends(from, to string) (int, int) {
	a, _ := strconv.Atoi(from) // digits, by the expression
	if to == "" {
		return a, a
	}
	b, _ := strconv.Atoi(to)
	return a, b
}

func sign(n int) int { return cmp.Compare(n, 0) }

// Place reads where a break lies: after which row or column; 0 where it is
// written in no such form.
func (b Break) Place() (row bool, after int) {
	if len(b.After) < 2 || b.After[0] != 'r' && b.After[0] != 'c' {
		return false, 0
	}
	n, err := strconv.Atoi(b.After[1:])
	if err != nil {
		return false, 0
	}
	return b.After[0] == 'r', n
}

// ExpandUnits reads a branch's path into its positions in trunk order.
func ExpandUnits(units []string) ([]string, error) {
	var out []string
	for _, u := range units {
		ps, err := ParseStretch(u)
		if err != nil {
			return nil, err
		}
		for _, p := range ps {
			out = append(out, p.String())
		}
	}
	return out, nil
}
