// Package circuit answers what the current does on its way: the voltage rise of
// trunk, home run and output circuit by the one-line formula that a reviewer
// knows.
//
// Assumes unity power factor and the resistance of table 8 at 75 °C; reactance
// is left out, as every sheet says.
//
// Source: NFPA 70, chapter 9, table 8; the formula is common practice.
package circuit
