package circuit_test

import (
	"fmt"
	"testing"

	"legwork/circuit"
	"legwork/tables"
)

// plant of n units in branches of ten, four branches a combiner.
func plant(n int) *circuit.Network {
	p := splitPhase(248)
	for b := 0; b*10 < n; b++ {
		cb := fmt.Sprint("CB", b/4)
		if b%4 == 0 {
			p.run("out "+cb, cb, "service", "1/0", tables.Copper, "6", 20)
		}
		p.branch(fmt.Sprint("B", b), cb, circuit.L1L2, 50, 341, []int{10}, nil)
	}
	return &p.Network
}

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{10, 40, 100, 400} {
		net := plant(n)
		b.Run(fmt.Sprint(n, " units"), func(b *testing.B) {
			for b.Loop() {
				if _, err := net.Solve(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkCurtail(b *testing.B) {
	for _, n := range []int{10, 40, 100, 400} {
		net := plant(n)
		b.Run(fmt.Sprint(n, " units"), func(b *testing.B) {
			for b.Loop() {
				if _, err := net.Curtail(253, circuit.DefaultVoltWatt()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkOneLine(b *testing.B) {
	for _, n := range []int{10, 40, 100, 400} {
		net := plant(n)
		b.Run(fmt.Sprint(n, " units"), func(b *testing.B) {
			for b.Loop() {
				if _, err := net.OneLine("service"); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
