//go:build unix

package main

import (
	"os"
	"syscall"
)

// lock waits until no other program holds the file. The system lets go of it
// when the file is closed, also by a kill.
func lock(f *os.File) error { return syscall.Flock(int(f.Fd()), syscall.LOCK_EX) }
