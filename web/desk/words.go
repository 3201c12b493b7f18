package desk

import "strconv"

// counted is a number with its noun: "1 unit", "27 units".
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

var small = []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// number is a small number as a word, as a sentence has it.
func number(n int) string {
	if n < len(small) {
		return small[n]
	}
	return strconv.Itoa(n)
}

// listed joins words: "A", "A and B", "A, B and C".
func listed(words []string) string {
	out := ""
	for i, w := range words {
		switch {
		case i == 0:
		case i == len(words)-1:
			out += " and "
		default:
			out += ", "
		}
		out += w
	}
	return out
}

// upper begins with a capital letter.
func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
