package sheets

import (
	"legwork/scene"
)

// strip is one row of a flowing text: its height and how it is drawn with its
// top left corner at a point.
type strip struct {
	high float64
	draw func(at scene.Point, width float64) scene.Group
}

// block is strips that stay together where a column is long enough for them.
type block struct {
	strips []strip
	gap    float64 // before it, unless it begins a column
	again  *strip  // heads the part in the next column when the block is cut
	head   *strip  // stands above a block that begins a page
}

func (b *block) add(high float64, draw func(at scene.Point, width float64) scene.Group) {
	b.strips = append(b.strips, strip{high, draw})
}

func (b *block) high() float64 {
	sum := 0.0
	for _, s := range b.strips {
		sum += s.high
	}
	return sum
}

// flow sets blocks into columns, page after page.
type flow struct {
	paper  *paper
	number int     // of columns on a page
	gutter float64 // between columns

	page   *scene.Scene
	area   scene.Rect
	column int
	y      float64
}

func (f *flow) width() float64 {
	return (f.area.W - float64(f.number-1)*f.gutter) / float64(f.number)
}

// begin starts on a page that has something above the columns already.
func (f *flow) begin(page *scene.Scene, area scene.Rect) {
	f.page, f.area, f.column, f.y = page, area, 0, area.Y
}

func (f *flow) turn() error {
	if f.page != nil && f.column+1 < f.number {
		f.column++
		f.y = f.area.Y
		x := f.area.X + float64(f.column)*(f.width()+f.gutter) - f.gutter/2
		f.page.Add(scene.Line{A: scene.Point{X: x, Y: f.area.Y}, B: scene.Point{X: x, Y: f.area.Y + f.area.H}, Stroke: scene.Rule})
		return nil
	}
	page, room, err := f.paper.next()
	if err != nil {
		return err
	}
	f.begin(page, room.Drawing)
	return nil
}

func (f *flow) left() float64 { return f.area.Y + f.area.H - f.y }

// worthwhile is the room, mm, that is too large to be left empty below a block.
const worthwhile = 42.0

// add sets a block whole where that leaves little room empty; else it is cut
// between strips, with no fewer than three on either side.
func (f *flow) add(b block) error {
	if f.page == nil {
		if err := f.turn(); err != nil {
			return err
		}
	}
	if f.y > f.area.Y {
		f.y += b.gap
	}
	if b.high() > f.left() && f.left() < worthwhile && f.y > f.area.Y {
		if err := f.turn(); err != nil {
			return err
		}
	}
	if f.column == 0 && f.y == f.area.Y && b.head != nil {
		f.set(*b.head)
	}
	cut := b.high() > f.left()
	for i, s := range b.strips {
		if s.high > f.left() || cut && f.left() < f.area.H && i == len(b.strips)-3 && f.left() < s.high+b.strips[i+1].high+b.strips[i+2].high {
			if err := f.turn(); err != nil {
				return err
			}
			if f.column == 0 && b.head != nil {
				f.set(*b.head)
			}
			if b.again != nil {
				f.set(*b.again)
			}
		}
		f.set(s)
	}
	return nil
}

func (f *flow) set(s strip) {
	x := f.area.X + float64(f.column)*(f.width()+f.gutter)
	f.page.Add(s.draw(scene.Point{X: x, Y: f.y}, f.width()))
	f.y += s.high
}
