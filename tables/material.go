package tables

import (
	"strconv"
	"strings"

	"legwork/where"
)

// Material is the metal of a conductor. The zero Material is "none given".
type Material string

// The two metals. Copper-clad aluminum counts as aluminum in the ampacity table.
const (
	Copper   Material = "copper"
	Aluminum Material = "aluminum"
)

// Materials lists the metals.
func Materials() []Material { return []Material{Copper, Aluminum} }

// String is the name, "copper".
func (m Material) String() string { return string(m) }

// Short is the chemical sign, "Cu".
func (m Material) Short() string {
	switch m {
	case Copper:
		return "Cu"
	case Aluminum:
		return "Al"
	}
	return ""
}

// UnmarshalText reads copper, Cu, aluminum or Al, capitals aside.
func (m *Material) UnmarshalText(text []byte) error {
	for _, known := range Materials() {
		if strings.EqualFold(string(text), string(known)) || strings.EqualFold(string(text), known.Short()) {
			*m = known
			return nil
		}
	}
	return where.Error{Came: strconv.Quote(string(text)), Expected: "copper (Cu) or aluminum (Al)"}
}
