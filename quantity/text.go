package quantity

import (
	"strconv"

	"legwork/where"
)

// UnmarshalText of each type reads a number with its unit, as a person writes
// it; a fault is a where.Error without a place. MarshalText prints exactly, in
// the system of the base unit, what UnmarshalText reads back bit for bit.

func (v *Amps) UnmarshalText(b []byte) error         { return read(v, b) }
func (v *Volts) UnmarshalText(b []byte) error        { return read(v, b) }
func (v *VoltAmperes) UnmarshalText(b []byte) error  { return read(v, b) }
func (v *Watts) UnmarshalText(b []byte) error        { return read(v, b) }
func (v *Ohms) UnmarshalText(b []byte) error         { return read(v, b) }
func (v *OhmsPerKFt) UnmarshalText(b []byte) error   { return read(v, b) }
func (v *Feet) UnmarshalText(b []byte) error         { return read(v, b) }
func (v *SquareInches) UnmarshalText(b []byte) error { return read(v, b) }
func (v *CubicInches) UnmarshalText(b []byte) error  { return read(v, b) }
func (v *SquareFeet) UnmarshalText(b []byte) error   { return read(v, b) }
func (v *CircularMils) UnmarshalText(b []byte) error { return read(v, b) }
func (v *Celsius) UnmarshalText(b []byte) error      { return read(v, b) }
func (v *Degrees) UnmarshalText(b []byte) error      { return read(v, b) }
func (v *InchPounds) UnmarshalText(b []byte) error   { return read(v, b) }
func (v *Seconds) UnmarshalText(b []byte) error      { return read(v, b) }
func (v *Percent) UnmarshalText(b []byte) error      { return read(v, b) }
func (v *Ratio) UnmarshalText(b []byte) error        { return read(v, b) }

func (v Amps) MarshalText() ([]byte, error)         { return text(v) }
func (v Volts) MarshalText() ([]byte, error)        { return text(v) }
func (v VoltAmperes) MarshalText() ([]byte, error)  { return text(v) }
func (v Watts) MarshalText() ([]byte, error)        { return text(v) }
func (v Ohms) MarshalText() ([]byte, error)         { return text(v) }
func (v OhmsPerKFt) MarshalText() ([]byte, error)   { return text(v) }
func (v Feet) MarshalText() ([]byte, error)         { return text(v) }
func (v SquareInches) MarshalText() ([]byte, error) { return text(v) }
func (v CubicInches) MarshalText() ([]byte, error)  { return text(v) }
func (v SquareFeet) MarshalText() ([]byte, error)   { return text(v) }
func (v CircularMils) MarshalText() ([]byte, error) { return text(v) }
func (v Celsius) MarshalText() ([]byte, error)      { return text(v) }
func (v Degrees) MarshalText() ([]byte, error)      { return text(v) }
func (v InchPounds) MarshalText() ([]byte, error)   { return text(v) }
func (v Seconds) MarshalText() ([]byte, error)      { return text(v) }
func (v Percent) MarshalText() ([]byte, error)      { return text(v) }
func (v Ratio) MarshalText() ([]byte, error)        { return text(v) }

// UnmarshalText reads a whole number, zero or more, without a unit.
func (v *Count) UnmarshalText(b []byte) error {
	n := *v
	if err := read(&n, b); err != nil {
		return err
	}
	if n != Count(int64(n)) {
		return where.Error{Came: strconv.Quote(string(b)), Expected: "a whole number"}
	}
	*v = n
	return nil
}

// MarshalText prints the whole number.
func (v Count) MarshalText() ([]byte, error) { return text(v) }
