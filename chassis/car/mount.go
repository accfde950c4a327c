package car

import (
	"trunnion/chassis/counting"
	"trunnion/chassis/figure"
)

// MountSpec is a top mount.
type MountSpec struct {
	ID            string
	Kind          string // one of the kinds below; empty counts as rubber
	Stiffness     Input  // axial; unknown counts as rigid [N/m]
	CarriesSpring bool   // the spring stands on it too

	Rated Input  // range of force that it bears a million times [N]
	Slope Input  // of its line of force over cycles, above Rated [-]
	Below string // what smaller ranges do, one of the words below; empty is usual for its kind
}

// The kinds of top mount. Rubber is one body of rubber that damper and stop push
// through. A bonded double-path mount takes the damper's rod alone: spring and stop
// have their own way to the body. A spherical one is a joint of metal.
const (
	MountRubber     = "rubber"
	MountDoublePath = "double-path"
	MountSpherical  = "spherical"
)

// What ranges of force below the rated one do.
const (
	BelowHaibach = "haibach" // they count by the second slope
	BelowSame    = "same"    // there is no knee
	BelowNone    = "none"    // they never count
)

// RatedCycles is how often a mount bears its rated range: where lines are said to bend.
// Common practice, no source. [-]
const RatedCycles = 1e6

// UsualRated is the rated range of a mount that nothing was entered of, over what its
// corner carries at rest: makers choose mounts for their car's weight. [-]
var UsualRated = Input{
	Value: 1, Half: 0.5, Shape: figure.Normal95, Origin: figure.Estimated,
	Basis: "a range of force like the corner's load, borne a million times, ± 50 %: common practice, no source",
}

// usualSlopes are the slopes of mounts that nothing was entered of.
var usualSlopes = map[string]*Input{
	// A crack in natural rubber grows with the second power of the energy that tears
	// it, in filled and synthetic rubbers with up to the fourth; that energy goes with
	// the square of the force.
	MountRubber: {
		Value: 5, Half: 1, Shape: figure.Normal95, Origin: figure.Estimated,
		Basis: "cracks in natural rubber grow with the 2nd power of the tearing energy, in filled mixtures up to the 3rd, which goes with the square of the force: 4 to 6 (G. J. Lake, P. B. Lindley, J. Appl. Polym. Sci. 9, 1965, from memory)",
	},
	MountSpherical: {
		Value: 3, Half: 0.5, Shape: figure.Normal95, Origin: figure.Estimated,
		Basis: "as rolling bearings of balls by ISO 281; for plain spherical bearings common practice, no source",
	},
}

// KindName is the mount's kind; of none, and of one without a kind, rubber.
func (m *MountSpec) KindName() string {
	if m == nil || m.Kind == "" {
		return MountRubber
	}
	return m.Kind
}

// RatedInput returns the rated range of force, or the usual one as a share of the
// corner's load at rest: then over is that load [N], else 1.
func (m *MountSpec) RatedInput(load float64) (in *Input, over float64) {
	if m != nil && m.Rated.Known() {
		return &m.Rated, 1
	}
	return &UsualRated, load
}

// SlopeInput returns the slope of the line above the rated range.
func (m *MountSpec) SlopeInput() *Input {
	if m != nil && m.Slope.Known() {
		return &m.Slope
	}
	if in := usualSlopes[m.KindName()]; in != nil {
		return in
	}
	return usualSlopes[MountRubber]
}

// Line returns the line of force over cycles by a rated range [N] and slope [-].
func (m *MountSpec) Line(rated, slope float64) counting.Line {
	l := counting.Line{Rated: rated, Cycles: RatedCycles, Slope: slope}
	below := ""
	if m != nil {
		below = m.Below
	}
	if below == "" {
		below = BelowHaibach
		if m.KindName() == MountSpherical {
			below = BelowSame
		}
	}
	switch below {
	case BelowHaibach:
		l.Below = counting.Haibach(slope)
	case BelowSame:
		l.Below = slope
	}
	return l
}

// Carries reports what passes through the mount: of stop and spring. Damper and open end
// always do.
func (m *MountSpec) Carries() (stop, spring bool) {
	return m.KindName() != MountDoublePath, m != nil && m.CarriesSpring && m.KindName() != MountDoublePath
}
