// Package legwork embeds the invented houses for the demonstration.
package legwork

import "embed"

// Houses holds testdata/houses/*.yaml: one job document a house.
//
//go:embed testdata/houses/*.yaml
var Houses embed.FS
