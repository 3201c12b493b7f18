package job

import "strings"

// nearest returns the word of the list that a person most likely meant, "" when
// none is near: at most a third of the letters differ, or one holds the other.
func nearest(word string, list []string) string {
	best, least := "", len(word)/3+2
	for _, w := range list {
		if d := distance(strings.ToLower(word), strings.ToLower(w)); d < least {
			best, least = w, d
		}
	}
	if best != "" || len(word) < 3 {
		return best
	}
	for _, w := range list {
		if strings.Contains(w, word) || strings.Contains(word, w) {
			return w
		}
	}
	return ""
}

// distance counts the letters to insert, delete or change (Levenshtein). Long
// words are cut: a key of a thousand letters is near nothing.
func distance(a, b string) int {
	const long = 64
	if len(a) > long || len(b) > long {
		return long
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := corner
			if a[i] != b[j] {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j]+1, corner+1)
		}
	}
	return row[len(b)]
}
