package place

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"sync"

	"legwork/quantity"
)

//go:embed data/zones.bin.gz
var packedZones []byte

// corner is a point in 1e-5 degrees, exact as in the file.
type corner struct{ x, y int32 }

const scale = 1e5

// ring is a closed line of corners.
type ring []corner

// polygon is an outer ring and its holes, with the box around it.
type polygon struct {
	rings     []ring
	low, high corner
}

// zone is a time zone with its land.
type zone struct {
	name, clock string // clock: the first zone by name that shows the same time from 2020 on
	polygons    []polygon
}

// zones unpacks the borders. A broken file is our own bug, hence the panic.
var zones = sync.OnceValue(func() []zone {
	r, err := gzip.NewReader(bytes.NewReader(packedZones))
	if err != nil {
		panic(err)
	}
	b, err := io.ReadAll(r)
	if err != nil {
		panic(err)
	}
	u := unpacker{b}
	out := make([]zone, u.number())
	for i := range out {
		out[i].name, out[i].clock = u.text(), u.text()
		out[i].polygons = make([]polygon, u.number())
		for j := range out[i].polygons {
			out[i].polygons[j] = u.polygon()
		}
	}
	if len(u.rest) > 0 {
		panic(fmt.Sprintf("place: %d bytes after the last zone", len(u.rest)))
	}
	return out
})

type unpacker struct{ rest []byte }

func (u *unpacker) number() int64 {
	v, n := binary.Varint(u.rest)
	if n <= 0 {
		panic("place: the zone file is cut off")
	}
	u.rest = u.rest[n:]
	return v
}

func (u *unpacker) text() string {
	n := u.number()
	s := string(u.rest[:n])
	u.rest = u.rest[n:]
	return s
}

func (u *unpacker) polygon() polygon {
	p := polygon{rings: make([]ring, u.number()), low: corner{math.MaxInt32, math.MaxInt32}, high: corner{math.MinInt32, math.MinInt32}}
	for i := range p.rings {
		r := make(ring, u.number())
		var c corner
		for j := range r {
			c.x += int32(u.number())
			c.y += int32(u.number())
			r[j] = c
			p.low = corner{min(p.low.x, c.x), min(p.low.y, c.y)}
			p.high = corner{max(p.high.x, c.x), max(p.high.y, c.y)}
		}
		p.rings[i] = r
	}
	return p
}

// contains casts a ray east and counts the sides that it crosses, holes too.
func (p polygon) contains(x, y float64) bool {
	if x < float64(p.low.x) || x > float64(p.high.x) || y < float64(p.low.y) || y > float64(p.high.y) {
		return false
	}
	inside := false
	for _, r := range p.rings {
		for i, b := range r {
			a := r[(i+len(r)-1)%len(r)]
			ay, by := float64(a.y), float64(b.y)
			if (ay > y) == (by > y) {
				continue
			}
			if at := float64(a.x) + (y-ay)/(by-ay)*float64(b.x-a.x); at > x {
				inside = !inside
			}
		}
	}
	return inside
}

// distance to the nearest side, on a plane that touches the earth at the point;
// +Inf when the box around the polygon lies farther than most.
func (p polygon) distance(x, y float64, most quantity.Feet) quantity.Feet {
	tall := float64(earthRadius) * math.Pi / 180 / scale // feet a unit, north
	wide := tall * math.Cos(y/scale*math.Pi/180)
	if away(x, p.low.x, p.high.x)*wide > float64(most) || away(y, p.low.y, p.high.y)*tall > float64(most) {
		return quantity.Feet(math.Inf(1))
	}
	nearest := math.Inf(1)
	for _, r := range p.rings {
		for i, b := range r {
			a := r[(i+len(r)-1)%len(r)]
			nearest = min(nearest, toSide((float64(a.x)-x)*wide, (float64(a.y)-y)*tall, (float64(b.x)-x)*wide, (float64(b.y)-y)*tall))
		}
	}
	return quantity.Feet(nearest)
}

// away is how far v lies outside of low to high.
func away(v float64, low, high int32) float64 {
	return max(0, float64(low)-v, v-float64(high))
}

// toSide is the distance of the origin from the line between two points.
func toSide(ax, ay, bx, by float64) float64 {
	dx, dy := bx-ax, by-ay
	along := 0.0
	if length := dx*dx + dy*dy; length > 0 {
		along = max(0, min(1, -(ax*dx+ay*dy)/length))
	}
	return math.Hypot(ax+along*dx, ay+along*dy)
}
