package reference

import (
	"math"
	"testing"

	"trunnion/chassis/corner"
	"trunnion/chassis/modes"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

const (
	inch  = 0.0254           // exact, international inch [m]
	pound = 4.4482216152605  // pound-force, NIST SP 811 [N]
	ksi   = 6.89475729316836 // thousand pounds per square inch, in 10⁶ Pa, NIST SP 811
)

// Budynas and Nisbett, Shigley's Mechanical Engineering Design, 8th to 10th
// ed., example 10-1: music wire 0.037 in, outside diameter 7/16 in, squared
// ends, 12.5 turns. The book's figures are from memory and rounded (it takes
// D = 0.400 in): 0.5 % or half its last digit, whichever is more. The exact
// chain with D = 0.4005 in is derived here: 1e-7.
func TestShigleyCompressionSpring(t *testing.T) {
	validation.Against(t, "Compression spring: stress and rate", validation.Printed, "Shigley's Mechanical Engineering Design, example 10-1 (from memory)")
	wire, mean := 0.037, 7.0/16-0.037
	index := mean / wire
	turns := 12.5
	active := turns - 2
	bergstraesser := (index + 0.5) / (index - 0.75)
	strength := 201 / math.Pow(wire, 0.145) // tensile, A/dᵐ [ksi]
	yield := 0.45 * strength * 1e3          // in torsion [lbf/in2]
	force := math.Pi * math.Pow(wire, 3) * yield / (8 * bergstraesser * mean)
	rate := part.WireRate(11.85e3*ksi*1e6, wire*inch, mean*inch, active) // [N/m]
	spring := part.Spring{Rate: rate, Free: 1, Block: 0.1}
	deflection := spring.Compression(force*pound) / inch
	solid := (turns + 1) * wire
	for _, r := range []struct {
		what             string
		got, book, chain float64
		bookDigit        float64
		unit             string
	}{
		{"spring index", index, 10.8, 10.8243243, 0.05, "-"},
		{"Bergsträsser's factor", bergstraesser, 1.124, 1.12407780, 0.0005, "-"},
		{"tensile strength", strength, 324, 324.195369, 0.5, "ksi"},
		{"force at yield", force, 6.46, 6.44592856, 0.005, "lbf"},
		{"rate", rate * inch / pound, 4.13, 4.11564966, 0.005, "lbf/in"},
		{"deflection", deflection, 1.56, 1.56619953, 0.005, "in"},
		{"solid length", solid, 0.500, 0.4995, 0.0005, "in"},
		{"free length", solid + deflection, 2.06, 2.06569953, 0.005, "in"},
		{"pitch", (solid + deflection - 3*wire) / active, 0.186, 0.18616186, 0.0005, "in"},
	} {
		near(t, r.what+" (book)", r.got, r.book, math.Max(r.bookDigit, 0.005*r.book), r.unit)
		nearly(t, r.what+" (exact chain)", r.got, r.chain, 1e-7, r.unit)
	}
	// The stack is as long as it takes: at its solid length the spring carries
	// just the force at yield.
	s := part.Spring{Rate: rate, Free: (solid + deflection) * inch, Block: solid * inch}
	f, k := s.Force(s.StackFree() - s.StackBlock())
	nearly(t, "force at the solid length", f/pound, 6.44592856, 1e-7, "lbf")
	nearly(t, "rate at the solid length", k*inch/pound, 4.11564966, 1e-7, "lbf/in")
}

// EN 13906-1:2013, cylindrical helical compression springs: a car's spring,
// d = 12.5, D = 110 mm, n = 5.5, G = 78500 N/mm2; numbers derived here, 1e-8.
func TestWireSpring(t *testing.T) {
	validation.Against(t, "Compression spring of a car", validation.Derived, "EN 13906-1:2013")
	rate := part.WireRate(78500e6, 0.0125, 0.110, 5.5)
	nearly(t, "rate", rate*1e-3, 32.7249489, 1e-8, "N/mm")
	spring := part.Spring{Rate: rate, Free: 0.4, Block: 0.1}
	nearly(t, "deflection at 3500 N", spring.Compression(3500)*1e3, 106.952039, 1e-8, "mm")
	thinner := part.WireRate(78500e6, 0.0124, 0.110, 5.5)
	nearly(t, "rate of a wire 0.1 mm thinner over it", thinner/rate, 0.968381956, 1e-8, "-")
	// Spot values in public spring codes and handbooks, half the last digit.
	near(t, "rate of d = 2, D = 18, n = 10", part.WireRate(81700e6, 2e-3, 18e-3, 10)*1e-3, 2.80178326, 5e-9, "N/mm")
}

// A tender spring of 20 N/mm and 40 mm travel under a main spring of 70 N/mm:
// springs in series until it is flat. Derived here, 1e-9.
func TestMainAndTender(t *testing.T) {
	validation.Against(t, "Main spring with a tender", validation.Derived, "springs in series", "spring-gap-open")
	s := part.Spring{Rate: 70e3, Free: 0.200, Block: 0.060, HelperRate: 20e3, HelperFree: 0.060, HelperBlock: 0.020}
	_, k := s.Force(0.030)
	nearly(t, "rate in series", k*1e-3, 15.5555555555556, 1e-9, "N/mm")
	nearly(t, "compression at the crossover", s.Compression(800)*1e3, 51.4285714285714, 1e-9, "mm")
	nearly(t, "compression at 3000 N", s.Compression(3000)*1e3, 82.8571428571429, 1e-9, "mm")
	at := s.Compression(800)
	before, _ := s.Force(at - 1e-12)
	after, _ := s.Force(at + 1e-12)
	nearly(t, "force just before the crossover", before, 800, 1e-9, "N")
	nearly(t, "force just after the crossover", after, 800, 1e-9, "N")
	f, k := s.Force(0.0828571428571429)
	nearly(t, "force at 82.857 mm", f, 3000, 1e-9, "N")
	nearly(t, "rate past the crossover", k*1e-3, 70, 1e-9, "N/mm")
}

// A spring that leaves its seat: 350 kg sprung, spring travel 0.95 of the
// wheel's, 70 N/mm. Derived here, half the last digit.
func TestDroopTravelThatUnseats(t *testing.T) {
	validation.Against(t, "Droop at which a spring leaves its seat", validation.Derived, "closed form", "spring-gap-open")
	s := part.Spring{Rate: 70e3, Free: 0.200, Block: 0.060}
	m := corner.Model{SpringTravel: numeric.Smooth{Poly: numeric.Poly{C: [5]float64{0.95}, N: 1}}, Spring: s}
	m.Compressed0 = s.Compression(350 * 9.80665 / 0.95)
	sh := m.At(0)
	near(t, "load of the spring", sh.SpringLoad, 3612.97632, 5e-6, "N")
	near(t, "its compression", m.Compressed0*1e3, 51.6139474, 5e-8, "mm")
	near(t, "droop at which it comes loose", -m.Limits(3900).Loose*1e3, 54.3304709, 5e-8, "mm")
	f, k := m.Force(0)
	near(t, "wheel rate", k*1e-3, 63.175, 5e-7, "N/mm")
	near(t, "force at the wheel", f, 350*9.80665, 1e-9, "N")
}

// W = Ws·e^((x − xs)/δ): one frequency at every load. R. Barton and K. A.
// Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 177, eq. 3.28;
// numbers with Ws = 4000 N, δ = 200 mm derived here, half the last digit. The
// curve enters as a table of a hundredth of a millimetre, so that reading it
// by cubic pieces costs less than that.
func TestSpringOfConstantFrequency(t *testing.T) {
	validation.Against(t, "A spring of one frequency at every load", validation.Printed, "D. Barton, J. Fieldhouse, Automotive Chassis Engineering, 2018, eq. 3.28", "corner-frequency")
	var x, f []float64
	for i := range 30001 {
		at := float64(i) * 1e-5
		x, f = append(x, at), append(f, 4000*math.Exp((at-0.150)/0.200))
	}
	table, err := numeric.NewCurve(x, f)
	if err != nil {
		t.Fatal(err)
	}
	s := part.Spring{Free: 0.5, Block: 0.1, Table: &table, TableScale: 1}
	for _, r := range []struct{ at, load float64 }{{0.200, 5136.10167}, {0.100, 3115.20313}, {0.150, 4000}} {
		load, rate := s.Force(r.at)
		near(t, "load", load, r.load, 5e-6, "N")
		near(t, "frequency", modes.Frequency(rate, load/9.80665), 1.11446253, 5e-9, "Hz")
	}
}
