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

// NamedEvent is an obstacle of a usual size with a plain name and the speed it
// is usually met at.
type NamedEvent struct {
	Name  string
	Event Event
	Speed float64 // [m/s]
	Basis string  // where the size comes from
}

// NamedEvents lists obstacles of usual sizes. The pothole is no deeper than 50
// mm: a deeper one would press the tyre onto its rim, which a tyre of one rate
// does not know.
func NamedEvents() []NamedEvent {
	const hour = 3600.0 // [s]
	const practice = "size common practice, no source"
	list := []struct {
		name  string
		speed float64
		basis string
		make  func() (Event, error)
	}{
		{"speed hump", 30e3 / hour, "round top, usual size: Watts, TRRL LR 597 (from memory); TRL 377", func() (Event, error) { return RoundHump(0.075, 3.7) }},
		{"high speed hump", 30e3 / hour, "round top, highest of TRL 377", func() (Event, error) { return RoundHump(0.1, 3.7) }},
		{"sinusoidal hump", 30e3 / hour, "Belgian road research centre guidance", func() (Event, error) { return SineHump(0.12, 4.8) }},
		{"pothole", 50e3 / hour, "as deep as FHWA-RD-03-031 still calls moderate, on one side; length " + practice, func() (Event, error) { return Pothole(0.05, 0.6, 0.05, RightSide) }},
		{"dip", 50e3 / hour, practice, func() (Event, error) { return Dip(0.06, 1.2, BothSides) }},
		{"rise", 100e3 / hour, practice, func() (Event, error) { return Crest(0.08, 12) }},
		{"hollow", 120e3 / hour, practice, func() (Event, error) { return Hollow(0.15, 20) }},
		{"kerb", 120e3 / hour, "on one side; " + practice, func() (Event, error) { return Kerb(0.04, 0.4, 1, LeftSide) }},
		{"joint gap", 80e3 / hour, practice, func() (Event, error) { return JointGap(0.06, 0.03) }},
		{"joint lip", 80e3 / hour, practice, func() (Event, error) { return JointLip(0.01, 0.3, 0.02) }},
	}
	out := make([]NamedEvent, 0, len(list))
	for _, l := range list {
		e, err := l.make()
		if err != nil {
			// All sizes here are constants inside the limits; a test makes each.
			continue
		}
		out = append(out, NamedEvent{l.name, e, l.speed, l.basis})
	}
	return out
}
