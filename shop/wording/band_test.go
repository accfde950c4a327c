package wording_test

import (
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/shop/wording"
)

// A band says what it is made of; one of no width says that instead.
func TestBandSaysWhatItIsMadeOf(t *testing.T) {
	for _, row := range []struct {
		v    figure.Value
		want string
	}{
		{figure.Value{Low: 1, High: 3, HasBand: true}, "95 % of the draws"},
		{figure.Value{Low: 1, High: 3, HasBand: true, BandOf: figure.OfRuns}, "the road's chance, the car as it stands"},
		{figure.Value{Low: 1, High: 3, HasBand: true, BandOf: figure.OfDraws}, "draws of the car and of how it is driven"},
		{figure.Value{Low: 1, High: 3, HasBand: true, BandOf: figure.OfBoth, CarShare: 0.834}, "83 % of its variance the car's tolerances, 17 % the road's chance"},
		{figure.Value{HasBand: true, BandOf: figure.OfBoth}, "gives the same"},
	} {
		if got := wording.Band(&row.v); !strings.Contains(got, row.want) {
			t.Errorf("%q of %+v, want %q in it", got, row.v, row.want)
		}
	}
	values := []figure.Value{
		{High: 1, HasBand: true, BandOf: figure.OfBoth, CarShare: 0.9}, {HasBand: true, BandOf: figure.OfBoth}, {High: 1, HasBand: true, BandOf: figure.OfDraws},
	}
	if got := wording.DriveBands(values); !strings.Contains(got, "90 % of the variance") || !strings.Contains(got, "obstacles") {
		t.Error(got)
	}
	if got := wording.DriveBands(values[:0]); got != "" {
		t.Error(got)
	}
}
