package web_test

import (
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
)

var pictures = flag.Bool("pictures", false, "make docs/pictures anew")

// picturesOf is the folder of the pictures; made.txt in it holds what each was
// made from.
var picturesOf = filepath.Join("..", "docs", "pictures")

// TestPicturesAreCurrent holds that the pictures in docs show what the program
// shows: it compares what they were made from, a drawing or a page with its
// style, by hash. Pixels differ from browser to browser and are not compared.
//
//	go test ./web -run TestPictures -pictures     makes them anew
func TestPicturesAreCurrent(t *testing.T) {
	base, jobs := demonstration(t)
	lark := house(t, jobs, "Larkbarrow")
	const sheetWide, sheetHigh = 1632, 1056 // 17 × 11 in at 96 pixels to the inch
	want := "# what each picture was made from; go test ./web -run TestPictures -pictures makes them anew\n"
	for _, p := range []struct {
		file   string
		from   []string
		window view
		scale  float64
	}{
		{"oneline.png", []string{lark + "/files/E-601.svg"}, view{width: sheetWide, height: sheetHigh, theme: "paper"}, 1400.0 / sheetWide},
		{"proof.png", []string{lark + "/proof", base + "/assets/app.css"}, view{width: 1440, height: 1000, theme: "paper"}, 1},
	} {
		sum := sha256.New()
		for _, address := range p.from {
			r, err := http.Get(address)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := io.Copy(sum, r.Body); err != nil || r.StatusCode != http.StatusOK {
				t.Fatalf("%s: status %d, %v", address, r.StatusCode, err)
			}
			_ = r.Body.Close()
		}
		want += fmt.Sprintf("%s %s\n", hex.EncodeToString(sum.Sum(nil)), p.file)
		if *pictures {
			b := open(t, browser(t), p.from[0], p.window)
			for ask[string](b, "document.fonts.status") != "loaded" {
				time.Sleep(50 * time.Millisecond)
			}
			shot := call(b, page.CaptureScreenshot, page.CaptureScreenshotParams{Clip: &page.Viewport{
				Width: float64(p.window.width), Height: float64(p.window.height), Scale: p.scale}})
			if err := os.WriteFile(filepath.Join(picturesOf, p.file), shot.Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	made := filepath.Join(picturesOf, "made.txt")
	if *pictures {
		if err := os.WriteFile(made, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(made)
	if err != nil || string(got) != want {
		t.Errorf("docs/pictures do not show what the program shows (%v); look at them after go test ./web -run TestPictures -pictures", err)
	}
	for line := range strings.Lines(string(got)) {
		if _, name, ok := strings.Cut(strings.TrimSpace(line), " "); ok && !strings.HasPrefix(line, "#") {
			if _, err := os.Stat(filepath.Join(picturesOf, name)); err != nil {
				t.Error(err)
			}
		}
	}
}
