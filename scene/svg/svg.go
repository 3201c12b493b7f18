// Package svg writes a scene as SVG: the same primitives that go on paper,
// same bytes for the same scene.
package svg

import (
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"legwork/scene"
	"legwork/scene/font"
)

// Options choose between a file to keep and a part of a page.
type Options struct {
	// SelfContained embeds the faces used, for a file that is read alone.
	// Otherwise faces are named by family only and the page's style sheet
	// brings them: see Stylesheet.
	SelfContained bool

	// Themed leaves colors to the page: ink becomes currentColor, paper,
	// muted ink and verdicts --paper, --muted, --ok, --look, --stop, --ask,
	// with the paper's own color where the page sets none.
	Themed bool

	// Fluid leaves out the size in mm, so that the page's layout decides.
	Fluid bool

	// IDPrefix goes before every id, for several drawings on one page.
	IDPrefix string

	// SheetURL gives the address of a sheet by number; nil or an empty
	// answer leaves the link out.
	SheetURL func(number string) string
}

// Write renders the scene. The warnings name lettering that lost characters
// and links that were left out as unusable.
func Write(out io.Writer, s *scene.Scene, o Options) (warnings []string, err error) {
	w := writer{Options: o, ids: map[string]bool{}}
	w.items(s.Items)
	var head strings.Builder
	if o.SelfContained {
		head.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	}
	head.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="scene"`)
	if !o.Fluid {
		fmt.Fprintf(&head, ` width="%smm" height="%smm"`, num(s.Size.W), num(s.Size.H))
	}
	fmt.Fprintf(&head, ` viewBox="0 0 %s %s" xml:space="preserve" fill="none" stroke-linejoin="round">`+"\n", num(s.Size.W), num(s.Size.H))
	if title := strings.TrimSpace(s.Number + " " + s.Title); title != "" {
		fmt.Fprintf(&head, "<title>%s</title>\n", esc(title))
	}
	if o.SelfContained {
		head.WriteString("<style>" + typography)
		for _, f := range w.faces {
			head.WriteString(face(f, "data:font/woff2;base64,"+base64.StdEncoding.EncodeToString(f.WOFF2())))
		}
		head.WriteString("</style>\n")
		fmt.Fprintf(&head, `<rect width="%s" height="%s" fill="%s"/>`+"\n", num(s.Size.W), num(s.Size.H), w.color(scene.Paper))
	}
	_, err = io.WriteString(out, head.String()+w.body.String()+"</svg>\n")
	return w.warnings, err
}

// typography keeps the browser from kerning, which the measures leave out.
const typography = ".scene text{font-kerning:none;font-variant-ligatures:none;white-space:pre}"

// Stylesheet is what a page needs to show scenes that are not self-contained;
// fontURL gives the address at which font.Face.WebName is served.
func Stylesheet(fontURL func(name string) string) string {
	css := ""
	for _, f := range font.Faces {
		css += face(f, fontURL(f.WebName())) + "\n"
	}
	return css + typography + "\n"
}

func face(f font.Face, url string) string {
	return fmt.Sprintf(`@font-face{font-family:"%s";font-weight:%d;font-display:block;src:url(%s) format("woff2")}`, f.Family(), f.Weight(), url)
}

type writer struct {
	Options
	body     strings.Builder
	ids      map[string]bool
	faces    []font.Face // used, in the order of font.Faces
	warnings []string
}

func (w *writer) items(items []scene.Item) {
	for _, item := range items {
		w.item(item)
	}
}

func (w *writer) item(item scene.Item) {
	switch i := item.(type) {
	case scene.Line:
		w.tag("path", i.Stroke, scene.None, `d="M%s %sL%s %s"`, num(i.A.X), num(i.A.Y), num(i.B.X), num(i.B.Y))
	case scene.Polyline:
		w.tag("path", i.Stroke, scene.None, `d="%s"`, path(i.Points))
	case scene.Polygon:
		w.tag("path", i.Stroke, i.Fill, `d="%sZ"`, path(i.Points))
	case scene.Rect:
		w.tag("rect", i.Stroke, i.Fill, `x="%s" y="%s" width="%s" height="%s"`, num(i.X), num(i.Y), num(i.W), num(i.H))
	case scene.Circle:
		w.tag("circle", i.Stroke, i.Fill, `cx="%s" cy="%s" r="%s"`, num(i.Center.X), num(i.Center.Y), num(i.R))
	case scene.Arc:
		from, to := i.At(i.From), i.At(i.To)
		large := 0
		if i.To-i.From > 180 {
			large = 1
		}
		w.tag("path", i.Stroke, scene.None, `d="M%s %sA%s %s 0 %d 0 %s %s"`,
			num(from.X), num(from.Y), num(i.R), num(i.R), large, num(to.X), num(to.Y))
	case scene.Text:
		w.text(i)
	case scene.Group:
		w.group(i)
	default:
		panic(fmt.Sprintf("svg: no way to draw %T", item))
	}
}

func (w *writer) tag(name string, s scene.Stroke, fill scene.Color, format string, args ...any) {
	if s.Width == 0 && fill == scene.None {
		return // holds room only
	}
	fmt.Fprintf(&w.body, "<"+name+" "+format, args...)
	if fill != scene.None {
		fmt.Fprintf(&w.body, ` fill="%s"`, w.color(fill))
	}
	if s.Width > 0 {
		fmt.Fprintf(&w.body, ` stroke="%s" stroke-width="%s"`, w.color(s.Color), num(s.Width))
		if p := s.Dash.Pattern(); p != nil {
			var parts []string
			for _, v := range p {
				parts = append(parts, num(v))
			}
			fmt.Fprintf(&w.body, ` stroke-dasharray="%s"`, strings.Join(parts, " "))
		}
	}
	w.body.WriteString("/>\n")
}

func (w *writer) text(t scene.Text) {
	value, lost := t.Face.Clean(t.Value)
	if lost != nil {
		w.warnings = append(w.warnings, fmt.Sprintf("%q: the face lacks %q", t.Value, lost))
	}
	if !slices.Contains(w.faces, t.Face) {
		w.faces = append(w.faces, t.Face)
		slices.Sort(w.faces)
	}
	fmt.Fprintf(&w.body, `<text x="%s" y="%s" font-family="%s" font-size="%s"`, num(t.At.X), num(t.At.Y), t.Face.Family(), num(t.Face.Em(t.Size)))
	if t.Face.Weight() != 400 {
		fmt.Fprintf(&w.body, ` font-weight="%d"`, t.Face.Weight())
	}
	if t.Anchor != scene.Start {
		fmt.Fprintf(&w.body, ` text-anchor="%s"`, t.Anchor)
	}
	if t.Angle != 0 {
		fmt.Fprintf(&w.body, ` transform="rotate(%s %s %s)"`, num(-t.Angle), num(t.At.X), num(t.At.Y))
	}
	fmt.Fprintf(&w.body, ` fill="%s">%s</text>`+"\n", w.color(t.Ink()), esc(value))
}

func (w *writer) group(g scene.Group) {
	url := w.href(g.Link)
	if url != "" {
		fmt.Fprintf(&w.body, `<a href="%s">`, esc(url))
	}
	w.body.WriteString("<g")
	if id := w.IDPrefix + g.ID; g.ID != "" {
		if !w.ids[id] { // a place drawn twice keeps one id
			fmt.Fprintf(&w.body, ` id="%s"`, esc(id))
			w.ids[id] = true
		}
		fmt.Fprintf(&w.body, ` data-place="%s"`, esc(g.ID))
	}
	if g.Layer != "" {
		fmt.Fprintf(&w.body, ` data-layer="%s"`, esc(g.Layer))
	}
	w.body.WriteString(">\n")
	if url != "" { // all of it can be touched, not its strokes alone
		b := g.Bounds().Rect()
		fmt.Fprintf(&w.body, `<rect x="%s" y="%s" width="%s" height="%s" fill="transparent"/>`+"\n", num(b.X), num(b.Y), num(b.W), num(b.H))
	}
	w.items(g.Items)
	w.body.WriteString("</g>")
	if url != "" {
		w.body.WriteString("</a>")
	}
	w.body.WriteByte('\n')
}

func (w *writer) href(link string) string {
	if number, ok := strings.CutPrefix(link, scene.SheetLink); ok {
		if w.SheetURL == nil {
			return ""
		}
		return w.SheetURL(number)
	}
	if link != "" && !scene.Followable(link) {
		w.warnings = append(w.warnings, fmt.Sprintf("link %q left out: expected /path, #part, http or https", link))
		return ""
	}
	return link
}

var themed = map[scene.Color]string{
	scene.Paper: "--paper", scene.Muted: "--muted",
	scene.OKColor: "--ok", scene.LookColor: "--look", scene.StopColor: "--stop", scene.AskColor: "--ask",
}

func (w *writer) color(c scene.Color) string {
	if !w.Themed {
		return string(c)
	}
	if c == scene.Ink {
		return "currentColor"
	}
	if name, ok := themed[c]; ok {
		return "var(" + name + "," + string(c) + ")"
	}
	return string(c)
}

func path(points []scene.Point) string {
	var b strings.Builder
	for i, p := range points {
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(num(p.X) + " " + num(p.Y))
	}
	return b.String()
}

// num prints mm to 0.001 without trailing zeros.
func num(v float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 3, 64), "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// esc escapes markup and replaces what XML forbids altogether.
//
// Source: XML 1.0, production Char.
func esc(s string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xfffe || r == 0xffff {
			return utf8.RuneError
		}
		return r
	}, s))
}
