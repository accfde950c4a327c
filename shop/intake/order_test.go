package intake_test

import (
	"strings"
	"testing"

	"trunnion/chassis/dyno"
	"trunnion/shop/intake"
)

func TestOrderIsReadBack(t *testing.T) {
	got, err := intake.Order(strings.NewReader("damper,click,stroke,speed mm/s,force N,least N,most N,present N\nfront,0,bump,130,411,386,436,455\nrear-left,15,rebound,50,130,105,155,\n"))
	if err != nil || len(got) != 2 {
		t.Fatalf("%d lines, %v", len(got), err)
	}
	if l := got[0]; l.Damper != "front" || l.Click != 0 || l.Stroke != dyno.Bump || l.Speed != 0.13 || l.Force != 411 || l.Least != 386 || l.Most != 436 {
		t.Errorf("the first line is %+v", l)
	}
	if l := got[1]; l.Damper != "rear-left" || l.Click != 15 || l.Stroke != dyno.Rebound || l.Speed != 0.05 {
		t.Errorf("the second line is %+v", l)
	}
}

func TestWhatIsNoOrder(t *testing.T) {
	const head = "damper,click,stroke,speed mm/s,force N,least N,most N\n"
	for name, row := range map[string]struct{ text, says string }{
		"nothing":          {"", "no heading"},
		"a sweep":          {"Velocity;Compression\n1;2\n", "column \"damper\" is missing"},
		"heading alone":    {head, "no lines"},
		"a stroke":         {head + "front,0,both,130,411,386,436\n", "line 2: the stroke"},
		"a click":          {head + "front,-1,bump,130,411,386,436\n", "line 2: the click"},
		"a force in words": {head + "front,0,bump,130,firm,386,436\n", "line 2: force N"},
		"not a number":     {head + "front,0,bump,130,NaN,386,436\n", "line 2: force N"},
		"no speed":         {head + "front,0,bump,0,411,386,436\n", "line 2: a speed"},
		"turned round":     {head + "front,0,bump,130,411,436,386\n", "line 2: a speed"},
		"a short line":     {head + "front,0,bump,130\n", "wrong number of fields"},
	} {
		if _, err := intake.Order(strings.NewReader(row.text)); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: %v; it is to say %q", name, err, row.says)
		}
	}
}

func FuzzOrder(f *testing.F) {
	f.Add("damper,click,stroke,speed mm/s,force N,least N,most N\nfront,0,bump,130,411,386,436\n")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := intake.Order(strings.NewReader(text))
		if (err == nil) != (len(list) > 0) {
			t.Errorf("%d lines and %v", len(list), err)
		}
	})
}
