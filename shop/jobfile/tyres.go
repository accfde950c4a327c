package jobfile

import (
	"regexp"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
)

// marking is the size on a car tyre's sidewall.
//
// Source: ISO 4000-1; UN Regulation 30, 2.17 and 3.1.
var marking = regexp.MustCompile(`^P?(\d{3})/(\d{2,3})(?:ZR|R|RF|ZRF|-)(\d{2})(?:(\d{2,3})([A-Z]|A[1-8]))?(XL|EXTRALOAD|REINFORCED|RF)?$`)

// Sidewall is what the marking of a tyre says.
type Sidewall struct {
	Width, Aspect, Rim quantity.Typed // of the section [m], its height over that [-], diameter [m]
	Index              int            // load index; 0: not said
	Speed              string         // symbol; empty: not said
	ExtraLoad          bool
}

// ReadSidewall reads a marking such as 205/55 R16 91V, whatever blanks stand in it; false
// where it is none.
func ReadSidewall(text string) (Sidewall, bool) {
	flat := strings.NewReplacer("(", "", ")", "").Replace(strings.ToUpper(strings.Join(strings.Fields(text), "")))
	m := marking.FindStringSubmatch(flat)
	if m == nil {
		return Sidewall{}, false
	}
	var out Sidewall
	for _, one := range []struct {
		to   *quantity.Typed
		text string
		kind quantity.Kind
	}{{&out.Width, m[1] + " mm", quantity.Length}, {&out.Aspect, m[2] + " %", quantity.Share}, {&out.Rim, m[3] + " in", quantity.Length}} {
		t, err := quantity.Parse(one.text, one.kind)
		if err != nil {
			return Sidewall{}, false
		}
		*one.to = t
	}
	if m[4] != "" {
		out.Index, _ = strconv.Atoi(m[4]) // digits, by the pattern
	}
	out.Speed, out.ExtraLoad = m[5], m[6] != ""
	return out, true
}

// String is the marking in one form.
func (s *Sidewall) String() string {
	whole := func(v float64, kind quantity.Kind, system quantity.System) string {
		text := quantity.Format(v, kind, system, 0)
		return text[:strings.IndexFunc(text+" ", func(r rune) bool { return r < '0' || r > '9' })]
	}
	out := whole(s.Width.Value, quantity.Length, quantity.Metric) + "/" + whole(s.Aspect.Value, quantity.Share, quantity.Metric) +
		" R" + whole(s.Rim.Value, quantity.Length, quantity.Imperial)
	if s.Index > 0 {
		out += " " + strconv.Itoa(s.Index) + s.Speed
	}
	if s.ExtraLoad {
		out += " XL"
	}
	return out
}

// weighedTyres gives the build that was weighed the tyre that stands with the car, where
// it names none of its own.
func weighedTyres(c *car.Car, fitted *car.Build) {
	for a := range 2 {
		said := &c.Axle[a].Tyre
		if !said.Width.Known() || !said.Aspect.Known() || !said.Rim.Known() {
			continue
		}
		t := &car.TyreSpec{ID: "car." + axleKeys[a] + ".tyre", Width: said.Width, Aspect: said.Aspect, Rim: said.Rim, Pressure: said.Pressure}
		for i := 2 * a; i < 2*a+2; i++ {
			if fitted.Corner[i].Tyre == nil {
				fitted.Corner[i].Tyre = t
			}
		}
	}
}

// ReadPressures reads the pressures of front and rear tyres [Pa] from words; false where
// they say no pressure, or more than two.
func ReadPressures(text string) (axle [2]float64, ok bool) {
	halves := strings.Split(strings.TrimSuffix(strings.TrimSpace(text), " cold"), "/")
	if len(halves) > 2 {
		return axle, false
	}
	last := strings.TrimSpace(halves[len(halves)-1])
	unit := strings.TrimLeft(last, "0123456789.,")
	for i, half := range halves {
		half = strings.TrimSpace(half)
		if bare(half) {
			half += unit
		}
		t, err := quantity.Parse(half, quantity.Pressure)
		if err != nil {
			return axle, false
		}
		axle[i] = t.Value
	}
	if len(halves) == 1 {
		axle[1] = axle[0]
	}
	return axle, true
}
