package corners

import (
	"math"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

const (
	// usualMost is how far a sweep goes that asks for nothing else: what road
	// tyres hold at their best. Common practice, no source. [m/s2]
	usualMost = equilibrium.Gravity
	// leastAsked and cornerUtmost are between what is asked. [m/s2]
	leastAsked, mostAsked = 0.1 * equilibrium.Gravity, 1.5 * equilibrium.Gravity
	// step is how far apart the points are that a slider stops at. Chosen.
	// [m/s2]
	step = 0.02 * equilibrium.Gravity
)

// page is a request while it is answered.
type page struct {
	*view.Trial
	ask       Request
	sweep     cornering.Asked
	most      float64 // [m/s2]
	list      []desk.CorneredBuild
	reference *desk.CorneredBuild
	out       *View
}

// Of shows how the builds of a job corner.
func Of(s *view.Trial, req Request) *View {
	b := &page{Trial: s, ask: req}
	b.out = &View{
		Key: s.Key, Full: s.Full, Units: wording.SystemName(s.System), Load: s.Load, Direction: req.Direction, Driving: req.Driving,
		Builds: []Build{}, Charts: []view.ChartGroup{}, Rests: []Rests{}, Notes: wording.BendNotes(),
		Frame: Frame{Track: []float64{0, 0}}, Steady: Steadiness{Builds: []SteadinessBuild{}, Charts: []view.Chart{}},
		Unit: Units{
			Acceleration: "g", Angle: quantity.Units(quantity.Angle, s.System), Length: quantity.Units(quantity.Length, s.System), Load: quantity.Units(quantity.Mass, s.System),
		},
	}
	fault := b.asked()
	b.out.Faults = view.Listed(s.Faults)
	if fault != nil {
		b.out.Faults = append(b.out.Faults, *fault)
	}
	if s.Answer != nil {
		b.out.LoadName = s.Teller.Load(s.Load)
		b.sweepAll()
		b.builds()
		b.frame()
		b.charts()
		b.steady()
		b.restsOn()
	}
	return b.out
}

// asked reads how far and which way the sweep goes.
func (b *page) asked() *jobfile.Fault {
	var fault *jobfile.Fault
	b.most = usualMost
	if b.ask.Most != "" {
		v, err := quantity.Parse(b.ask.Most, quantity.Acceleration)
		if err != nil || v.Value < leastAsked || v.Value > mostAsked {
			fault = &jobfile.Fault{
				Path: "most", Got: b.ask.Most, Want: "enter an acceleration from " + wording.InG(leastAsked) + " to " + wording.InG(mostAsked), Kind: jobfile.Warn,
			}
		} else {
			b.most = v.Value
		}
	}
	way := 1.0
	if b.ask.Direction == "right" {
		way = -1
	}
	b.sweep.Points = int(math.Round(b.most / step))
	out := &b.out.Most
	out.Value, out.Shown, out.Choices = gs(b.most), wording.InG(b.most), []view.Choice{}
	for _, g := range []float64{0.6, 0.8, 1.0, 1.2} {
		text := wording.InG(g * equilibrium.Gravity)
		out.Choices = append(out.Choices, view.Choice{Value: text, Label: text})
	}
	turn := "turning " + b.ask.Direction
	switch b.ask.Driving {
	case "braking":
		b.sweep.Longitudinal, b.out.What = -b.most, "braking in a straight line"
	case "both":
		// As far along as across: both together are what is asked for.
		b.sweep.Lateral, b.sweep.Longitudinal = way*b.most/math.Sqrt2, -b.most/math.Sqrt2
		b.out.What = "braking while " + turn + ", as hard along as across: 0.71 of the acceleration each"
	default:
		b.sweep.Lateral, b.out.What = way*b.most, turn+" at a steady speed"
	}
	return fault
}

// gs is an acceleration [m/s2] as a plain number in g.
func gs(v float64) float64 {
	u := quantity.Shown(quantity.Acceleration, quantity.Imperial)
	return view.Tidy(u.FromSI(v))
}

// sweepAll sweeps every build.
func (b *page) sweepAll() {
	b.list = desk.CornersOf(&b.Result, b.Load, b.sweep, nil)
	for i := range b.list {
		if o := &b.list[i]; o.Err == nil && o.Build.ID == b.Answer.Reference {
			b.reference = o
		}
	}
}
