package words

import (
	"maps"
	"slices"
	"strings"
	"testing"
)

// read gives the embedded files without Embedded's panic.
func read(t *testing.T) map[string][]byte {
	t.Helper()
	texts := map[string][]byte{}
	for _, lang := range Languages {
		b, err := files.ReadFile(lang + ".json")
		if err != nil {
			t.Fatal(err)
		}
		texts[lang] = b
	}
	return texts
}

func TestLanguagesHaveTheSameKeysAndSlots(t *testing.T) {
	c, err := Parse(read(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Keys()) == 0 {
		t.Fatal("the catalogue is empty")
	}
	// Parse has judged; judge once more without it.
	for _, lang := range Languages[1:] {
		a, b := c.sentences[Languages[0]], c.sentences[lang]
		if ka, kb := slices.Sorted(maps.Keys(a)), slices.Sorted(maps.Keys(b)); !slices.Equal(ka, kb) {
			t.Errorf("keys of %s and %s differ: %q, %q", Languages[0], lang, ka, kb)
		}
		for key := range a {
			if strings.Count(a[key], "{") != strings.Count(b[key], "{") {
				t.Errorf("%s: %q, %q", key, a[key], b[key])
			}
		}
	}
}

// The stages and verdicts are the contract of the program's pages.
func TestStagesAndVerdictsHaveWords(t *testing.T) {
	for _, key := range strings.Fields("stage.survey stage.plan stage.proof stage.sheets stage.build " +
		"stage.energize stage.meter stage.handover stage.look_back verdict.ok verdict.look verdict.ask verdict.stop") {
		for _, lang := range Languages {
			if s, err := Embedded().Say(lang, key, nil); err != nil || s == "" {
				t.Errorf("%s %s: %q, %v", lang, key, s, err)
			}
		}
	}
}

// A tool says what was measured; whether something is safe it never says.
func TestNoSentenceSaysSafe(t *testing.T) {
	for lang, sentences := range Embedded().sentences {
		for key, s := range sentences {
			for _, word := range []string{"safe", "segur"} {
				if strings.Contains(strings.ToLower(s), word) {
					t.Errorf("%s.json: %s says %q", lang, key, s)
				}
			}
		}
	}
}

func TestEverySlotIsAName(t *testing.T) {
	for lang, sentences := range Embedded().sentences {
		for key, s := range sentences {
			if rest := slot.ReplaceAllString(s, ""); strings.ContainsAny(rest, "{}") {
				t.Errorf("%s.json: %s: %q has a brace that is no slot", lang, key, s)
			}
		}
	}
}

func TestSay(t *testing.T) {
	c, err := Parse(map[string][]byte{
		"en": []byte(`{"landed": "{count} of {total} landed, {count} marked", "plain": "dead front"}`),
		"es": []byte(`{"plain": "tapa interior", "landed": "{count} marcados y {count} de {total} conectados"}`),
	})
	if err != nil {
		t.Fatal(err)
	}
	full := map[string]string{"count": "3", "total": "{count}"}
	for _, c2 := range []struct {
		name, lang, key string
		slots           map[string]string
		want, fault     string
	}{
		{"no slots", "en", "plain", nil, "dead front", ""},
		{"slot twice, value with braces kept", "en", "landed", full, "3 of {count} landed, 3 marked", ""},
		{"Spanish order", "es", "landed", full, "3 marcados y 3 de {count} conectados", ""},
		{"unknown language", "fr", "plain", nil, "", `language "fr"; expected one of en, es`},
		{"unknown key", "en", "landing", nil, "", `no words for "landing"`},
		{"slot left empty", "en", "landed", map[string]string{"count": "3"}, "", `landed: slots ["count"]; expected ["count" "total"]`},
		{"slot too many", "en", "plain", full, "", `plain: slots ["count" "total"]; expected []`},
	} {
		t.Run(c2.name, func(t *testing.T) {
			got, err := c.Say(c2.lang, c2.key, c2.slots)
			if got != c2.want {
				t.Errorf("got %q, want %q", got, c2.want)
			}
			if fault := ""; err != nil {
				if fault = err.Error(); fault != c2.fault {
					t.Errorf("got %s, want %s", fault, c2.fault)
				}
			} else if c2.fault != "" {
				t.Errorf("got no error, want %s", c2.fault)
			}
		})
	}
}

func TestParseRefuses(t *testing.T) {
	const good = `{"a": "one {x}"}`
	for _, c := range []struct{ name, es, want string }{
		{"key twice", `{"a": "un {x}", "a": "uno {x}"}`, "es.json: a: a second time"},
		{"key missing", `{}`, "es.json: a is missing; en.json has it"},
		{"key too many", `{"a": "un {x}", "b": "dos"}`, "en.json: b is missing; es.json has it"},
		{"other slot", `{"a": "un {y}"}`, `has the slots ["y"]; en.json has ["x"]`},
		{"slot missing", `{"a": "un"}`, `has the slots []; en.json has ["x"]`},
		{"nested", `{"a": {"b": "un {x}"}}`, "es.json: a: "},
		{"empty sentence", `{"a": " "}`, "es.json: a: empty"},
		{"no object", `[]`, "es.json: [; expected an object"},
		{"cut short", `{"a": "un {x}"`, "es.json: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse(map[string][]byte{"en": []byte(good), "es": []byte(c.es)})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}
