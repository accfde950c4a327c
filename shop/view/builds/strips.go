package builds

import (
	"math"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/desk"
	"trunnion/shop/drawing"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// strip shows one corner.
func (s *page) strip(b *car.Build, d *drawing.Strip, low, high float64) Strip {
	unit := quantity.Units(quantity.Length, s.System)
	corner := figure.CornerNames[d.Corner]
	out := Strip{
		Corner: corner, Unit: unit, Min: s.Length(low), Max: s.Length(high),
		Open: s.KnownLength(d.Open), Loose: s.KnownLength(d.Loose), RestLow: s.KnownLength(d.RestLow), Rest: s.KnownLength(d.Rest),
		RestHigh: s.KnownLength(d.RestHigh), Touch: s.KnownLength(d.Touch), Firm: s.KnownLength(d.Firm), Solid: s.KnownLength(d.Solid),
		Closed: s.KnownLength(d.Closed), Arch: s.KnownLength(d.Arch), Block: s.KnownLength(d.Block), State: "ok",
	}
	bump, droop := s.Answer.Get("travel-to-stop", b.ID, s.Load, d.Corner), s.Answer.Get("travel-to-open", b.ID, s.Load, d.Corner)
	out.BumpLeft, out.DroopLeft = s.figure(bump), s.figure(droop)
	name := strings.ToUpper(corner[:1]) + view.Spaced(corner[1:])
	if !d.Known {
		out.State, out.Says = "unknown", name+": "+wording.NoRest
		return out
	}
	s.needs(b, &out, bump, droop)
	for _, v := range []*figure.Value{bump, droop} {
		if state := view.State(v); state != "ok" && out.State != "unknown" {
			out.State = state
		}
	}
	out.Says = name + ": bump travel to the stop " + s.Teller.Value(bump) + ", rebound travel " + s.Teller.Value(droop) + "."
	out.Use = s.use(b.ID, d.Corner)
	out.Peak = s.peak(b.ID, d)
	out.Drag = s.drag(b, d)
	return out
}

// needs names the reading that would end a strip where its end is not known: on the car
// before on the bench, the ruler before the press.
func (s *page) needs(b *car.Build, out *Strip, bump, droop *figure.Value) {
	i := slices.Index(figure.CornerNames[:], out.Corner)
	if i < 0 {
		return
	}
	w, c := &s.Job.Car.Weighed, &b.Corner[i]
	// A part that the build does not name is the one that was on the car: its figures are typed there.
	part := func(id, section, key string) string {
		if id != "" {
			if at := "parts." + section + "." + id; s.has(at) {
				return at
			}
		}
		return "builds." + w.Build + "." + car.AxleNames[car.AxleOf(i)] + "." + key
	}
	damper, stop := part("", "dampers", "damper"), part("", "stops", "stop")
	if c.Damper != nil {
		damper = part(c.Damper.ID, "dampers", "damper")
	}
	if c.Stop != nil {
		stop = part(c.Stop.ID, "stops", "stop")
	}
	var first *Needs
	switch {
	case !w.DamperLength[i].Known() && !w.RodShowing[i].Known():
		first = &Needs{"car.weighed.rod_showing." + strings.ReplaceAll(out.Corner, "-", "_"), "rod showing"}
	case c.Damper == nil || !c.Damper.Open.Known():
		first = &Needs{damper + ".open", "open length"}
	case !c.Damper.RodOpen.Known():
		first = &Needs{damper + ".rod_showing_open", "rod open"}
	}
	if view.State(droop) == "unknown" {
		out.DroopNeeds = first
	}
	if view.State(bump) == "unknown" {
		out.BumpNeeds = first
		if first == nil && (c.Stop == nil || !c.Stop.Length.Known()) {
			out.BumpNeeds = &Needs{stop + ".length", "stop length"}
		}
	}
}

// has reports whether a part stands at a path of the job.
func (s *page) has(path string) bool {
	_, err := jobfile.Piece(s.Text, path)
	return err == nil
}

// figure is a figure of a strip: its number alone, and with unit and band.
func (s *page) figure(v *figure.Value) Figure {
	verdict, _ := finding.One(s.Answer, v)
	out := Figure{Shown: quantity.Nothing, Full: "not known", Verdict: string(verdict)}
	if view.State(v) == "unknown" {
		out.Verdict = string(finding.Unknown)
		if v != nil && v.Reason != "" {
			out.Full = "not known: " + v.Reason
		}
		return out
	}
	digits := 0
	if s.System == quantity.Imperial {
		digits = 2
	}
	out.Shown = quantity.Shown(quantity.Length, s.System).Number(wording.Sided(v.Code, v.Value), digits)
	if word := wording.Side(v.Code, v.Value); word != "" {
		out.Shown += " " + word
	}
	out.Full, out.ValueID = s.Teller.Value(v), desk.ValueID(v)
	return out
}

// use is how the travel of a corner is spread over the road it is worst used
// on: the first of the brief that says it for this build.
func (s *page) use(build string, corner int) *Use {
	a := s.Answer
	for i := range a.Curves {
		c := &a.Curves[i]
		if c.Code != "travel-distribution" || c.Build != build || c.Corner != corner || c.Load != s.Load {
			continue
		}
		x, y := drawing.Density(c.X, c.Y)
		if x == nil {
			continue
		}
		out := &Use{Tier: "screening", Points: [][]float64{}, Note: view.Spaced(c.Road) + " at " + quantity.Format(c.Speed, quantity.SpeedRoad, s.System, 0)}
		if s.Has(c.Road, c.Speed, c.Load, figure.Time) {
			out.Tier = "time"
		}
		for k := range x {
			out.Points = append(out.Points, []float64{s.Length(x[k]), view.Tidy(y[k])})
		}
		return out
	}
	return nil
}

// peak is the deepest travel over the obstacles of the brief.
func (s *page) peak(build string, d *drawing.Strip) *Peak {
	var deepest, blow *figure.Value
	a := s.Answer
	for i := range a.Values {
		v := &a.Values[i]
		if v.Place.Event == "" || v.Place.Build != build || v.Place.Corner != d.Corner || math.IsNaN(v.Value) {
			continue
		}
		if v.Code == "travel-peak-bump" && (deepest == nil || v.Value > deepest.Value) {
			deepest = v
		}
	}
	if deepest == nil {
		return nil
	}
	p := deepest.Place
	blow = a.At("stop-force-peak", figure.Place{Build: p.Build, Load: p.Load, Corner: p.Corner, At: "damper", Event: p.Event, Speed: p.Speed})
	verdict := finding.NoLimit
	if blow != nil {
		verdict, _ = finding.One(a, blow)
	}
	where := s.Teller.Place(figure.Place{Corner: figure.NoCorner, Event: p.Event, Speed: p.Speed, Load: p.Load})
	return &Peak{
		Travel: s.Length(deepest.Value), Shown: quantity.Format(deepest.Value, quantity.Length, s.System, quantity.Auto), Name: where, Verdict: string(verdict),
	}
}

// drag is how far the static line can be pulled: as far as the platform goes, or
// without one as far as another spring seat is thinkable.
func (s *page) drag(b *car.Build, d *drawing.Strip) *Drag {
	if b.ID == s.Answer.Job.Car.Weighed.Build && b.Corner[d.Corner].Platform == nil {
		return nil // it stands as it was weighed
	}
	axle := car.AxleNames[car.AxleOf(d.Corner)]
	out := &Drag{Path: "builds." + b.ID + "." + axle}
	if !math.IsNaN(d.RangeLow) {
		out.Low, out.High, out.Note = s.Length(d.RangeLow), s.Length(d.RangeHigh), "turns the platform, within its range"
		return out
	}
	if math.IsNaN(d.Open) || math.IsNaN(d.Closed) {
		return nil
	}
	// Twice what spring seats are usually moved by. Chosen.
	const most = 40e-3
	out.Low, out.High = s.Length(math.Max(d.Open+5e-3, d.Rest-most)), s.Length(math.Min(d.Closed-5e-3, d.Rest+most))
	out.Note = "moves the spring seats: there is no platform, other seats or another spring would be due"
	return out
}
