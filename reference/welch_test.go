package reference

import (
	"math"
	"math/rand/v2"
	"testing"

	"trunnion/chassis/roadtest"
	"trunnion/reference/validation"
)

// Source: SciPy, scipy/signal/tests/test_spectral.py, TestWelch.test_real_onesided_even: sixteen samples, ones at 0 and 8,
// segments of 8.
func TestWelchOfTwoPulses(t *testing.T) {
	validation.Against(t, "Power spectral density by Welch", validation.Printed, "SciPy, tests of scipy.signal.welch")
	x := make([]float64, 16)
	x[0], x[8] = 1, 1
	got := roadtest.Welch(x, 1, 8)
	for k, want := range []float64{0.08333333, 0.15277778, 0.22222222, 0.22222222, 0.11111111} {
		near(t, "the density", got.Density[k], want, 0.5e-8, "1/Hz")
		near(t, "the frequency", got.Frequency[k], float64(k)/8, 0, "Hz")
	}
}

// Source: SciPy, example of scipy.signal.welch: a sine of 2 V rms at 1,234 Hz in white noise of 0.001 V²/Hz, 100,000
// samples at 10 kHz, segments of 1,024. Its noise is another draw, so that what is held is what the example says was put
// in, within five standard deviations of an average of K segments, 1/√K.
func TestWelchOfASineInNoise(t *testing.T) {
	validation.Against(t, "Power spectral density by Welch, levels", validation.Printed, "SciPy, example of scipy.signal.welch")
	const rate, n, segment = 10e3, 100_000, 1024
	r := rand.New(rand.NewPCG(1, 2))
	x := make([]float64, n)
	for k := range x {
		x[k] = 2*math.Sqrt2*math.Sin(2*math.Pi*1234*float64(k)/rate) + math.Sqrt(0.001*rate/2)*r.NormFloat64()
	}
	got := roadtest.Welch(x, rate, segment)
	mean, power := 0.0, 0.0
	for k := 256; k <= segment/2; k++ {
		mean += got.Density[k] / float64(segment/2-255)
	}
	nearly(t, "the noise", mean, 0.001, 5/math.Sqrt(float64(got.Averages)*257/2), "V²/Hz")
	at := int(math.Round(1234 / rate * segment))
	for k := at - 3; k <= at+3; k++ {
		power += got.Density[k] * rate / segment
	}
	near(t, "the sine", math.Sqrt(power), 2, 0.02, "V")
}
