// Command zones cuts the time zones of the United States out of the boundary
// data of the module tzf-rel-lite and writes them as the file that package place
// embeds. It is a module of its own so that the boundary library and what it
// pulls in stay out of the program.
//
//	go run . ../../place/data/zones.bin.gz
//
// The data are an extract of OpenStreetMap by way of timezone-boundary-builder,
// under the Open Database License; see place/data/ZONES-LICENSE.txt.
package main

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"time"
	_ "time/tzdata"

	tzfrellite "github.com/ringsaturn/tzf-rel-lite"
	pb "github.com/ringsaturn/tzf/gen/go/tzf/v1"
	"github.com/ringsaturn/tzf/reduce"
	"google.golang.org/protobuf/proto"
)

// wanted are the zones of the country and its territories, by name or by the
// region before the last slash.
//
// Source: zone.tab of the IANA time zone database, country codes US, PR, VI, GU, MP, AS.
var wanted = []string{
	"America/New_York", "America/Detroit", "America/Kentucky/", "America/Indiana/", "America/Chicago",
	"America/Menominee", "America/North_Dakota/", "America/Denver", "America/Boise", "America/Phoenix",
	"America/Los_Angeles", "America/Anchorage", "America/Juneau", "America/Sitka", "America/Metlakatla",
	"America/Yakutat", "America/Nome", "America/Adak", "Pacific/Honolulu",
	"America/Puerto_Rico", "America/St_Thomas", "Pacific/Guam", "Pacific/Saipan", "Pacific/Pago_Pago",
}

func keep(name string) bool {
	return slices.ContainsFunc(wanted, func(w string) bool {
		return w == name || strings.HasSuffix(w, "/") && strings.HasPrefix(name, w)
	})
}

// scale is units a degree: 1e-5° is 1.1 m.
const scale = 1e5

func main() {
	if err := run(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(path string) error {
	var packed pb.CompressedTimezones
	if err := proto.Unmarshal(tzfrellite.LiteCompressData, &packed); err != nil {
		return err
	}
	all, err := reduce.Decompress(&packed)
	if err != nil {
		return err
	}
	var zones []*pb.Timezone
	for _, z := range all.Timezones {
		if keep(z.Name) {
			zones = append(zones, z)
		}
	}
	slices.SortFunc(zones, func(a, b *pb.Timezone) int { return strings.Compare(a.Name, b.Name) })
	clocks, err := clockOf(zones)
	if err != nil {
		return err
	}

	var out bytes.Buffer
	number(&out, int64(len(zones)))
	for _, z := range zones {
		text(&out, z.Name)
		text(&out, clocks[z.Name])
		number(&out, int64(len(z.Polygons)))
		for _, p := range z.Polygons {
			number(&out, int64(1+len(p.Holes)))
			ring(&out, p.Points)
			for _, h := range p.Holes {
				ring(&out, h.Points)
			}
		}
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	w, err := gzip.NewWriterLevel(f, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := w.Write(out.Bytes()); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	fmt.Fprintf(os.Stderr, "%d zones of %s, %d bytes before packing\n", len(zones), packed.Version, out.Len())
	return f.Close()
}

// clockOf names for each zone the first one, by name, that shows the same time
// at every hour from 2020 to 2037. At a border between two of those nobody needs
// to be asked.
func clockOf(zones []*pb.Timezone) (map[string]string, error) {
	seen := map[string]string{} // offsets by the hour → first name
	out := map[string]string{}
	for _, z := range zones {
		loc, err := time.LoadLocation(z.Name)
		if err != nil {
			return nil, err
		}
		var offsets strings.Builder
		last := 1
		for t := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC); t.Year() < 2038; t = t.Add(time.Hour) {
			if _, offset := t.In(loc).Zone(); offset != last {
				fmt.Fprintf(&offsets, "%d %d;", t.Unix(), offset)
				last = offset
			}
		}
		if _, ok := seen[offsets.String()]; !ok {
			seen[offsets.String()] = z.Name
		}
		out[z.Name] = seen[offsets.String()]
	}
	return out, nil
}

func number(b *bytes.Buffer, v int64) { b.Write(binary.AppendVarint(nil, v)) }

func text(b *bytes.Buffer, s string) {
	number(b, int64(len(s)))
	b.WriteString(s)
}

// ring writes longitude and latitude of each corner as steps from the last.
func ring(b *bytes.Buffer, points []*pb.Point) {
	number(b, int64(len(points)))
	var x, y int64
	for _, p := range points {
		nx, ny := int64(math.Round(float64(p.Lng)*scale)), int64(math.Round(float64(p.Lat)*scale))
		number(b, nx-x)
		number(b, ny-y)
		x, y = nx, ny
	}
}
