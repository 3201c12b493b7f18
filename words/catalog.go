package words

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
)

//go:embed en.json es.json
var files embed.FS

// Languages are those of the catalogue, the first being the one that others are
// compared with.
var Languages = []string{"en", "es"}

// Catalog holds the sentences of each language by key.
type Catalog struct {
	sentences map[string]map[string]string // language, key
}

// Embedded is the catalogue of this program. A fault in it is a fault of the
// build and panics.
var Embedded = sync.OnceValue(func() *Catalog {
	texts := map[string][]byte{}
	for _, lang := range Languages {
		b, err := files.ReadFile(lang + ".json")
		if err != nil {
			panic(err)
		}
		texts[lang] = b
	}
	c, err := Parse(texts)
	if err != nil {
		panic(err)
	}
	return c
})

// Parse reads one flat JSON object a language. Keys and slots must be the same
// in all languages.
func Parse(texts map[string][]byte) (*Catalog, error) {
	c := &Catalog{map[string]map[string]string{}}
	for _, lang := range slices.Sorted(maps.Keys(texts)) {
		m, err := flat(texts[lang])
		if err != nil {
			return nil, fmt.Errorf("%s.json: %w", lang, err)
		}
		c.sentences[lang] = m
	}
	return c, c.compare()
}

// flat reads an object of text, refusing a key that stands there twice.
func flat(b []byte) (map[string]string, error) {
	d := json.NewDecoder(bytes.NewReader(b))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, fmt.Errorf("%v; expected an object", t)
	}
	m := map[string]string{}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return nil, err
		}
		var sentence string
		if err := d.Decode(&sentence); err != nil {
			return nil, fmt.Errorf("%v: %w", key, err)
		}
		k := key.(string) // an object's names are text
		if _, twice := m[k]; twice {
			return nil, fmt.Errorf("%s: a second time; expected each key once", k)
		}
		if strings.TrimSpace(sentence) == "" {
			return nil, fmt.Errorf("%s: empty; expected a sentence", k)
		}
		m[k] = sentence
	}
	_, err := d.Token()
	return m, err
}

// compare demands the same keys and slots of every language.
func (c *Catalog) compare() error {
	langs := slices.Sorted(maps.Keys(c.sentences))
	for _, a := range langs {
		for _, b := range langs {
			for _, key := range slices.Sorted(maps.Keys(c.sentences[a])) {
				other, ok := c.sentences[b][key]
				if !ok {
					return fmt.Errorf("%s.json: %s is missing; %s.json has it", b, key, a)
				}
				if sa, sb := Slots(c.sentences[a][key]), Slots(other); !slices.Equal(sa, sb) {
					return fmt.Errorf("%s.json: %s has the slots %q; %s.json has %q", b, key, sb, a, sa)
				}
			}
		}
	}
	return nil
}

var slot = regexp.MustCompile(`\{([a-z][a-z0-9_]*)\}`)

// Slots lists the slots of a sentence, sorted, each once.
func Slots(sentence string) []string {
	var out []string
	for _, m := range slot.FindAllStringSubmatch(sentence, -1) {
		out = append(out, m[1])
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Keys lists all keys, sorted.
func (c *Catalog) Keys() []string { return slices.Sorted(maps.Keys(c.sentences[Languages[0]])) }

// Has reports whether the catalogue knows the key.
func (c *Catalog) Has(key string) bool {
	_, ok := c.sentences[Languages[0]][key]
	return ok
}

// Say gives the sentence of key in a language with its slots filled. An unknown
// language or key, a slot left empty and one that the sentence does not have
// are errors: a crew must never read "{volts}".
func (c *Catalog) Say(lang, key string, slots map[string]string) (string, error) {
	sentences, ok := c.sentences[lang]
	if !ok {
		return "", fmt.Errorf("language %q; expected one of %s", lang, strings.Join(Languages, ", "))
	}
	sentence, ok := sentences[key]
	if !ok {
		return "", fmt.Errorf("no words for %q", key)
	}
	if got, want := slices.Sorted(maps.Keys(slots)), Slots(sentence); !slices.Equal(got, want) {
		return "", fmt.Errorf("%s: slots %q; expected %q", key, got, want)
	}
	return slot.ReplaceAllStringFunc(sentence, func(s string) string { return slots[s[1:len(s)-1]] }), nil
}
