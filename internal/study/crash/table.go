package main

import (
	"fmt"
	"strings"
)

func table(rows []row, uploads int, seed uint64) string {
	var b strings.Builder
	fmt.Fprintf(&b, `# Crash: what was acknowledged is there, once

Made by `+"`go run ./internal/study/crash -uploads %d -seed %d`"+`; do not edit. Times and the
number of faults depend on the machine.

Four devices send batches of 1 to 20 new events, each batch shuffled and mixed with
events that were acknowledged before, one in ten uploads with a photo (not onto the
small disk). Their clocks jump: one event in ten up to 20 h ahead, one up to ten days
behind. Meanwhile the real server process is killed (SIGKILL) after 2 to 80 ms and
started again; or all processes of the database are killed after 20 to 500 ms and it is
started again; or the disk that holds the store is filled to the last byte for 100 to
400 ms. What has no answer is sent again. At the end every acknowledged event is looked
up: lost, there twice, or at another place than was told. A killed process is not a power
cut: what the system had not yet written of its own was not lost with it.

| database | fault | faults | uploads acknowledged | requests that failed | events acknowledged | sent again | photos | lost | twice | moved | photos lost | s |
|---|---|---|---|---|---|---|---|---|---|---|---|---|
`, uploads, seed)
	for _, r := range rows {
		if r.skipped != "" {
			fmt.Fprintf(&b, "| %s | %s | not run: %s | | | | | | | | | | |\n", r.database, r.fault, r.skipped)
			continue
		}
		fmt.Fprintf(&b, "| %s | %s | %d | %d | %d | %d | %d | %d | %d | %d | %d | %d | %.0f |\n", r.database, r.fault, r.strikes,
			r.uploads, r.failed, r.events, r.again, r.photos, r.lost, r.twice, r.moved, r.photosLost, r.took.Seconds())
	}
	return b.String()
}
