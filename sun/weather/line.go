package weather

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"
)

// line is one line of the file with its number from 1.
type line struct {
	number int
	text   string
}

// field is one cell with its column in runes from 1.
type field struct {
	text string
	col  int
}

// split parts a file into lines, drops a byte-order mark and line ends, and
// leaves out empty lines at the end. Bytes that are no UTF-8, as in the names of
// some stations, become question marks.
func split(src []byte) []line {
	src = bytes.TrimPrefix(src, []byte("\ufeff"))
	text := strings.ToValidUTF8(string(src), "?")
	var lines []line
	for i, t := range strings.Split(text, "\n") {
		lines = append(lines, line{i + 1, strings.TrimSuffix(t, "\r")})
	}
	for len(lines) > 0 && strings.TrimSpace(lines[len(lines)-1].text) == "" {
		lines = lines[:len(lines)-1]
	}
	return lines
}

// fields parts a line at its commas; quotes keep a comma, doubled ones a quote.
func (l line) fields() []field {
	if !strings.Contains(l.text, `"`) {
		return l.plainFields()
	}
	var out []field
	var cell strings.Builder
	quoted, start, col := false, 1, 0
	runes := []rune(l.text)
	for i := 0; i < len(runes); i++ {
		col++
		switch c := runes[i]; {
		case c == '"' && quoted && i+1 < len(runes) && runes[i+1] == '"':
			cell.WriteRune('"')
			i++
			col++
		case c == '"':
			quoted = !quoted
		case c == ',' && !quoted:
			out = append(out, field{cell.String(), start})
			cell.Reset()
			start = col + 1
		default:
			cell.WriteRune(c)
		}
	}
	return append(out, field{cell.String(), start})
}

func (l line) plainFields() []field {
	out := make([]field, 0, strings.Count(l.text, ",")+1)
	col := 1
	for rest := l.text; ; {
		cell, after, more := strings.Cut(rest, ",")
		out = append(out, field{cell, col})
		if !more {
			return out
		}
		col += utf8.RuneCountInString(cell) + 1
		rest = after
	}
}

// short quotes text, cut to what fits a message.
func short(text string) string {
	const most = 40
	if r := []rune(text); len(r) > most {
		return strconv.Quote(string(r[:most]) + "…")
	}
	return strconv.Quote(text)
}
