package valving

import (
	"math"

	"trunnion/chassis/clicks"
	"trunnion/chassis/dyno"
)

// Line is one line of an order as it was sent.
type Line struct {
	Damper string // as the order names it
	Click  int
	Stroke dyno.Stroke
	Speed  float64 // [m/s]
	Force  float64 // wanted, positive [N]
	Least  float64 // accepted [N]
	Most   float64 // accepted [N]
}

// Verdict is what a line of an order got.
type Verdict string

// The verdicts.
const (
	Within   Verdict = "within"
	Close    Verdict = "close"    // within, its band is not
	Doubtful Verdict = "doubtful" // outside, its band reaches in: to be measured again
	Over     Verdict = "over"
	Unknown  Verdict = "unknown" // not measured at that click or speed
)

// Held is a line of an order with what came back.
type Held struct {
	Line
	Is      dyno.Band // [N]
	Off     float64   // from the force wanted [N]
	Verdict Verdict
}

// Accepted is a returned sweep against an order.
type Accepted struct {
	Lines  []Held
	Count  map[Verdict]int
	Worst  *Held // furthest off for what is allowed; nil: nothing was measured
	Accept bool  // every line is within or close
}

// Accept holds a returned damper against its order. The set has one knob, or none.
func Accept(set *dyno.Set, order []Line) (*Accepted, error) {
	f, err := clicks.Of(set)
	if err != nil {
		return nil, err
	}
	out := &Accepted{Count: map[Verdict]int{}, Accept: true}
	for _, line := range order {
		h := Held{Line: line, Is: dyno.Band{Value: math.NaN(), Half: math.NaN()}, Off: math.NaN(), Verdict: Unknown}
		b, outside, err := f.At(line.Stroke, line.Speed, setting(set, line.Click))
		// What was measured at 1.03 m/s says what it does at 1.04.
		if reach := reached(f, line, setting(set, line.Click)); err == nil && (!outside || line.Speed <= 1.03*reach) {
			h.Is, h.Off = b, b.Value-line.Force
			h.Verdict = verdict(b, line.Least, line.Most)
		}
		out.Count[h.Verdict]++
		out.Accept = out.Accept && (h.Verdict == Within || h.Verdict == Close)
		out.Lines = append(out.Lines, h)
	}
	for i := range out.Lines {
		h := &out.Lines[i]
		if h.Verdict != Unknown && (out.Worst == nil || use(h) > use(out.Worst)) {
			out.Worst = h
		}
	}
	return out, nil
}

// reached is the highest speed measured at a setting; 0 where there is none.
func reached(f *clicks.Surface, line Line, at dyno.Setting) float64 {
	c, err := f.Curve(at)
	if err != nil {
		return 0
	}
	return c.Of(line.Stroke).Top()
}

// setting is a click of the only knob.
func setting(set *dyno.Set, click int) dyno.Setting {
	if len(set.Adjusters) == 0 {
		return dyno.Setting{}
	}
	return dyno.Setting{click}
}

// use is how much of what is allowed a line uses up; above 1 it is outside.
func use(h *Held) float64 {
	return math.Abs(h.Off) / math.Max(0.5*(h.Most-h.Least), 1e-9)
}

// verdict judges a force with its band.
func verdict(b dyno.Band, least, most float64) Verdict {
	inside := b.Value >= least && b.Value <= most
	clear := b.Value-b.Half >= least && b.Value+b.Half <= most
	reaches := b.Value+b.Half >= least && b.Value-b.Half <= most
	switch {
	case clear:
		return Within
	case inside:
		return Close
	case reaches:
		return Doubtful
	}
	return Over
}
