package main

import (
	"bytes"
	"context"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"legwork/internal/houses"
)

// The machine form of every house is what docs/formats says, twice the same bytes.
func TestRiseFormIsDocumented(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../../docs/formats/rise.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range houses.Names() {
		var stdout, again, stderr bytes.Buffer
		args := []string{"rise", "../../testdata/houses/" + name + ".yaml", "--json"}
		for _, out := range []*bytes.Buffer{&stdout, &again} {
			if code := run(context.Background(), args, environment(out, &stderr)); code != exitDone {
				t.Fatalf("%s: exit %d, %s", name, code, &stderr)
			}
		}
		if !bytes.Equal(stdout.Bytes(), again.Bytes()) {
			t.Errorf("%s: the second time other bytes came", name)
		}
		instance, err := jsonschema.UnmarshalJSON(&stdout)
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(instance); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestRiseBrokenOutput(t *testing.T) {
	for _, args := range [][]string{{"rise", "job.yaml"}, {"rise", "job.yaml", "--json"}} {
		var stderr bytes.Buffer
		env := environment(brokenPipe{}, &stderr)
		env.ReadFile = func(string) ([]byte, error) { return houses.Get(t, "quillfeather").Bytes, nil }
		if code := run(context.Background(), args, env); code != exitFault {
			t.Errorf("%v: exit %d, want %d", args, code, exitFault)
		}
	}
}
