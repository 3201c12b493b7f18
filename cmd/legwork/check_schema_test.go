package main

import (
	"bytes"
	"context"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"legwork/internal/houses"
)

// The machine form of every house, by every edition, is what docs/formats says.
func TestCheckFormIsDocumented(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../../docs/formats/check.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range houses.Names() {
		var stdout, stderr bytes.Buffer
		file := "../../testdata/houses/" + name + ".yaml"
		if code := run(context.Background(), []string{"check", file, "--json", "--edition", "2017,2020,2023"}, environment(&stdout, &stderr)); code > exitStop {
			t.Fatalf("%s: exit %d, %s", name, code, &stderr)
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

// The schema can refuse: a verdict that is none, an "ask" that names no fact.
func TestSchemaRefuses(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../../docs/formats/check.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	run(context.Background(), []string{"check", "../../testdata/houses/quillfeather.yaml", "--json"}, environment(&stdout, &stderr))
	for _, c := range [][2]string{{`"verdict": "ok"`, `"verdict": "fine"`}, {`"verdict": "ok",` + "\n" + `      "edition"`, `"verdict": "ask",` + "\n" + `      "edition"`}, {"check/1", "check/2"}} {
		if !bytes.Contains(stdout.Bytes(), []byte(c[0])) {
			t.Fatalf("the report holds no %s", c[0])
		}
		bad := bytes.Replace(stdout.Bytes(), []byte(c[0]), []byte(c[1]), 1)
		instance, err := jsonschema.UnmarshalJSON(bytes.NewReader(bad))
		if err != nil {
			t.Fatal(err)
		}
		if schema.Validate(instance) == nil {
			t.Errorf("%s for %s was accepted", c[1], c[0])
		}
	}
}
