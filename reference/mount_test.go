package reference

import (
	"math"
	"testing"

	"trunnion/chassis/part"
)

// A rubber top mount in series with the damper. Values derived here from the
// dynamic stiffness jωcK/(K + jωc). Tolerance 1e-8.
func TestMountInSeriesWithDamper(t *testing.T) {
	const k, c = 600e3, 3000.0
	f := k / c / (2 * math.Pi)
	nearly(t, "frequency at which storage is half", f, 31.8309886, 1e-8, "Hz")
	storage, effective := part.MountInSeries(k, c, 2*math.Pi*f)
	nearly(t, "storage there", storage, k/2, 1e-8, "N/m")
	nearly(t, "loss there", 2*math.Pi*f*effective, k/2, 1e-8, "N/m")
	for _, row := range []struct{ hz, want float64 }{{1, 2997.04204}, {5, 2927.76041}, {15, 2454.85903}} {
		_, got := part.MountInSeries(k, c, 2*math.Pi*row.hz)
		nearly(t, "effective damping", got, row.want, 1e-8, "N s/m")
	}
	// A spherical mount leaves the damper as it is.
	storage, effective = part.MountInSeries(1e15, c, 2*math.Pi*15)
	near(t, "storage of a spherical mount", storage, 0, 1e-3, "N/m")
	nearly(t, "damping behind a spherical mount", effective, c, 1e-8, "N s/m")
}
