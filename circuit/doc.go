// Package circuit answers what the current does on its way: the voltage at every
// unit and bus, the rise over every section, what is lost in the wire, how far
// the neutral moves, how much a volt-watt curve takes away, and the current of a
// fault at the end of a run.
//
// It works twice. The one-line formula that a reviewer knows (RunRise, TrunkRise,
// Network.OneLine) takes rated current, unity power factor and table 8 at 75 °C.
// Network.Solve is the phasor solution: each unit sends out its power whatever
// the voltage, loads sit leg to neutral and leg to leg, the neutral carries what
// the legs leave over.
//
// A site is a tree: one source, and one way from every unit to it. So the network
// is solved by elimination along the tree, from the leaves to the source and
// back. That is exact (no fill-in, no iteration for a linear network), takes time
// in proportion to the number of sections, and bears sections without impedance.
// Constant power and volt-watt are met by Newton's method around it.
//
// It leaves out: loops, mutual reactance between circuits, capacitance, current
// through the earth beside the neutral, motors and faults over time.
//
// Phasors are RMS. A pair's voltage is the first conductor against the second.
// Power of a unit is positive when it generates, power of a load when it
// consumes; current of a section flows from the source outward.
//
// Source: NFPA 70, chapter 9, tables 8 and 9; the formulas are common practice.
package circuit
