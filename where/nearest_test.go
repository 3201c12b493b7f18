package where_test

import (
	"slices"
	"testing"

	"legwork/where"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	known := []string{"length", "raceway", "conductor", "ambient", "height", "circuits", "to", "from"}
	for word, want := range map[string]string{
		"lenght":     "length", // swapped
		"lengh":      "length", // left out
		"racewayy":   "raceway",
		"Conductor":  "conductor",
		"ambiant":    "ambient",
		"circits":    "circuits",
		"form":       "from",
		"ot":         "to",
		"busbar":     "", // nothing like it
		"x":          "",
		"":           "",
		"conduktors": "conductor",
	} {
		if got := where.Nearest(word, known); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", word, got, want)
		}
	}
	if got := where.Nearest("length", nil); got != "" {
		t.Errorf("of no known words %q is nearest", got)
	}
}

func TestNearestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-zäΩ]{4,12}`).Draw(t, "word")
		others := rapid.SliceOf(rapid.StringMatching(`[a-z]{1,12}`)).Draw(t, "others")
		if got := where.Nearest(word, append(others, word)); got != word {
			t.Fatalf("a known word %q is nearest to %q", word, got)
		}
		letters := []rune(word)
		at := rapid.IntRange(0, len(letters)-1).Draw(t, "at")
		if got := where.Nearest(string(slices.Delete(letters, at, at+1)), []string{word}); got != word {
			t.Fatalf("%q with one letter left out is not found", word)
		}
	})
}

func TestSuggest(t *testing.T) {
	known := []string{"busbar-100", "busbar-120"}
	if got, want := where.Suggest("busbar-12", known), "the nearest is busbar-120"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := where.Suggest("zzzzzzzzzz", known), "there is busbar-100, busbar-120"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
