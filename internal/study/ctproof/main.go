// Command ctproof measures the CT proof on simulated installations: how often it
// speaks after 2, 3, 4 and 5 states, how often it is right when it does, and whether
// its probabilities mean what they say.
//
//	go run ./internal/study/ctproof -n 20000 -seed 2 > docs/studies/ctproof.md
//
// The simulator is its own: it solves the network conductor by conductor and shares
// no code with the inference or with the meter model.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	n := flag.Int("n", 20000, "installations")
	seed := flag.Uint64("seed", 1, "seed")
	wrong := flag.Bool("wrong", false, "list what was settled wrongly, on standard error")
	flag.Parse()
	t, err := study(*n, *seed)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	if *wrong {
		for _, w := range t.wrong {
			fmt.Fprintln(os.Stderr, w)
		}
	}
	fmt.Print(t.markdown(*n, *seed))
}
