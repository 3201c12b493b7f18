// Package meter says what a meter's channels read: the readings of a named
// state, as typed, from a file or live; and what they would read for any wiring of
// CTs and voltage leads, right or wrong (Placement, Wiring, Fault).
//
// Conventions, held everywhere below this package:
//
//	grid channel        positive watts are import: power from the grid to the house
//	production channel  positive watts are generation: from the microinverters to the panel
//	var                 positive for an inductive load while importing
//	power factor        carries the sign of the watts on some meters and none on others,
//	                    so only its size is used
//	volts, amps         RMS, never negative; what looks negative is a sign of watts
//
// A channel is named G1, G2 (grid, by leg), P1, P2 (production) and refers to
// the voltage of its own leg unless its placement says otherwise.
//
// A small reading has no sign: below the range of its CT a meter shows a few
// watts of either sign, and nothing follows from them.
//
// Sources: the identity S = Σ K·S of the project's metering reference, derived
// from Kirchhoff's current law and the definition of complex power; IEEE 1459
// for active power and power factor of sinusoidal quantities.
package meter
