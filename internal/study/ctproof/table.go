package main

import (
	"fmt"
	"runtime"
	"strings"
	"sync"

	"legwork/ctproof"
)

// tally counts one side, or both, after a number of states.
type tally struct{ all, spoke, right, sure, sureWrong int }

// bin counts answers of one range of probability.
type bin struct {
	n, right int
	sum      float64
}

// table is the result of a study.
type table struct {
	grid, prod, both [mostStates + 1]tally
	ended            [mostStates + 1]int
	verdicts         map[string]map[ctproof.Verdict]int
	calibration      [len(edges)]bin
	wrong            []string
	states           int
}

// edges are the lower ends of the ranges of probability.
var edges = [...]float64{0, .1, .2, .3, .4, .5, .6, .7, .8, .9, .95, .99, .999}

// Sure is the probability from which a wrong answer is confidently wrong.
const sure = .99

// study runs all installations on all processors; the result does not depend on
// how many there are.
func study(n int, seed uint64) (*table, error) {
	courses := make([]course, n)
	errs := make([]error, n)
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				courses[i], errs[i] = run(seed, i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	t := &table{verdicts: map[string]map[ctproof.Verdict]int{"grid": {}, "production": {}}}
	for i, c := range courses {
		if errs[i] != nil {
			return nil, fmt.Errorf("installation %d: %w", i, errs[i])
		}
		t.add(i, c)
	}
	return t, nil
}

func (y *tally) count(o ...outcome) {
	y.all++
	spoke, right, p := true, true, 1.
	for _, x := range o {
		spoke = spoke && x.verdict == ctproof.Settled
		right = right && x.right
		p = min(p, x.p)
	}
	if !spoke {
		return
	}
	y.spoke++
	if right {
		y.right++
	}
	if p >= sure {
		y.sure++
		if !right {
			y.sureWrong++
		}
	}
}

func (t *table) add(number int, c course) {
	for k := 1; k <= mostStates; k++ {
		m := c.after[min(k, len(c.after))-1]
		t.grid[k].count(m.grid)
		t.prod[k].count(m.prod)
		t.both[k].count(m.grid, m.prod)
	}
	t.states += len(c.after)
	t.ended[len(c.after)]++
	last := c.after[len(c.after)-1]
	t.verdicts["grid"][last.grid.verdict]++
	t.verdicts["production"][last.prod.verdict]++
	for k, m := range c.after {
		for side, o := range map[string]outcome{"grid": m.grid, "production": m.prod} {
			b := 0
			for b+1 < len(edges) && o.p >= edges[b+1] {
				b++
			}
			t.calibration[b].n++
			t.calibration[b].sum += o.p
			if o.right {
				t.calibration[b].right++
			}
			if o.verdict == ctproof.Settled && !o.right && k == len(c.after)-1 {
				t.wrong = append(t.wrong, fmt.Sprintf("installation %d, %s, %s: there is %v, said %v at %.4f", number, side, strings.Join(c.code, " "), c.mistakes, o.faults, o.p))
			}
		}
	}
}

func (t *table) markdown(n int, seed uint64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# CT proof: how often it is right\n\nMade by `go run ./internal/study/ctproof -n %d -seed %d`; do not edit.\n\n", n, seed)
	b.WriteString(`Simulated installations, invented: 1 to 5 branches, one or two production windows,
120/240 V and (15 %) two legs of 208Y/120, sun from 15 to 100 % under clear, broken
and dull skies, houses from 40 W to 2.5 kW a leg with loads switched in between, a test
load of 500 to 1800 W true to 7 %, meters with steps of 1 W or 10 W. In 100: 40 right, 40
with one mistake, 20 with two, each mistake as likely as the other. States are those that
the proof asks for, starting with S0. The simulator shares no code with the inference.

"Speaks" is the verdict *settled*. "Right" means that the class on top has the true
response within 0.05 (for a core gap, whose size is no one number: that it names the gap
and is within 0.3). "Confidently wrong" counts wrong answers at 0.99 or more among all
installations. Seeds 1 and 7 were looked at while the proof was built; other seeds were not.

`)
	for _, part := range []struct {
		name string
		list *[mostStates + 1]tally
	}{{"Grid channels", &t.grid}, {"Production channels", &t.prod}, {"Both", &t.both}} {
		fmt.Fprintf(&b, "## %s\n\n| states | speaks | right when it speaks | confidently wrong |\n|---|---|---|---|\n", part.name)
		for _, k := range []int{1, 2, 3, 4, 5, 6, 8} {
			y := part.list[k]
			fmt.Fprintf(&b, "| %d | %s | %s | %s |\n", k, percent(y.spoke, y.all), percent(y.right, y.spoke), percent(y.sureWrong, y.all))
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "States taken on average: %.1f.\n\n## Verdicts at the end\n\n| verdict | grid | production |\n|---|---|---|\n", float64(t.states)/float64(n))
	for _, v := range []ctproof.Verdict{ctproof.Settled, ctproof.Open, ctproof.CannotTell, ctproof.Contradiction} {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", v, percent(t.verdicts["grid"][v], n), percent(t.verdicts["production"][v], n))
	}
	b.WriteString("\n## Calibration\n\nAll answers after every state, both sides: of those given a probability, how many were right.\n\n| probability of the class on top | answers | mean probability | right | |\n|---|---|---|---|---|\n")
	for i, x := range t.calibration {
		high := 1.
		if i+1 < len(edges) {
			high = edges[i+1]
		}
		if x.n == 0 {
			continue
		}
		share := float64(x.right) / float64(x.n)
		fmt.Fprintf(&b, "| %g to %g | %d | %.4f | %.4f | %s |\n", edges[i], high, x.n, x.sum/float64(x.n), share, strings.Repeat("▇", int(share*20+.5)))
	}
	return b.String()
}
