package circuit

import "math"

// A node has up to four conductors, so eight real unknowns.
const wide = 2 * conductors

type (
	vector [wide]float64
	matrix [wide][wide]float64
)

// solve replaces a by w⁻¹·a and b by w⁻¹·b, all n wide, by elimination with row
// exchange. It reports whether w has an inverse.
func solve(n int, w, a *matrix, b *vector) bool {
	for c := range n {
		pivot := c
		for r := c + 1; r < n; r++ {
			if math.Abs(w[r][c]) > math.Abs(w[pivot][c]) {
				pivot = r
			}
		}
		if !(math.Abs(w[pivot][c]) > 0) {
			return false
		}
		w[c], w[pivot] = w[pivot], w[c]
		a[c], a[pivot] = a[pivot], a[c]
		b[c], b[pivot] = b[pivot], b[c]
		for r := c + 1; r < n; r++ {
			f := w[r][c] / w[c][c]
			if f == 0 {
				continue
			}
			for k := c; k < n; k++ {
				w[r][k] -= f * w[c][k]
			}
			for k := range n {
				a[r][k] -= f * a[c][k]
			}
			b[r] -= f * b[c]
		}
	}
	for r := n - 1; r >= 0; r-- {
		for k := r + 1; k < n; k++ {
			f := w[r][k]
			for c := range n {
				a[r][c] -= f * a[k][c]
			}
			b[r] -= f * b[k]
		}
		for c := range n {
			a[r][c] /= w[r][r]
		}
		b[r] /= w[r][r]
	}
	return true
}
