package jobfile

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/car"
)

func TestSidewalls(t *testing.T) {
	for text, want := range map[string]string{
		"205/55 R16 91V": "205/55 R16 91V", "205/55R16": "205/55 R16", "225/45 ZR 17 94 Y XL": "225/45 R17 94Y XL",
		"225/45 R 17": "225/45 R17", "p195/65r15 91h": "195/65 R15 91H", "245/40 ZR18 (97Y)": "245/40 R18 97Y", "225/40 R18 92W reinforced": "225/40 R18 92W XL",
	} {
		s, ok := ReadSidewall(text)
		if !ok || s.String() != want {
			t.Errorf("%q is read as %q", text, s.String())
		}
	}
	for _, text := range []string{"", "205", "205/55", "155 R13", "205/55 R16 91V what", "31x10.5 R15"} {
		if s, ok := ReadSidewall(text); ok {
			t.Errorf("%q is read as %q", text, s.String())
		}
	}
}

func TestPressuresInWords(t *testing.T) {
	for text, want := range map[string][2]float64{"2.3 bar": {2.3e5, 2.3e5}, "2.3 bar cold": {2.3e5, 2.3e5}, "2.3 / 2.7 bar": {2.3e5, 2.7e5}, "230 kPa/250 kPa": {2.3e5, 2.5e5}} {
		if got, ok := ReadPressures(text); !ok || math.Abs(got[0]-want[0]) > 1e-6 || math.Abs(got[1]-want[1]) > 1e-6 {
			t.Errorf("%q is read as %v", text, got)
		}
	}
	for _, text := range []string{"", "2.3", "2.3 bar all round", "as the door says", "2/2/2 bar"} {
		if got, ok := ReadPressures(text); ok {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

// What a build does not name of tyre and wheel stays, a side may have its own, and a rate
// that was typed beside the old tyre goes with it.
func TestTyresStay(t *testing.T) {
	text := strings.NewReplacer(
		"  springs:\n", "  tyres: {road: {size: 225/45 R17 91W}, track: {size: 235/40 R17 95Y XL}}\n  wheels: {cast: {width: 7.5 in, offset: 50 mm}, wide: {use: cast, width: 8 in, offset: 30 mm}}\n  springs:\n",
		"front: {spring: front-25,", "front: {tyre: road, wheel: cast, tyre_rate: 231 N/mm, spring: front-25,",
		"\nbuilds:\n", "\nbuilds:\n  nothing: {}\n  spaced: {front: {wheel: wide}}\n  big: {front: {tyre: track, left: {wheel: wide}}, setup: {pressures: 2.2 / 2.4 bar, pressure: {rear_left: 2.6 bar}}}\n",
	).Replace(string(demo(t)))
	job, faults := ReadBytes([]byte(text), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	builds := map[string]*car.Build{}
	for _, b := range job.Builds {
		builds[b.ID] = b
	}
	was := builds["arrived"].Corner[0]
	if got := builds["nothing"].Corner[1]; got.Tyre != was.Tyre || got.Wheel != was.Wheel || got.TyreRate.Value != 231e3 {
		t.Errorf("a build that names nothing: %+v", got)
	}
	if got := builds["spaced"].Corner[0]; got.Tyre != was.Tyre || got.Wheel.ID != "wide" || got.TyreRate.Value != 231e3 {
		t.Errorf("another wheel: %+v", got)
	}
	big := builds["big"]
	if l, r := big.Corner[0], big.Corner[1]; l.Tyre.Size != "235/40 R17 95Y XL" || l.Tyre != r.Tyre || l.Wheel.ID != "wide" || r.Wheel != was.Wheel || l.TyreRate.Known() {
		t.Errorf("another tyre, and a wheel on the left: %+v, %+v", l, r)
	}
	if p := big.Setup.Pressure; math.Abs(p[0].Value-2.2e5) > 1e-6 || math.Abs(p[3].Value-2.4e5) > 1e-6 || math.Abs(p[2].Value-2.6e5) > 1e-6 {
		t.Errorf("pressures %v", p)
	}
}

// The sidewall that stands with the car is that of the build it was weighed with.
func TestSidewallOfTheCar(t *testing.T) {
	text := strings.Replace(string(demo(t)), "    tyre_rate: 225 N/mm ± 12 %\n", "    tyre_rate: 225 N/mm ± 12 %\n    tyre: {width: 225 mm, aspect: 45 %, rim: 17 in}\n", 1)
	job, faults := ReadBytes([]byte(text), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	for _, b := range job.Builds {
		if b.Corner[0].Tyre == nil || b.Corner[0].Tyre != job.Builds[0].Corner[1].Tyre || b.Corner[2].Tyre != nil {
			t.Errorf("%s stands on %v and %v", b.ID, b.Corner[0].Tyre, b.Corner[2].Tyre)
		}
	}
}

func TestSizeThatIsNone(t *testing.T) {
	text := strings.Replace(string(demo(t)), "  springs:\n", "  tyres: {odd: {size: as big as they go}}\n  springs:\n", 1)
	_, faults := ReadBytes([]byte(text), "job.yaml")
	if len(faults) == 0 || faults[0].Path != "parts.tyres.odd.size" || faults[0].Kind != Refuse {
		t.Errorf("%v", faults)
	}
}
