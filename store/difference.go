package store

import "bytes"

// DiffLine is a line of a difference: Sign is '-' for a line of the newest
// revision that the draft does not have, '+' for one of the draft that the
// newest does not have, ' ' for one of both. Text has no end of line.
type DiffLine struct {
	Sign byte
	Text string
}

// MaxDiff is the most lines of either side that Difference compares one by one;
// beyond it everything between the common head and tail counts as changed.
const MaxDiff = 4000

// Difference shows what the second editor has to bring together: the newest
// revision against the draft, line by line, all lines in order.
func (c *Conflict) Difference() []DiffLine {
	return difference(splitLines(c.Newest.Bytes), splitLines(c.Draft.Bytes))
}

func splitLines(b []byte) []string {
	var out []string
	for line := range bytes.Lines(b) {
		out = append(out, string(bytes.TrimSuffix(line, []byte{'\n'})))
	}
	return out
}

// difference is a longest common subsequence of the lines between the common
// head and tail.
func difference(was, now []string) (out []DiffLine) {
	head := 0
	for head < len(was) && head < len(now) && was[head] == now[head] {
		head++
	}
	tail := 0
	for tail < len(was)-head && tail < len(now)-head && was[len(was)-1-tail] == now[len(now)-1-tail] {
		tail++
	}
	put := func(sign byte, lines []string) {
		for _, l := range lines {
			out = append(out, DiffLine{sign, l})
		}
	}
	put(' ', was[:head])
	a, b := was[head:len(was)-tail], now[head:len(now)-tail]
	if len(a) > MaxDiff || len(b) > MaxDiff {
		put('-', a)
		put('+', b)
		put(' ', was[len(was)-tail:])
		return out
	}
	// common[i][j] is the longest common subsequence of a[i:] and b[j:].
	common := make([][]int16, len(a)+1)
	for i := range common {
		common[i] = make([]int16, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			put(' ', a[i:i+1])
			i, j = i+1, j+1
		case i < len(a) && (j == len(b) || common[i+1][j] >= common[i][j+1]):
			put('-', a[i:i+1])
			i++
		default:
			put('+', b[j:j+1])
			j++
		}
	}
	put(' ', was[len(was)-tail:])
	return out
}
