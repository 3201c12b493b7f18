package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"legwork/job"
	"legwork/where"
)

// Exit codes; a contract that outside checks use.
const (
	exitDone  = 0
	exitStop  = 1 // check and plan: at least one stop
	exitInput = 2 // bad input or usage
	exitFault = 3 // the program itself
)

// Env is everything that a command takes from outside.
type Env struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Now            func() time.Time
	ReadFile       func(name string) ([]byte, error)
	TempDir        func(dir, pattern string) (string, error)
}

// errStop says that the work was done and found a stop.
var errStop = errors.New("at least one stop")

// inputError is a fault in what was given: an unreadable file, a wrong flag.
type inputError struct{ error }

func (e inputError) Unwrap() error { return e.error }

// run is the program without the process around it.
func run(ctx context.Context, args []string, env Env) (code int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(env.Stderr, "legwork: this is a fault of the program: %v\n", p)
			code = exitFault
		}
	}()
	root := &cobra.Command{
		Use:           "legwork",
		Short:         "Plan, prove and build microinverter plants",
		Long:          "legwork leads one job from survey to look-back. Data go to standard output, messages to standard error.",
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetArgs(args)
	root.SetIn(env.Stdin)
	root.SetOut(env.Stdout)
	root.SetErr(env.Stderr)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return inputError{err} })
	for _, c := range commands {
		root.AddCommand(c(env))
	}
	err := root.ExecuteContext(ctx)
	if err == nil || errors.Is(err, errStop) {
		if err != nil {
			return exitStop
		}
		return exitDone
	}
	fmt.Fprintln(env.Stderr, err)
	return exitCode(err)
}

// exitCode tells bad input from a fault of the program. What cobra says of
// unknown commands and wrong arguments is usage.
func exitCode(err error) int {
	var fault faultError
	if errors.As(err, &fault) {
		return exitFault
	}
	return exitInput
}

// faultError is a fault of the program or the machine, not of the input.
type faultError struct{ error }

func (e faultError) Unwrap() error { return e.error }

// commands are all commands, by name.
var commands = []func(Env) *cobra.Command{
	checkCommand,
	ctproofCommand,
	labelsCommand,
	newCommand,
	planCommand,
	recordCommand,
	riseCommand,
	rulesCommand,
	serveCommand,
	sheetsCommand,
	storeCommand,
	sunCommand,
	tableCommand,
}

// readJob reads and parses a job document.
func readJob(env Env, file string) (*job.Document, error) {
	src, err := env.ReadFile(file)
	if err != nil {
		return nil, where.Error{File: file, Came: plainFileError(err), Expected: "a job document", Try: "legwork new NAME starts one"}
	}
	return job.Parse(file, src)
}

// plainFileError drops the operation and the path from a file error.
func plainFileError(err error) string {
	for {
		next := errors.Unwrap(err)
		if next == nil {
			return err.Error()
		}
		err = next
	}
}
