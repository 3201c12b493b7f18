package web_test

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"
)

// TestContrast holds text on paper and wash to WCAG 2.2: 4.5 (AA, 1.4.3), in
// the sun theme 7 (AAA, 1.4.6).
func TestContrast(t *testing.T) {
	css, err := os.ReadFile("ui/theme.css")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile(`(?s)(:root[^{]*)\{([^}]*)\}`).FindAllSubmatch(css, -1)
	if len(blocks) != 4 {
		t.Fatalf("%d themes in theme.css, want paper, sun, night and night by the device's wish", len(blocks))
	}
	color := regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]+);`)
	for _, b := range blocks {
		theme, least := string(b[1]), 4.5
		if regexp.MustCompile("sun").MatchString(theme) {
			least = 7
		}
		c := map[string]float64{}
		for _, m := range color.FindAllSubmatch(b[2], -1) {
			c[string(m[1])] = luminance(t, string(m[2]))
		}
		for _, ink := range []string{"ink", "soft", "touch", "ok", "look", "stop", "ask"} {
			if _, ok := c[ink]; !ok {
				t.Errorf("%s: no color for %s", theme, ink)
			}
			for _, ground := range []string{"paper", "wash"} {
				if got := contrast(c[ink], c[ground]); got < least {
					t.Errorf("%s: %s on %s has %.2f, want %.1f", theme, ink, ground, got, least)
				}
			}
		}
		if got, ok := c["on-touch"]; ok && contrast(got, c["touch"]) < least {
			t.Errorf("%s: button pressed has %.2f", theme, contrast(got, c["touch"]))
		}
	}
}

// luminance is the relative luminance of #rgb or #rrggbb.
// Source: WCAG 2.2, definition of relative luminance.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 4 {
		hex = "#" + hex[1:2] + hex[1:2] + hex[2:3] + hex[2:3] + hex[3:4] + hex[3:4]
	}
	part := func(at int) float64 {
		n, err := strconv.ParseUint(hex[at:at+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		v := float64(n) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*part(1) + 0.7152*part(3) + 0.0722*part(5)
}

// contrast is the contrast ratio, 1 to 21.
// Source: WCAG 2.2, definition of contrast ratio.
func contrast(a, b float64) float64 { return (max(a, b) + 0.05) / (min(a, b) + 0.05) }

// TestContrastByHand holds the formula to two pairs that can be checked by
// hand: black on white is (1 + 0.05) / (0 + 0.05) = 21; #777777 has
// ((0.46667 + 0.055) / 1.055)^2.4 = 0.1845, so on white 1.05 / 0.2345 = 4.48.
func TestContrastByHand(t *testing.T) {
	if got := contrast(luminance(t, "#000"), luminance(t, "#fff")); math.Abs(got-21) > 0.005 {
		t.Errorf("black on white: %.3f, want 21", got)
	}
	if got := contrast(luminance(t, "#777777"), luminance(t, "#fff")); math.Abs(got-4.48) > 0.005 {
		t.Errorf("#777 on white: %.3f, want 4.48", got)
	}
}
