package roadtest

import (
	"context"
	"math"
	"testing"
)

// The pieces of a log, the logs made again and the drawn cars are worked on at the same time.
func TestPiecesAtOnce(t *testing.T) {
	b := &Build{Car: estate(), Drawn: drawnEstates(2)}
	l := driven(t, estate(), 64e-6, 15, 25, 5, usualSensor())
	for i := range l.Channels { // two pieces
		v := l.Channels[i].Values
		for k := range 20 {
			v[len(v)/2+k] = math.NaN()
		}
	}
	o, err := Compare(context.Background(), l, b, 0, UsualMarks(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(o.Stretches); n != 2 {
		t.Errorf("%d pieces, wanted two", n)
	}
	for _, f := range o.Figures {
		if !(f.High >= f.Low) {
			t.Errorf("%s %d: predicted %g to %g", f.Code, f.Corner, f.Low, f.High)
		}
	}
}
