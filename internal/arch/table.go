// Package arch holds which package may import which, as data, and judges the
// packages of this module by it. Imports point down only: values at the bottom,
// then the ground (tables, document, drawing, devices), the engine, what the
// engine makes, the faces on top. Tests may import what they like.
package arch

// Module is the name of this module.
const Module = "legwork"

// Root stands for the module's own package in the table.
const Root = "."

// Everywhere lists what every package may import, except those that stand in
// it: a row for one of these names all that it may.
var Everywhere = []string{"quantity", "working", "where"}

// Row is one package and what it may import beside Everywhere.
type Row struct {
	Package string
	May     []string
}

// All in a row means every package of the table but the commands.
const All = "all"

// Table is the layout of the house, bottom first. Packages that are still to
// come stand here already, so that they come where they belong.
var Table = []Row{
	// Values.
	{"where", nil},
	{"quantity", []string{"where"}}, // a faulty figure is told with its place
	{"words", nil},
	{"working", []string{"quantity", "where"}},

	// Ground.
	{"tables", nil},
	{"place", []string{"tables"}},
	{"job", []string{"tables"}}, // for the names that key tables: materials, insulations, raceways
	{"job/catalog", []string{"job"}},
	{"scene/font", nil},
	{"scene", []string{"scene/font"}},
	{"scene/symbol", []string{"scene", "scene/font"}},
	{"scene/line", []string{"scene", "scene/font", "scene/symbol"}},
	{"scene/frame", []string{"scene", "scene/font", "scene/symbol", "scene/line"}},
	{"scene/svg", []string{"scene", "scene/font"}},
	{"scene/pdf", []string{"scene", "scene/font"}},
	{"scene/dxf", []string{"scene", "scene/font"}},
	{"sun", nil},
	{"sun/weather", []string{"sun"}},
	{"sunspec", nil},
	{"scan", nil},
	{"circuit", []string{"tables"}},
	{"meter", []string{"circuit"}},
	{"meter/live", []string{"meter", "sunspec"}},

	// Engine.
	{"site", []string{"job", "tables", "circuit"}},
	{"rules", []string{"site", "job", "tables", "circuit"}}, // job for the names of its choices only
	{"plan", []string{"site", "job", "rules", "circuit", "tables"}},
	{"fixes", []string{"site", "job", "rules", "circuit", "tables", "plan"}},
	{"expect", []string{"site", "sun", "circuit"}},
	{"ctproof", []string{"site", "meter"}},
	{"rehearse", []string{"site", "meter", "circuit", "expect", "sunspec", "meter/live"}},
	{"field", []string{"site", "rules", "tables", "scan", "meter"}},
	{"lookback", []string{"site", "expect", "meter"}},

	// Products.
	{"sheets", []string{"site", "job", "plan", "rules", "circuit", "expect", "field", "ctproof", "lookback",
		"scene", "scene/font", "scene/symbol", "scene/line", "scene/frame", "words"}},
	{"handover", []string{"sheets", "scene/pdf", "field", "plan", "rules", "site", "job", "ctproof"}},
	{"store", []string{"field"}},

	// Faces.
	{Root, []string{"job"}},
	{"web", []string{All}},
	{"web/desk", []string{All}},
	{"web/gallery", []string{All}},
	{"cmd/legwork", []string{All}},
	{"cmd/pocket", []string{"ctproof", "field", "meter"}},
}

// clockless packages neither ask the time nor read the environment: the same
// input gives the same bytes. Those above may, and so may sunspec, whose sockets
// need deadlines.
func clockless(pkg string) bool {
	switch pkg {
	case "web", "web/gallery", "cmd/legwork", "cmd/pocket", "sunspec", "meter/live":
		return false
	}
	return !internal(pkg)
}
