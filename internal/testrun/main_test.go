package main

import (
	"strings"
	"testing"
)

// The lines are those of `go test -json` of Go 1.26 for a package with a passing,
// a failing and a skipped test, without their times.
const run = `{"Action":"start","Package":"legwork/a"}
{"Action":"run","Package":"legwork/a","Test":"TestGood"}
{"Action":"output","Package":"legwork/a","Test":"TestGood","Output":"=== RUN   TestGood\n"}
{"Action":"output","Package":"legwork/a","Test":"TestGood","Output":"    a_test.go:5: quiet please\n"}
{"Action":"pass","Package":"legwork/a","Test":"TestGood","Elapsed":0}
{"Action":"output","Package":"legwork/a","Test":"TestBad","Output":"    a_test.go:9: got 1 A, want 2 A\n"}
{"Action":"fail","Package":"legwork/a","Test":"TestBad","Elapsed":0.25}
{"Action":"output","Package":"legwork/a","Test":"TestFar","Output":"=== RUN   TestFar\n"}
{"Action":"output","Package":"legwork/a","Test":"TestFar","Output":"    a_test.go:12: chromium is not installed\n"}
{"Action":"output","Package":"legwork/a","Test":"TestFar","Output":"--- SKIP: TestFar (0.00s)\n"}
{"Action":"skip","Package":"legwork/a","Test":"TestFar","Elapsed":0}
{"Action":"fail","Package":"legwork/a","Elapsed":0.5}
{"Action":"build-output","ImportPath":"legwork/c","Output":"c.go:3:1: syntax error\n"}
{"Action":"skip","Package":"legwork/b","Elapsed":0}
{"Action":"pass","Package":"legwork/d","Elapsed":1.04}
panic outside of any test
`

const want = `FAIL  legwork/a TestBad  0.2 s
        a_test.go:9: got 1 A, want 2 A
FAIL  legwork/a  0.5 s
    c.go:3:1: syntax error
none  legwork/b
ok    legwork/d  1.0 s
panic outside of any test

skipped: 1
  legwork/a TestFar: a_test.go:12: chromium is not installed
`

func TestTell(t *testing.T) {
	var b strings.Builder
	if err := tell(strings.NewReader(run), &b); err != nil {
		t.Fatal(err)
	}
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}
