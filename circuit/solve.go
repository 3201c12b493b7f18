package circuit

import (
	"fmt"
	"math"
	"math/cmplx"
)

// Tolerance is how far, in parts of the nominal voltage, the voltages of a
// solution may be from those that their own currents give.
const Tolerance = 1e-9

// limits of the iteration: far more than any network of a dwelling needs.
const (
	mostSteps   = 60
	mostHalving = 40
)

// phasors holds the conductors of all nodes.
type phasors [][conductors]complex128

// Solve finds the voltages. It is an error when the network is no tree, when
// something hangs on a conductor that is not there, or when no solution is found:
// then something asks for more than the wiring can carry.
func (n *Network) Solve() (*Solution, error) {
	t, err := n.grow()
	if err != nil {
		return nil, err
	}
	v := t.start()
	_, swept := t.sweep(v)
	off, at := apart(v, swept)
	steps := 0
	for ; !(off <= Tolerance*n.Nominal.Float()); steps++ {
		if steps == mostSteps {
			return nil, t.stuck(steps, off, at)
		}
		aim, ok := t.newton(v)
		if !ok {
			return nil, t.stuck(steps, off, at)
		}
		// The whole step, or the first half, quarter … that brings v nearer.
		share, nearer := 1.0, false
		for range mostHalving {
			next := between(v, aim, share)
			_, swept := t.sweep(next)
			if o, a := apart(next, swept); o < off {
				v, off, at, nearer = next, o, a, true
				break
			}
			share /= 2
		}
		if !nearer {
			return nil, t.stuck(steps, off, at)
		}
	}
	j, _ := t.sweep(v)
	return t.solution(v, j, steps, off), nil
}

func (t *tree) stuck(steps int, off float64, at int) error {
	return fmt.Errorf("network: no solution after %d steps, %.3g V out at %s, expected at most %.3g V; a load may ask for more than the wiring can carry",
		steps, off, t.nodes[at].id, Tolerance*t.net.Nominal.Float())
}

// start is the open circuit.
func (t *tree) start() phasors {
	open := t.net.System.open(t.net.Volts)
	v := make(phasors, len(t.nodes))
	for i := range t.nodes {
		for c := range conductors {
			if t.nodes[i].has[c] {
				v[i][t.nodes[i].slot[c]] = open[c]
			}
		}
	}
	return v
}

// sweep adds up the currents that the voltages v draw, from the leaves to the
// source, and returns them with the voltages that those currents give.
func (t *tree) sweep(v phasors) (j, out phasors) {
	j, out = make(phasors, len(v)), make(phasors, len(v))
	for i := len(t.nodes) - 1; i >= 0; i-- {
		b := &t.nodes[i]
		for k := range b.hangs {
			e := &b.hangs[k]
			c, _ := e.current(v[i][e.a] - v[i][e.b])
			j[i][e.a] -= c
			j[i][e.b] += c
		}
		for k, up := range b.above {
			j[b.parent][up] += j[i][k]
		}
	}
	out[0] = v[0]
	for i := 1; i < len(t.nodes); i++ {
		b := &t.nodes[i]
		for k, up := range b.above {
			out[i][k] = out[b.parent][up] - b.ohms[k]*j[i][k]
		}
	}
	return j, out
}

// newton solves the network with every element replaced by its tangent at v.
// Each node is folded into the one above: what hangs below a section draws
// J = A·V + b at its inner end. With z in front of it that becomes
// (1 + A·z)⁻¹·(A·V + b). Back from the source follow the voltages.
func (t *tree) newton(v phasors) (phasors, bool) {
	as, bs := make([]matrix, len(v)), make([]vector, len(v))
	for i := len(t.nodes) - 1; i > 0; i-- {
		node, a, b := &t.nodes[i], &as[i], &bs[i]
		for k := range node.hangs {
			node.hangs[k].tangent(&v[i], a, b)
		}
		n := 2 * node.width
		var w matrix
		for k, z := range node.ohms {
			for r := range n {
				w[r][2*k] = a[r][2*k]*real(z) + a[r][2*k+1]*imag(z)
				w[r][2*k+1] = a[r][2*k+1]*real(z) - a[r][2*k]*imag(z)
			}
		}
		for r := range n {
			w[r][r]++
		}
		if !solve(n, &w, a, b) {
			return nil, false
		}
		upA, upB := &as[node.parent], &bs[node.parent]
		for r := range n {
			to := 2*node.above[r/2] + r%2
			upB[to] += b[r]
			for c := range n {
				upA[to][2*node.above[c/2]+c%2] += a[r][c]
			}
		}
	}
	out := make(phasors, len(v))
	out[0] = v[0]
	for i := 1; i < len(t.nodes); i++ {
		node := &t.nodes[i]
		for k := range node.above {
			re, im := bs[i][2*k], bs[i][2*k+1]
			for c, up := range node.above {
				x := out[node.parent][up]
				re += as[i][2*k][2*c]*real(x) + as[i][2*k][2*c+1]*imag(x)
				im += as[i][2*k+1][2*c]*real(x) + as[i][2*k+1][2*c+1]*imag(x)
			}
			out[i][k] = out[node.parent][node.above[k]] - node.ohms[k]*complex(re, im)
		}
	}
	return out, true
}

// tangent adds the element's linear part at v to what its node draws.
func (e *element) tangent(v *[conductors]complex128, a *matrix, b *vector) {
	u := v[e.a] - v[e.b]
	i, m := e.current(u)
	rest := [2]float64{
		real(i) - m[0][0]*real(u) - m[0][1]*imag(u),
		imag(i) - m[1][0]*real(u) - m[1][1]*imag(u),
	}
	for r := range 2 {
		b[2*e.a+r] -= rest[r]
		b[2*e.b+r] += rest[r]
		for c := range 2 {
			a[2*e.a+r][2*e.a+c] -= m[r][c]
			a[2*e.a+r][2*e.b+c] += m[r][c]
			a[2*e.b+r][2*e.a+c] += m[r][c]
			a[2*e.b+r][2*e.b+c] -= m[r][c]
		}
	}
}

// apart is the largest difference and the node where it is; a value that is no
// number is infinitely far.
func apart(v, w phasors) (off float64, node int) {
	for i := range v {
		for c := range conductors {
			d := cmplx.Abs(v[i][c] - w[i][c])
			if math.IsNaN(d) {
				return math.Inf(1), i
			}
			if d > off {
				off, node = d, i
			}
		}
	}
	return off, node
}

func between(v, w phasors, share float64) phasors {
	out := make(phasors, len(v))
	for i := range v {
		for c := range conductors {
			out[i][c] = v[i][c] + complex(share, 0)*(w[i][c]-v[i][c])
		}
	}
	return out
}
