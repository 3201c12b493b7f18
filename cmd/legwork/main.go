// Command legwork leads a job of microinverter work from survey to look-back:
// it plans, proves against the electrical code with the arithmetic shown,
// draws the sheets and serves the pages.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], Env{Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Now: time.Now, ReadFile: os.ReadFile, TempDir: os.MkdirTemp})
	stop()
	os.Exit(code)
}
