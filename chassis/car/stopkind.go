package car

// The kinds of bump stop, by what they are. A measured table wins over any of them.
const (
	StopFoam        = "foam"         // a straight body of cellular urethane
	StopSoftFoam    = "soft-foam"    // the same, lighter
	StopFirmFoam    = "firm-foam"    // the same, denser
	StopTaperedFoam = "tapered-foam" // narrower towards its tip
	StopGroovedFoam = "grooved-foam" // with grooves round it
	StopRubber      = "rubber"       // a solid block
)

// stopKind is what a stop is taken to be of which only the kind is known.
type stopKind struct {
	shape             []Point // static force [N] over crush / free length
	band              float64 // of all its force, a share of it
	basis             string
	loss, lossHalf    float64 // share of the work that does not come back
	lossBasis         string
	dynamic, dynaHalf float64 // stiffening under quick loading
	dynamicBasis      string
}

// foam is the force of an ordinary microcellular stop of about 0.05 m diameter
// over crush / free length: common practice, no source; ± 35 %.
var foam = []Point{{0, 0}, {0.1, 125}, {0.2, 270}, {0.3, 450}, {0.4, 750}, {0.5, 1350}, {0.57, 2350}, {0.62, 3900}, {0.65, 6300}}

// tapered is foam cut to a cone whose tip is 0.6 of its foot across: slices one behind
// the other that all carry the whole force, each by foam's curve for its own area. A
// slice that is at the end of foam's curve gives no further.
var tapered = []Point{{0, 0}, {0.0795, 60}, {0.1565, 125}, {0.2873, 270}, {0.3841, 450}, {0.4718, 750}, {0.5538, 1350}, {0.6105, 2350}, {0.6411, 3900}, {0.65, 6300}}

// grooved is foam with a third of its length at 0.75 of its diameter, by the same law.
var grooved = []Point{{0, 0}, {0.0604, 60}, {0.1223, 125}, {0.2367, 270}, {0.3361, 450}, {0.4324, 750}, {0.5239, 1350}, {0.5878, 2350}, {0.63, 3900}, {0.65, 6300}}

// rubber is a bonded block of 60 Shore A, 40 mm across and as long:
//
//	F = A·E·(1 + 2·S²)/3·(1/λ² − λ),  λ = 1 − crush / free length,  S = 40/(4·40)
//
// Form and shape factor: A. N. Gent, P. B. Lindley, Proc. Inst. Mech. Eng. 173, 1959;
// E of the hardness, 3.61 MPa: A. N. Gent, Rubber Chem. Technol. 31, 1958.
var rubber = []Point{{0, 0}, {0.05, 268.5}, {0.1, 568.4}, {0.15, 907.3}, {0.2, 1295.4}, {0.25, 1746}, {0.3, 2277.8}, {0.35, 2916.7}, {0.4, 3699.7}, {0.45, 4681.7}, {0.5, 5946}}

// times is a shape with another force throughout.
func times(shape []Point, by float64) []Point {
	out := make([]Point, len(shape))
	for i, p := range shape {
		out[i] = Point{X: p.X, F: by * p.F}
	}
	return out
}

const (
	foamLoss    = "25 ± 10 % of the work stays in the foam: common practice, no source"
	foamDynamic = "1.3 times stiffer when hit, 1.0 to 2.0 in industrial urethanes: common practice, no source"
)

// aFoam is a kind with its own shape and the loss and quickness of all foams.
func aFoam(shape []Point, band float64, basis string) stopKind {
	return stopKind{
		shape: shape, band: band, basis: basis,
		loss: 0.25, lossHalf: 0.10, lossBasis: foamLoss, dynamic: 1.3, dynaHalf: 0.35, dynamicBasis: foamDynamic,
	}
}

// stopKinds are the shapes by kind. A foam's stiffness goes with the square of its
// density (L. J. Gibson, M. F. Ashby, Cellular Solids, 1997): 370 and 550 over 450
// kg/m3 give 0.68 and 1.49. The densities are common practice, no source.
var stopKinds = map[string]stopKind{
	StopFoam:        aFoam(foam, 0.35, "one curve of foam on crush over free length, ± 35 %: common practice, no source"),
	StopSoftFoam:    aFoam(times(foam, 0.68), 0.40, "0.68 of ordinary foam's force: stiffness by the square of the density, 370 over 450 kg/m3 (Gibson, Ashby, Cellular Solids, 1997), ± 40 %; ordinary foam is common practice, no source"),
	StopFirmFoam:    aFoam(times(foam, 1.49), 0.40, "1.49 of ordinary foam's force: stiffness by the square of the density, 550 over 450 kg/m3 (Gibson, Ashby, Cellular Solids, 1997), ± 40 %; ordinary foam is common practice, no source"),
	StopTaperedFoam: aFoam(tapered, 0.40, "ordinary foam cut to a cone, its tip 0.6 of its foot across, worked out slice by slice, ± 40 %; ordinary foam is common practice, no source"),
	StopGroovedFoam: aFoam(grooved, 0.40, "ordinary foam with a third of its length cut to 0.75 of its diameter, worked out slice by slice, ± 40 %; ordinary foam is common practice, no source"),
	StopRubber: {
		shape: rubber, band: 0.45, basis: "a block of rubber of 60 Shore A, 0.04 m across (Gent, Lindley, 1959; Gent, 1958), ± 45 % for 50 to 70 Shore A",
		loss: 0.15, lossHalf: 0.08, lossBasis: "15 ± 8 % of the work stays in rubber: common practice, no source",
		dynamic: 1.2, dynaHalf: 0.2, dynamicBasis: "rubber is 1.2 ± 0.2 times stiffer when hit: common practice, no source",
	},
}

// kind is what the stop is taken to be: ordinary foam where nobody says.
func (s *StopSpec) kind() stopKind {
	if k, ok := stopKinds[s.Kind]; ok {
		return k
	}
	return stopKinds[StopFoam]
}

// UsualTable is the force of the stop by its kind and free length alone, over its crush [m].
func (s *StopSpec) UsualTable() []Point {
	var out []Point
	for _, p := range s.kind().shape {
		out = append(out, Point{X: p.X * s.Length.Value, F: p.F})
	}
	return out
}
