package view

import (
	"math"
	"strconv"

	"trunnion/shop/quantity"
)

// The most by which wheel, arm and car can be moved, and an axle be heavier, in a
// request. Chosen.
const (
	MostOffset, MostLonger, MostLower = 0.060, 0.040, 0.060 // [m]
	MostHeavier                       = 0.30                // [-]
)

// Missing is something that has to be measured.
type Missing struct {
	Text string   `json:"text"`
	List []string `json:"list"`
	Path string   `json:"path"`
}

// Slider is something that can be moved, in the steps offered.
type Slider struct {
	ID      string   `json:"id"`
	Label   string   `json:"label"`
	Hint    string   `json:"hint"`
	Choices []Choice `json:"choices"`
	At      int      `json:"at" doc:"which of the choices holds"`
	None    int      `json:"none" doc:"which of them changes nothing"`
}

// NewSlider offers steps of a figure; the typed texts are metric whatever is shown.
func NewSlider(id, label, hint string, now, from, to, step float64, typed, shown func(v float64) string) Slider {
	s := Slider{ID: id, Label: label, Hint: hint, Choices: []Choice{}}
	best := math.Inf(1)
	for k := range int(math.Round((to-from)/step)) + 1 {
		v := from + float64(k)*step
		if math.Abs(v) < step/1e3 {
			v, s.None = 0, k
		}
		if off := math.Abs(v - now); off < best-1e-9 {
			best, s.At = off, k
		}
		s.Choices = append(s.Choices, Choice{Value: typed(v), Label: shown(v)})
	}
	return s
}

func millimetres(v float64) string {
	return strconv.FormatFloat(math.Round(v/quantity.Millimetre), 'f', -1, 64) + " mm"
}

// LengthSlider offers lengths in steps of millimetres [m].
func (s *Trial) LengthSlider(id, label, hint string, now, from, to, step float64) Slider {
	return NewSlider(id, label, hint, now, from, to, step,
		func(v float64) string { return millimetres(v) },
		func(v float64) string {
			text := quantity.Format(v, quantity.Length, s.System, quantity.Auto)
			if v > 0 {
				text = "+" + text
			}
			return text
		})
}

// WheelOut is how far a wheel is put out from where it was measured [m].
func (s *Trial) WheelOut(now float64) Slider {
	return s.LengthSlider("offset", "Wheel further out", "a lower offset, or a spacer; negative is further in", now, -0.030, 0.050, 0.005)
}

// ArmLonger is how much longer the arm is than it was measured [m].
func (s *Trial) ArmLonger(now float64) Slider {
	return s.LengthSlider("longer", "Arm longer", "the ball joint further out, the wheel’s offset kept: a wider track", now, -0.020, 0.030, 0.005)
}

// Within asks for a length of no more than most [m] either way.
func (s *Trial) Within(most float64) string {
	length := func(v float64) string { return quantity.Format(v, quantity.Length, s.System, 0) }
	return "enter a length from " + length(-most) + " to " + length(most)
}
