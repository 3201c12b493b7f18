package scene

import (
	"fmt"
	"strconv"
	"strings"
)

// Dump prints the scene, one primitive a line, mm to 0.01: what golden files hold.
func (s *Scene) Dump() string {
	var b strings.Builder
	fmt.Fprintf(&b, "sheet %s %s %s\n", numbers(s.Size.W, s.Size.H), quoted(s.Number), quoted(s.Title))
	dump(&b, s.Items, "")
	return b.String()
}

func dump(b *strings.Builder, items []Item, indent string) {
	for _, item := range items {
		b.WriteString(indent)
		switch i := item.(type) {
		case Line:
			fmt.Fprintf(b, "line %s%s\n", points(i.A, i.B), painted(i.Stroke, None))
		case Polyline:
			fmt.Fprintf(b, "polyline %s%s\n", points(i.Points...), painted(i.Stroke, None))
		case Polygon:
			fmt.Fprintf(b, "polygon %s%s\n", points(i.Points...), painted(i.Stroke, i.Fill))
		case Rect:
			fmt.Fprintf(b, "rect %s%s\n", numbers(i.X, i.Y, i.W, i.H), painted(i.Stroke, i.Fill))
		case Circle:
			fmt.Fprintf(b, "circle %s%s\n", numbers(i.Center.X, i.Center.Y, i.R), painted(i.Stroke, i.Fill))
		case Arc:
			fmt.Fprintf(b, "arc %s%s\n", numbers(i.Center.X, i.Center.Y, i.R, i.From, i.To), painted(i.Stroke, None))
		case Text:
			fmt.Fprintf(b, "text %s %s %s %s", points(i.At), quoted(i.Value), numbers(i.Size), i.Face)
			if i.Anchor != Start {
				fmt.Fprintf(b, " %s", i.Anchor)
			}
			if i.Angle != 0 {
				fmt.Fprintf(b, " turned %s", numbers(i.Angle))
			}
			if i.Ink() != Ink {
				fmt.Fprintf(b, " %s", i.Color)
			}
			b.WriteByte('\n')
		case Group:
			b.WriteString("group")
			for _, f := range [][2]string{{"id", i.ID}, {"layer", i.Layer}, {"link", i.Link}} {
				if f[1] != "" {
					fmt.Fprintf(b, " %s=%s", f[0], quoted(f[1]))
				}
			}
			b.WriteByte('\n')
			dump(b, i.Items, indent+"  ")
		default:
			panic(fmt.Sprintf("scene: no dump for %T", item))
		}
	}
}

func painted(s Stroke, fill Color) string {
	out := ""
	if s.Width > 0 {
		out += fmt.Sprintf(" stroke %s %s %s", numbers(s.Width), s.Dash, s.Color)
	}
	if fill != None {
		out += " fill " + string(fill)
	}
	return out
}

func points(ps ...Point) string {
	var parts []string
	for _, p := range ps {
		parts = append(parts, numbers(p.X, p.Y))
	}
	return strings.Join(parts, " ")
}

func numbers(values ...float64) string {
	var parts []string
	for _, v := range values {
		s := strconv.FormatFloat(v, 'f', 2, 64)
		if s == "-0.00" {
			s = "0.00"
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, " ")
}

func quoted(s string) string { return strconv.Quote(s) }
