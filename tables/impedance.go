package tables

import (
	"fmt"

	"legwork/quantity"
	"legwork/working"
)

type impedanceRow struct {
	Size quantity.Size `col:"size"`

	X      quantity.OhmsPerKFt `col:"X_pvc_or_al"`
	XSteel quantity.OhmsPerKFt `col:"X_steel"`

	RCuPVC   quantity.OhmsPerKFt `col:"Rcu_pvc"`
	RCuAl    quantity.OhmsPerKFt `col:"Rcu_al"`
	RCuSteel quantity.OhmsPerKFt `col:"Rcu_steel"`
	RAlPVC   quantity.OhmsPerKFt `col:"Ral_pvc,blank"`
	RAlAl    quantity.OhmsPerKFt `col:"Ral_al,blank"`
	RAlSteel quantity.OhmsPerKFt `col:"Ral_steel,blank"`

	ZCuPVC   quantity.OhmsPerKFt `col:"Zcu_pvc"`
	ZCuAl    quantity.OhmsPerKFt `col:"Zcu_al"`
	ZCuSteel quantity.OhmsPerKFt `col:"Zcu_steel"`
	ZAlPVC   quantity.OhmsPerKFt `col:"Zal_pvc,blank"`
	ZAlAl    quantity.OhmsPerKFt `col:"Zal_al,blank"`
	ZAlSteel quantity.OhmsPerKFt `col:"Zal_steel,blank"`
}

var impedanceRows = rows[impedanceRow]("impedance")

// Ohms is what a conductor in a conduit puts in the way of alternating
// current, ohms to neutral per 1000 ft at 75 C.
type Ohms struct {
	R  quantity.OhmsPerKFt // resistance
	X  quantity.OhmsPerKFt // reactance
	Ze quantity.OhmsPerKFt // effective impedance at power factor 0.85
}

// Impedance is the AC resistance, reactance and effective impedance of a
// conductor by the conduit around it.
//
// Source: NFPA 70 (2017), chapter 9, table 9.
// Valid: 60 Hz, three single conductors in a conduit, 75 C.
func Impedance(size quantity.Size, m Material, c Conduit) (Ohms, error) {
	t := table("impedance")
	var there []quantity.Size
	for _, r := range impedanceRows() {
		o, ok := r.ohms(m, c)
		if !ok {
			return Ohms{}, t.none(fmt.Sprintf("%q in %q conduit", string(m), string(c)),
				"there is copper and aluminum in PVC, aluminum and steel")
		}
		if o.R == 0 { // no aluminum conductor so thin
			continue
		}
		if r.Size == size {
			return o, nil
		}
		there = append(there, r.Size)
	}
	return Ohms{}, t.none(fmt.Sprintf("%v %v", size, m), span(there))
}

func (r impedanceRow) ohms(m Material, c Conduit) (Ohms, bool) {
	switch {
	case m == Copper && c == InPVC:
		return Ohms{r.RCuPVC, r.X, r.ZCuPVC}, true
	case m == Copper && c == InAluminum:
		return Ohms{r.RCuAl, r.X, r.ZCuAl}, true
	case m == Copper && c == InSteel:
		return Ohms{r.RCuSteel, r.XSteel, r.ZCuSteel}, true
	case m == Aluminum && c == InPVC:
		return Ohms{r.RAlPVC, r.X, r.ZAlPVC}, true
	case m == Aluminum && c == InAluminum:
		return Ohms{r.RAlAl, r.X, r.ZAlAl}, true
	case m == Aluminum && c == InSteel:
		return Ohms{r.RAlSteel, r.XSteel, r.ZAlSteel}, true
	}
	return Ohms{}, false
}

// ImpedanceOf is the effective impedance at power factor 0.85 for a sheet.
func ImpedanceOf(size quantity.Size, m Material, c Conduit) working.Lookup {
	o, err := Impedance(size, m, c)
	return from("impedance").cell(o.Ze, err)
}
