// Package pdf writes scenes as one PDF, a page a sheet: embedded faces cut to
// the characters used, text that can be selected, bookmarks, links between
// sheets. Same scenes and same Options give the same bytes.
//
// It leaves out tags for reading order and the layers of a scene.
package pdf

import (
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"legwork/scene"
	"legwork/scene/font"
)

// Options describe the document.
type Options struct {
	Title   string
	Author  string    // the firm
	Lang    string    // "en-US" when empty
	Created time.Time // stands in the file; the clock is never asked
}

// Write renders the sheets in order. The warnings name lettering that lost
// characters (a visible mark stands there) and links that were left out.
func Write(out io.Writer, sheets []*scene.Scene, o Options) (warnings []string, err error) {
	if len(sheets) == 0 {
		return nil, fmt.Errorf("pdf: no sheets")
	}
	defer func() { // the library panics on some faults of its own
		if r := recover(); r != nil {
			err = fmt.Errorf("pdf: %v", r)
		}
	}()
	w := writer{page: map[string]int{}}
	w.pdf = fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: size(sheets[0])})
	w.pdf.SetAutoPageBreak(false, 0)
	w.pdf.SetMargins(0, 0, 0)
	w.pdf.SetCatalogSort(true)
	w.pdf.SetCreationDate(o.Created.UTC())
	w.pdf.SetModificationDate(o.Created.UTC())
	w.pdf.SetProducer("legwork", true)
	w.pdf.SetTitle(clean(o.Title), true)
	w.pdf.SetAuthor(clean(o.Author), true)
	if o.Lang == "" {
		o.Lang = "en-US"
	}
	w.pdf.SetLang(o.Lang)
	w.pdf.SetDisplayMode("fullpage", "single")
	for _, f := range font.Faces {
		w.pdf.AddUTF8FontFromBytes(f.String(), "", f.TTF())
	}
	for i, s := range sheets {
		if s.Number != "" {
			w.page[s.Number] = i + 1
		}
	}
	for _, s := range sheets {
		w.pdf.AddPageFormat("P", size(s))
		w.pdf.SetLineJoinStyle("round")
		w.where = s.Number
		if name := strings.TrimSpace(s.Number + " " + s.Title); name != "" {
			w.pdf.Bookmark(clean(name), 0, 0)
		}
		w.items(s.Items)
	}
	if err := w.pdf.Output(out); err != nil {
		return w.warnings, fmt.Errorf("pdf: %w", err)
	}
	return w.warnings, nil
}

func size(s *scene.Scene) fpdf.SizeType { return fpdf.SizeType{Wd: s.Size.W, Ht: s.Size.H} }

// clean keeps characters from names in the file that its library cannot write.
func clean(s string) string {
	s, _ = font.Regular.Clean(s)
	return s
}

type writer struct {
	pdf      *fpdf.Fpdf
	page     map[string]int // by sheet number, from 1
	where    string         // sheet number, for warnings
	warnings []string
}

func (w *writer) warn(format string, args ...any) {
	w.warnings = append(w.warnings, strings.TrimSpace(w.where+" ")+": "+fmt.Sprintf(format, args...))
}

func (w *writer) items(items []scene.Item) {
	for _, item := range items {
		w.item(item)
	}
}

func (w *writer) item(item scene.Item) {
	switch i := item.(type) {
	case scene.Line:
		w.path([]scene.Point{i.A, i.B}, false, i.Stroke, scene.None)
	case scene.Polyline:
		w.path(i.Points, false, i.Stroke, scene.None)
	case scene.Polygon:
		w.path(i.Points, true, i.Stroke, i.Fill)
	case scene.Rect:
		w.path(i.Corners(), true, i.Stroke, i.Fill)
	case scene.Circle:
		if style := w.paint(i.Stroke, i.Fill); style != "" {
			w.pdf.Circle(i.Center.X, i.Center.Y, i.R, style)
		}
	case scene.Arc:
		if style := w.paint(i.Stroke, scene.None); style != "" {
			w.pdf.Arc(i.Center.X, i.Center.Y, i.R, i.R, 0, i.From, i.To, style)
		}
	case scene.Text:
		w.text(i)
	case scene.Group:
		w.items(i.Items)
		w.link(i)
	default:
		panic(fmt.Sprintf("no way to draw %T", item))
	}
}

func (w *writer) path(points []scene.Point, closed bool, s scene.Stroke, fill scene.Color) {
	style := w.paint(s, fill)
	if style == "" || len(points) < 2 {
		return
	}
	for i, p := range points {
		if i == 0 {
			w.pdf.MoveTo(p.X, p.Y)
		} else {
			w.pdf.LineTo(p.X, p.Y)
		}
	}
	if closed {
		w.pdf.ClosePath()
	}
	w.pdf.DrawPath(style)
}

// paint sets pen and fill and names what is to be painted; "" for nothing.
func (w *writer) paint(s scene.Stroke, fill scene.Color) string {
	style := ""
	if fill != scene.None {
		r, g, b := fill.RGB()
		w.pdf.SetFillColor(int(r), int(g), int(b))
		style += "F"
	}
	if s.Width > 0 {
		r, g, b := s.Color.RGB()
		w.pdf.SetDrawColor(int(r), int(g), int(b))
		w.pdf.SetLineWidth(s.Width)
		w.pdf.SetDashPattern(s.Dash.Pattern(), 0)
		style += "D"
	}
	return style
}

func (w *writer) text(t scene.Text) {
	value, lost := t.Face.Clean(t.Value)
	if lost != nil {
		w.warn("%q: the face lacks %q", t.Value, lost)
	}
	if value == "" {
		return
	}
	at := t.Start()
	w.pdf.SetFont(t.Face.String(), "", 0)
	w.pdf.SetFontUnitSize(t.Face.Em(t.Size))
	r, g, b := t.Ink().RGB()
	w.pdf.SetTextColor(int(r), int(g), int(b))
	if t.Angle != 0 {
		w.pdf.TransformBegin()
		w.pdf.TransformRotate(t.Angle, at.X, at.Y)
		defer w.pdf.TransformEnd()
	}
	w.pdf.Text(at.X, at.Y, value)
}

func (w *writer) link(g scene.Group) {
	if g.Link == "" {
		return
	}
	box := g.Bounds().Rect()
	number, toSheet := strings.CutPrefix(g.Link, scene.SheetLink)
	switch {
	case toSheet:
		page, here := w.page[number]
		if !here {
			return // printed without that sheet
		}
		id := w.pdf.AddLink()
		w.pdf.SetLink(id, 0, page)
		w.pdf.Link(box.X, box.Y, box.W, box.H, id)
	case strings.HasPrefix(g.Link, "http") && scene.Followable(g.Link):
		w.pdf.LinkString(box.X, box.Y, box.W, box.H, g.Link)
	case scene.Followable(g.Link): // leads somewhere on the web page only
	default:
		w.warn("link %q left out: expected sheet:NUMBER, http or https", g.Link)
	}
}
