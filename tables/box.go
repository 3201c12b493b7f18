package tables

import (
	"legwork/quantity"
	"legwork/working"
)

type boxRow struct {
	Size   quantity.Size        `col:"size"`
	Volume quantity.CubicInches `col:"volume_in3"`
}

var boxRows = rows[boxRow]("box-volumes")

// BoxVolume is the room that one conductor is counted with in a box.
//
// Source: NFPA 70, Table 314.16(B), from memory.
// Valid: 14 to 6 AWG; larger conductors go by 314.28.
func BoxVolume(size quantity.Size) (quantity.CubicInches, error) {
	var there []quantity.Size
	for _, r := range boxRows() {
		if r.Size == size {
			return r.Volume, nil
		}
		there = append(there, r.Size)
	}
	return 0, table("box-volumes").none(size.String(), span(there)+"; larger ones go by 314.28")
}

// BoxVolumeOf is BoxVolume for a sheet.
func BoxVolumeOf(size quantity.Size) working.Lookup {
	return from("box-volumes").cell(BoxVolume(size))
}
