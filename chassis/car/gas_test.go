package car

import (
	"math"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

func typedAs(value float64) Input {
	return Input{Value: value, Origin: figure.Measured, Typed: "typed"}
}

// charged is a damper of 150 mm stroke, its charge given by pressure and volume.
func charged() *DamperSpec {
	return &DamperSpec{
		Open: typedAs(0.560), Closed: typedAs(0.410), Rod: typedAs(0.022), GasPressure: typedAs(16e5), GasVolume: typedAs(250e-6),
	}
}

// TestGasReadOpen: a charge that was read with the rod out is compressed by the rod that goes in until the car stands, by
// the polytropic law p·Vⁿ = const. of an ideal gas (e.g. Çengel & Boles, Thermodynamics, closed systems, from memory).
func TestGasReadOpen(t *testing.T) {
	d := charged()
	const mounts, body = 0.490, 0.003
	area := math.Pi / 4 * 0.022 * 0.022
	for _, n := range []float64{1, 1.25, 1.4} {
		d.GasExponent, d.GasOpen = typedAs(n), true
		law := d.GasOn(mounts, body, nil)
		for _, x := range []float64{-0.02, 0, 0.03} {
			in := 0.560 + body - mounts + x // rod in since fully open
			want := ((16e5+part.AtmospherePressure)*math.Pow(250e-6/(250e-6-area*in), n) - part.AtmospherePressure) * area
			if got, _ := law.At(x); math.Abs(got-want) > 1e-9*want {
				t.Errorf("exponent %g, travel %g m: %.4f N, by the law %.4f N", n, x, got, want)
			}
		}
		// At travel zero it was read as it is.
		d.GasOpen = false
		law = d.GasOn(mounts, 0, nil)
		if got, _ := law.At(0); math.Abs(got-16e5*area) > 1e-9*got {
			t.Errorf("read at ride height it pushes with %.4f N, %.4f N read", got, 16e5*area)
		}
	}
}

// TestGasForceReadOpen: a push-out that was read open, with its rate, is more by what the rod went in.
func TestGasForceReadOpen(t *testing.T) {
	d := &DamperSpec{Open: typedAs(0.560), GasForce: typedAs(200), GasRate: typedAs(1500), GasOpen: true}
	law := d.GasOn(0.490, 0, nil)
	if got, _ := law.At(0); math.Abs(got-(200+1500*0.070)) > 1e-9 {
		t.Errorf("%.3f N at ride height, 305 N by its rate", got)
	}
	d.Open = Input{} // nobody knows how far the rod went in
	law = d.GasOn(0.490, 0, nil)
	if got, _ := law.At(0); got != 200 {
		t.Errorf("%.3f N without an open length, 200 N read", got)
	}
}

// TestAbsolutePressure: an absolute pressure is the gauge's and an atmosphere (CGPM 1954).
func TestAbsolutePressure(t *testing.T) {
	gauge, over := charged(), charged()
	over.GasAbsolute, over.GasPressure.Value = true, 16e5+101325
	g, a := gauge.GasOn(0.49, 0, nil), over.GasOn(0.49, 0, nil)
	f, _ := g.At(0.01)
	h, _ := a.At(0.01)
	if math.Abs(f-h) > 1e-9*f || f <= 0 {
		t.Errorf("%.6f N by the gauge, %.6f N absolute", f, h)
	}
}

// TestGasExponentIsAnEstimate: a charge by pressure and volume without an exponent has the usual one, said with its band.
func TestGasExponentIsAnEstimate(t *testing.T) {
	d := charged()
	f := filler{}
	f.gas(d, "parts.dampers.x", true)
	if n := d.GasExponent; n.Value != 1.25 || n.Half != 0.15 || n.Origin != figure.Estimated || len(f.list) != 1 {
		t.Errorf("%+v, %d estimates", n, len(f.list))
	}
}
