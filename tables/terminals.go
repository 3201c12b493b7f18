package tables

import (
	"strconv"

	"legwork/quantity"
	"legwork/working"
)

// Terminal is a condition of 110.14(C) in words.
type Terminal struct {
	Where     string `col:"circuit_or_terminal"`
	Column    string `col:"column_C"`
	Condition string `col:"condition"`
	Clause    string `col:"clause"`
	Note      string `col:"note"`
}

// Terminals lists the conditions of 110.14(C).
var Terminals = rows[Terminal]("terminals")

// hundred is the circuit rating up to which unmarked terminals count as 60 C.
//
// Source: NFPA 70, 110.14(C)(1)(a) and (b).
const hundred quantity.Amps = 100

// TerminalColumn is the ampacity column that one terminal allows on a circuit
// of this rating. Marked is the temperature marked on the equipment, 0 where it
// bears no mark. A circuit has two ends and perhaps splices: the coolest
// governs. A mark of 90 C is taken as 75 C, as equipment is tested with
// conductors in that column even where a lug alone says more (common practice).
//
// Source: NFPA 70, 110.14(C)(1). The clause also lets terminals marked for
// 14 to 1 AWG, or for more than 1 AWG, decide; here the circuit's rating does.
func TerminalColumn(circuit quantity.Amps, marked int) (int, error) {
	t := table("terminals")
	switch marked {
	case 60:
		return 60, nil
	case 75, 90:
		return 75, nil
	case 0:
	default:
		return 0, t.none("terminal mark of "+strconv.Itoa(marked)+" C", "there is 60, 75, 90, or no mark")
	}
	if err := t.number(circuit); err != nil {
		return 0, err
	}
	if quantity.Compare(circuit.Float(), hundred.Float()) > 0 {
		return 75, nil
	}
	return 60, nil
}

// TerminalColumnOf is TerminalColumn as a temperature for a sheet.
func TerminalColumnOf(circuit quantity.Amps, marked int) working.Lookup {
	column, err := TerminalColumn(circuit, marked)
	return from("terminals").cell(quantity.Celsius(column), err)
}
