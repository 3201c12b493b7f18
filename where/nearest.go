package where

import "strings"

// Nearest is the known word that word was likely meant to be, "" when none is
// near: one slip away, or one in three letters for a longer word. Case does not
// count; of equally near words the first known one is taken. A slip is a letter
// left out, put in, mistaken, or swapped with its neighbor.
func Nearest(word string, known []string) string {
	meant := []rune(strings.ToLower(word))
	best, limit := "", max(1, len(meant)/3)+1
	for _, k := range known {
		if n := slips(meant, []rune(strings.ToLower(k))); n < limit {
			best, limit = k, n
		}
	}
	return best
}

// slips counts the slips that turn a into b: the optimal string alignment
// distance, by dynamic programming over the last three rows.
func slips(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, last, row = last, row, before
		row[0] = i
		for j := 1; j <= len(b); j++ {
			mistaken := 1
			if a[i-1] == b[j-1] {
				mistaken = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+mistaken)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(b)]
}

// Suggest words what else there is: "the nearest is busbar-120", or the whole
// list when nothing is near.
func Suggest(word string, known []string) string {
	if n := Nearest(word, known); n != "" {
		return "the nearest is " + n
	}
	return "there is " + strings.Join(known, ", ")
}
