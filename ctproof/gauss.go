package ctproof

import "math"

// most is how many states with PV on one proof can hold.
const most = 10

// sun is a Gaussian in the PV power of each state with PV on, as precision and
// precision times mean.
type sun struct {
	n   int
	lam [most][most]float64
	eta [most]float64
	// half is ½·logdet(lam); log is that less ½·mean·lam·mean.
	half, log float64
}

// factor is the Cholesky factor L of the leading n by n part, L·Lᵀ = a; the
// second value is half the log determinant, and the third false for a matrix that
// is not positive.
func factor(a *[most][most]float64, n int, l *[most][most]float64) (float64, bool) {
	half := 0.
	for i := range n {
		for j := 0; j <= i; j++ {
			s := a[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				if s <= 0 {
					return 0, false
				}
				l[i][i] = math.Sqrt(s)
				half += math.Log(l[i][i])
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	return half, true
}

// solveHalf gives ½·bᵀ·a⁻¹·b from the factor of a.
func solveHalf(l *[most][most]float64, b *[most]float64, n int) float64 {
	var y [most]float64
	sum := 0.
	for i := range n {
		s := b[i]
		for k := range i {
			s -= l[i][k] * y[k]
		}
		y[i] = s / l[i][i]
		sum += y[i] * y[i]
	}
	return sum / 2
}

// settle sets log for a proper Gaussian.
func (s *sun) settle() bool {
	var l [most][most]float64
	half, ok := factor(&s.lam, s.n, &l)
	if !ok {
		return false
	}
	s.half, s.log = half, half-solveHalf(&l, &s.eta, s.n)
	return true
}

// meet is the logarithm of the integral of s times exp(−½·x·lam·x + eta·x); width
// is the part of it that no misfit enters.
func (s *sun) meet(lam *[most][most]float64, eta *[most]float64) (log, width float64) {
	if s.n == 0 {
		return 0, 0
	}
	var a, l [most][most]float64
	var b [most]float64
	for i := range s.n {
		for j := 0; j <= i; j++ {
			a[i][j] = s.lam[i][j] + lam[i][j]
		}
		b[i] = s.eta[i] + eta[i]
	}
	half, ok := factor(&a, s.n, &l)
	if !ok {
		return math.Inf(-1), 0
	}
	return s.log + solveHalf(&l, &b, s.n) - half, s.half - half
}

// add is log(exp(a)+exp(b)).
func add(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}
