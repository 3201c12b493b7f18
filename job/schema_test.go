package job_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"legwork/internal/houses"
	"legwork/job"
)

var update = flag.Bool("update", false, "rewrite the generated schema")

const schemaFile = "../docs/formats/job.schema.json"

func TestSchemaIsCurrent(t *testing.T) {
	want, err := job.Schema()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(schemaFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is stale; run go test ./job -update", schemaFile)
	}
}

// schema is compiled by a validator that is not ours, with the drafts' own
// meta-schema as judge of the schema itself.
func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	b, err := job.Schema()
	if err != nil {
		t.Fatal(err)
	}
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.schema.json", parsed); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plain reads YAML as an editor does, without our reader.
func plain(t *testing.T, src []byte) any {
	t.Helper()
	var v any
	if err := yaml.Load(src, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSchemaTakesHousesAndStartingDocument(t *testing.T) {
	s := schema(t)
	for _, h := range houses.All(t) {
		if err := s.Validate(plain(t, h.Bytes)); err != nil {
			t.Errorf("%s: %v", h.Name, err)
		}
	}
	if err := s.Validate(plain(t, job.Starting("7 Elm Street"))); err != nil {
		t.Errorf("starting document: %v", err)
	}
}

func TestSchemaRefuses(t *testing.T) {
	s := schema(t)
	good := string(houses.Get(t, "quillfeather").Bytes)
	for name, c := range map[string][2]string{
		"unknown key":         {"    busbar: 200 A", "    busber: 200 A"},
		"no unit":             {"    length: 45 ft", "    length: 45"},
		"text without unit":   {"    length: 45 ft", `    length: "45"`},
		"wrong unit":          {"    length: 45 ft", "    length: 45 A"},
		"wrong word":          {"where: attic", "where: cellar"},
		"required key gone":   {"    module: PV-405\n", ""},
		"rows that are words": {"      rows: 2", "      rows: two"},
	} {
		if bytes.Count([]byte(good), []byte(c[0])) != 1 {
			t.Fatalf("%s: %q does not stand once", name, c[0])
		}
		if err := s.Validate(plain(t, bytes.Replace([]byte(good), []byte(c[0]), []byte(c[1]), 1))); err == nil {
			t.Errorf("%s passed", name)
		}
	}
}

// TestSchemaFormsAreTheReaders holds the patterns against texts that the reader
// is known to take.
func TestSchemaFormsAreTheReaders(t *testing.T) {
	s := schema(t)
	good := houses.Get(t, "quillfeather").Bytes
	for _, c := range [][2]string{
		{"    length: 45 ft", "    length: 45' 0\""}, {"    pitch: 22 deg", "    pitch: 5/12"}, {"height: 4 in", "height: 3 7/8 in"},
		{"current: 8.1 kA", "current: 8100 A"}, {"  hottest: 34 C", "  hottest: 93.2 F"}, {"  elevation: 96 m", "  elevation: 315 ft"},
	} {
		src := bytes.Replace(good, []byte(c[0]), []byte(c[1]), 1)
		if _, err := job.Parse("q.yaml", src); err != nil {
			t.Errorf("reader: %v", err)
		}
		if err := s.Validate(plain(t, src)); err != nil {
			t.Errorf("schema: %s: %v", c[1], err)
		}
	}
}
