// Package tables answers what the code's tables say: one embedded CSV a table,
// one typed function a question.
//
// Each file under data names its source, how far it was compared with print,
// and its clause by edition. Digits stay as printed. A missing row is an error
// that says what there is; nothing is interpolated, and the next row up is
// taken only where the clause says so.
//
// A question has a plain form for planning and drawing, Ampacity, and, where
// the answer is a quantity, a form for shown arithmetic, AmpacityOf, which
// returns a working.Lookup:
//
//	w.Cell("A_90", "table ampacity", tables.AmpacityOf(size, material, 90), sizeTerm, materialTerm)
//
// Get and Names give any table as rows of text.
//
// It leaves out formulas (package circuit) and what a rule makes of a figure
// (package rules). Sources: NFPA 70, editions 2017, 2020, 2023; ANSI C84.1;
// IEEE 1547; each named in its file.
package tables
