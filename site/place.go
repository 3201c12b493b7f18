package site

import "strings"

// PlaceRoot is the first id of a place path: "MP" of "MP/bus".
func PlaceRoot(place string) string {
	root, _, _ := strings.Cut(place, "/")
	return root
}

// PlaceName says a place in words: "branch A", "main panel", "home run".
func (p *Plant) PlaceName(place string) string {
	root := PlaceRoot(place)
	if b := p.Branch(root); b != nil {
		return "branch " + b.ID
	}
	if r := p.Run(root); r != nil {
		return r.Name
	}
	if b := p.Bus(root); b != nil && b.Name != "" {
		return b.Name
	}
	for _, b := range p.Boxes {
		if b.ID == root && b.Name != "" {
			return b.Name
		}
	}
	if s := p.Switch(root); s != nil && s.Name != "" {
		return s.Name
	}
	return root
}
