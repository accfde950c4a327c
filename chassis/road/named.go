package road

import (
	"strconv"
	"strings"
)

// Named is a road with a plain name, for a brief.
type Named struct {
	Name     string
	Spectrum Spectrum
	Basis    string // where the figures come from
}

// Class returns the class of the road's roughness.
func (n Named) Class() Class {
	c, _ := ClassOf(n.Spectrum.Roughness)
	return c
}

// NamedRoads lists the roads of the brief, smoothest first. The names are our
// own. That main roads are of class A and minor roads of class B is the finding
// of reviews of measured roads; class C is a poor one.
func NamedRoads() []Named {
	const reviewed = "main roads measured mostly class A, minor roads class B (ISO 8608 classes; assignment common practice, no source)"
	return []Named{
		{"motorway", Spectrum{8e-6, 2}, "half the mean of class A, new surface; " + reviewed},
		{"main road", Spectrum{16e-6, 2}, "mean of class A; " + reviewed},
		{"circuit", Spectrum{16e-6, 2}, "mean of class A; common practice, no source"},
		{"country road", Spectrum{48e-6, 2}, "lower half of class B; " + reviewed},
		{"town street", Spectrum{64e-6, 2}, "mean of class B; " + reviewed},
		{"closed hill road", Spectrum{90.5e-6, 2}, "geometric middle between mean and upper limit of class B; common practice, no source"},
		{"patched B road", Spectrum{128e-6, 2}, "upper limit of class B; " + reviewed},
		{"village lane", Spectrum{128e-6, 2}, "upper limit of class B; " + reviewed},
		{"broken lane", Spectrum{256e-6, 2}, "mean of class C, a poor road; common practice, no source"},
	}
}

// FindRoad returns the named road; ok is false where there is none. Besides the
// list it knows every class of ISO 8608 by its mean, "class C", and a measured
// roughness at 0.1 cycle/m in m³, "gd 0.000256".
func FindRoad(name string) (n Named, ok bool) {
	for _, n := range NamedRoads() {
		if n.Name == name {
			return n, true
		}
	}
	kind, rest, _ := strings.Cut(name, " ")
	switch strings.ToLower(kind) {
	case "class":
		if len(rest) == 1 {
			for c := ClassA; c <= ClassH; c++ {
				if strings.EqualFold(c.String(), rest) {
					return Named{name, c.Spectrum(), "geometric mean of the class, ISO 8608:2016 table C.1"}, true
				}
			}
		}
	case "gd":
		if v, err := strconv.ParseFloat(rest, 64); err == nil && v >= 1e-7 && v <= 0.3 {
			return Named{name, Spectrum{v, 2}, "measured roughness at 0.1 cycle/m"}, true
		}
	}
	return Named{}, false
}
