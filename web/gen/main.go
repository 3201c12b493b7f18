// Command gen bundles the front end: ui/ in, dist/ out.
//
//	go run -C web/gen .            writes web/dist
//	go run -C web/gen . -out DIR   writes elsewhere, for the test that dist is current
//
// It is a module of its own, so that the bundler never enters the product's
// list of dependencies. It needs no Node. It strips types and does not check
// them; an editor or tsc does that with ui/tsconfig.json.
package main

import (
	"flag"
	"fmt"
	"os"

	"github.com/evanw/esbuild/pkg/api"
)

func main() {
	out := flag.String("out", "../dist", "folder to write")
	flag.Parse()
	if n := bundle("../ui", *out); n > 0 {
		fmt.Fprintf(os.Stderr, "gen: %d errors; nothing to commit\n", n)
		os.Exit(1)
	}
}

// bundle writes app.js, app.css and icon.svg and returns how many errors the bundler
// printed. Fonts stay outside: the server hands them out from scene/font.
func bundle(ui, out string) int {
	r := api.Build(api.BuildOptions{
		EntryPoints:       []string{ui + "/app.ts", ui + "/app.css", ui + "/icon.svg"},
		Outdir:            out,
		Bundle:            true,
		Write:             true,
		External:          []string{"/assets/*"},
		MinifyWhitespace:  true,
		MinifyIdentifiers: true,
		MinifySyntax:      true,
		Target:            api.ES2020,
		Charset:           api.CharsetUTF8,
		Loader:            map[string]api.Loader{".svg": api.LoaderCopy},
		Format:            api.FormatESModule,
		LegalComments:     api.LegalCommentsEndOfFile,
		LogLevel:          api.LogLevelWarning,
	})
	return len(r.Errors)
}
