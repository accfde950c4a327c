package intake

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/scales"
)

const twoRounds = `# first round
load: 431.8 464.7 327.3 321.2 kg
height: 350.1 345,0 35.79 cm 355.1 mm
load: 432 464 327 322 kg
height: 350 345 358 355 mm
load about: 431 465 328 321 kg
height about: 350 345 358 355 mm
pads: 0 1 - 0 mm
pressure: 2.3 2.3 2.3 2.3 bar
bars: off
clicks: soft
settled: yes
state: yes
turned: 1/4 -0.25 -2+1/8 2+1/8 turns
load: 441 - 319 329 kg
`

func TestScales(t *testing.T) {
	got, err := Scales(strings.NewReader(strings.Replace(twoRounds, "350.1 345,0 35.79 cm 355.1 mm", "350.1mm 345 357.9 355.1 mm", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 2 || got[0].Line != 2 || got[1].Line != 15 {
		t.Fatalf("read %d rounds: %+v", len(got), got)
	}
	s := got[0].Session
	if len(s.Settled) != 2 || len(s.Reversed) != 1 || s.BarsOff != scales.Yes || s.Soft != scales.Yes || s.Rolled != scales.Yes || s.AsStated != scales.Yes || s.Mixed {
		t.Errorf("first round is %+v", s)
	}
	if math.Abs(s.Settled[0].Height[2]-0.3579) > 1e-12 || math.Abs(s.Settled[1].Load[3]-322) > 1e-9 || !math.IsNaN(s.Pads[2]) || math.Abs(s.Pressures[0]-230e3) > 1e-6 {
		t.Errorf("first round is %+v", s)
	}
	if got[1].Turned != [4]float64{0.25, -0.25, -2.125, 2.125} {
		t.Errorf("turned %v", got[1].Turned)
	}
	if r := got[1].Session.Reading(); !math.IsNaN(r.Load[1]) || r.Load[0] != 441 {
		t.Errorf("second round is %+v", r)
	}
}

func TestScalesMixedUnits(t *testing.T) {
	got, err := Scales(strings.NewReader("load: 431.8 kg 1024 lb 327.3 kg 321 kg\nheight: 350 345 358 355 mm\n"))
	if err != nil || !got[0].Session.Mixed {
		t.Errorf("kilograms and pounds in one line: %+v, %v", got, err)
	}
	got, err = Scales(strings.NewReader("load: 952 1024 722 708 lb\n"))
	if err != nil || got[0].Session.Mixed || math.Abs(got[0].Session.Settled[0].Load[0]-952*0.45359237) > 1e-9 {
		t.Errorf("all in pounds: %+v, %v", got, err)
	}
}

func TestScalesFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                                "no readings",
		"load 1 2 3 4 kg\n":               "no colon",
		"load: 1 2 3 kg\n":                "3 figures stand in place of four",
		"load: 1 2 3 4\n":                 "unit",
		"load: 1 2 3 4 mm\n":              "line 1",
		"weight: 1 2 3 4 kg\n":            "no word of a reading",
		"turned: 1 0 0 0\n":               "before any reading",
		"load: 1 2 3 4 kg\nturned: 1 0\n": "2 turns stand in place of four",
		"load: 1 2 3 4 kg\nturned: a 0 0 0\nbars: perhaps\n": "line 3",
		"load: 1 2 3 4 kg\nturned: 1 0 0 0\n":                "after the last turns",
		"load: kg 2 3 4\n":                                   "before any figure",
	} {
		if _, err := Scales(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q in it", text, err, want)
		}
	}
}

func FuzzScales(f *testing.F) {
	f.Add(twoRounds)
	f.Add("load: 431.8 kg 1024 lb - 321 kg\nturned: -1/0 0 0 0")
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Scales(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, w := range got {
			for i := range 4 {
				if math.IsNaN(w.Turned[i]) || math.Abs(w.Turned[i]) > 200 {
					t.Fatalf("turned %v of %q", w.Turned, text)
				}
			}
		}
	})
}
