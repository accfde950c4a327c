package web

import (
	"math"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

const (
	// cornerMost is how far a sweep goes that asks for nothing else: what road
	// tyres hold at their best. Common practice, no source. [m/s2]
	cornerMost = equilibrium.Gravity
	// cornerLeast and cornerUtmost are between what is asked. [m/s2]
	cornerLeast, cornerUtmost = 0.1 * equilibrium.Gravity, 1.5 * equilibrium.Gravity
	// cornerStep is how far apart the points are that a slider stops at. Chosen.
	// [m/s2]
	cornerStep = 0.02 * equilibrium.Gravity
)

// bend is one build through the sweep, as it was computed.
type bend struct {
	build *car.Build
	car   *cornering.Car
	swept cornering.Swept
	err   error
	first float64 // acceleration at which the first stop is met; 0 at rest, infinite for none, NaN not known [m/s2]
}

// bends is a request while it is answered.
type bends struct {
	*view.Trial
	ask       CornerRequest
	sweep     cornering.Asked
	most      float64 // [m/s2]
	list      []bend
	reference *bend
	out       *Corners
}

// cornersOf shows how the builds of a job corner.
func cornersOf(s *view.Trial, req CornerRequest) *Corners {
	b := &bends{Trial: s, ask: req}
	b.out = &Corners{
		Key: s.Key, Full: s.Full, Units: wording.SystemName(s.System), Load: s.Load, Direction: req.Direction, Driving: req.Driving,
		Builds: []CornerBuild{}, Charts: []view.ChartGroup{}, Rests: []CornerRests{}, Notes: wording.BendNotes(),
		Frame: CornerFrame{Track: []float64{0, 0}}, Steady: Steadiness{Builds: []SteadinessBuild{}, Charts: []view.Chart{}},
		Unit: CornerUnits{
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
		b.run()
		b.builds()
		b.frame()
		b.charts()
		b.steady()
		b.restsOn()
	}
	return b.out
}

// asked reads how far and which way the sweep goes.
func (b *bends) asked() *jobfile.Fault {
	var fault *jobfile.Fault
	b.most = cornerMost
	if b.ask.Most != "" {
		v, err := quantity.Parse(b.ask.Most, quantity.Acceleration)
		if err != nil || v.Value < cornerLeast || v.Value > cornerUtmost {
			fault = &jobfile.Fault{
				Path: "most", Got: b.ask.Most, Want: "an acceleration from " + wording.InG(cornerLeast) + " to " + wording.InG(cornerUtmost) + " is due", Kind: jobfile.Warn,
			}
		} else {
			b.most = v.Value
		}
	}
	way := 1.0
	if b.ask.Direction == "right" {
		way = -1
	}
	b.sweep.Points = int(math.Round(b.most / cornerStep))
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

// hard is how hard a point or event is, along and across together [m/s2].
func hard(lateral, longitudinal float64) float64 { return math.Hypot(lateral, longitudinal) }

// run sweeps every build.
func (b *bends) run() {
	a := b.Answer
	b.list = make([]bend, len(a.Job.Builds))
	for i, build := range a.Job.Builds {
		one := &b.list[i]
		one.build, one.first = build, math.NaN()
		if one.car, one.err = a.Cornering(build.ID, b.Load); one.err != nil {
			continue
		}
		one.swept = one.car.Sweep(b.sweep)
		one.meetsFirst()
		if build.ID == a.Reference {
			b.reference = one
		}
	}
}

// meetsFirst finds the first stop that is met.
func (o *bend) meetsFirst() {
	for i := range 4 {
		if !math.IsNaN(o.car.ToStop(o.car.Rest(), i)) {
			o.first = math.Inf(1)
		}
	}
	for i := range o.swept.Contacts {
		if k := &o.swept.Contacts[i]; k.AtRest {
			o.first = 0
		} else {
			o.first = math.Min(o.first, hard(k.Lateral, k.Longitudinal))
		}
	}
}

// rank is how early something goes wrong on a build: the least first.
func (o *bend) rank() float64 {
	switch {
	case o.err != nil:
		return -2
	case math.IsNaN(o.first):
		return 1e3
	case math.IsInf(o.first, 1):
		if o.swept.Ended != nil {
			return 100 + hard(o.swept.ReachedLateral, o.swept.ReachedLongitudinal)
		}
		return 200
	}
	return o.first
}

// pure reports that the sweep is a bend alone, to which the study's own values
// belong.
func (b *bends) pure() bool { return b.ask.Driving == "cornering" }

// contact is the study's value of a stop that is met; nil where the sweep is not
// a bend alone.
func (b *bends) contact(build string, k *cornering.Contact) *figure.Value {
	if !b.pure() || k.AtRest {
		return nil
	}
	v := b.Answer.Get("stop-contact-acceleration", build, b.Load, k.Corner)
	if view.State(v) == "unknown" || v.State == figure.Outside {
		return nil
	}
	return v
}

// builds fills the builds, the worst first.
func (b *bends) builds() {
	order := make([]*bend, len(b.list))
	for i := range b.list {
		order[i] = &b.list[i]
	}
	slices.SortStableFunc(order, func(x, y *bend) int {
		switch p, q := x.rank(), y.rank(); {
		case p < q:
			return -1
		case p > q:
			return 1
		}
		return 0
	})
	for _, o := range order {
		id := o.build.ID
		out := CornerBuild{
			Build: id, Name: o.build.Name, Reference: id == b.Answer.Reference, Verdict: "no-limit",
			Events: []CornerEvent{}, Figures: []CornerFigure{}, Points: []CornerPoint{}, Choices: b.choices(o.build),
		}
		if o.err != nil {
			out.Verdict, out.Sentence = "unknown", "It does not go round: no rest position was found."
			for _, f := range b.Answer.Failures {
				if f.Build == id && f.Load == b.Load {
					out.Sentence = b.Teller.Failure(&f)
				}
			}
			b.out.Builds = append(b.out.Builds, out)
			continue
		}
		b.sentence(&out, o)
		b.events(&out, o)
		b.figures(&out, o)
		b.points(&out, o)
		b.out.Builds = append(b.out.Builds, out)
	}
}

func (b *bends) sentence(out *CornerBuild, o *bend) {
	var first *figure.Value
	for i := range o.swept.Contacts {
		if k := &o.swept.Contacts[i]; !k.AtRest {
			first = b.contact(out.Build, k)
			break
		}
	}
	out.Sentence = wording.BendSentence(o.car, &o.swept, first)
	out.Reached = gs(hard(o.swept.ReachedLateral, o.swept.ReachedLongitudinal))
	if b.reference != nil && b.reference != o {
		out.Against = b.Teller.BendAgainst(b.reference.build.ID, o.first, b.reference.first)
	}
	// Judged in the worse of both turns; braking has no limit of its own.
	if !b.pure() {
		return
	}
	for i := range b.Findings {
		f := &b.Findings[i]
		if f.Code == "meets-stop-in-corner" && f.Value.Place.Build == out.Build && f.Value.Place.Load == b.Load && view.Grades[string(f.Verdict)] < view.Grades[out.Verdict] {
			out.Verdict = string(f.Verdict)
		}
	}
}

// outer are the wheels on the outside of the turn.
func (b *bends) outer() []int {
	if b.ask.Direction == "right" {
		return []int{figure.FrontLeft, figure.RearLeft}
	}
	return []int{figure.FrontRight, figure.RearRight}
}

// pressed reports that weight goes onto a wheel.
func (b *bends) pressed(corner int) bool {
	switch b.ask.Driving {
	case "braking":
		return corner < 2
	default:
		return slices.Contains(b.outer(), corner)
	}
}

// events lists what happens on the way, in order.
func (b *bends) events(out *CornerBuild, o *bend) {
	for i := range o.swept.Contacts {
		k := &o.swept.Contacts[i]
		e := CornerEvent{Kind: "stop", Corner: figure.CornerNames[k.Corner], At: gs(hard(k.Lateral, k.Longitudinal))}
		v := b.contact(out.Build, k)
		if k.AtRest {
			e.Kind = "rests"
		}
		e.Text = wording.StopMet(k, v)
		if v != nil {
			e.ValueID = desk.ValueID(v)
		}
		out.Events = append(out.Events, e)
	}
	for i := range o.swept.Lifts {
		l := &o.swept.Lifts[i]
		out.Events = append(out.Events, CornerEvent{Kind: "lift", Corner: figure.CornerNames[l.Corner], At: gs(hard(l.Lateral, l.Longitudinal)), Text: wording.WheelLifts(l)})
	}
	for i := range 4 {
		if at := o.droopUsed(i); !math.IsNaN(at) {
			out.Events = append(out.Events, CornerEvent{Kind: "droop", Corner: figure.CornerNames[i], At: gs(at), Text: wording.DroopUsed(i, at)})
		}
	}
	slices.SortStableFunc(out.Events, func(x, y CornerEvent) int {
		switch {
		case x.At < y.At:
			return -1
		case x.At > y.At:
			return 1
		}
		return 0
	})
	if text := wording.BendEnds(&o.swept); text != "" {
		out.Events = append(out.Events, CornerEvent{Kind: "end", At: out.Reached, Text: text})
	}
}

// droopUsed is where a wheel's damper comes to its open end, by a straight line
// between two points; NaN where it does not [m/s2].
func (o *bend) droopUsed(corner int) float64 {
	points := o.swept.Points
	for k := 1; k < len(points); k++ {
		was, is := o.car.Droop(&points[k-1], corner), o.car.Droop(&points[k], corner)
		if was > 0 && is <= 0 {
			from, to := hard(points[k-1].Lateral, points[k-1].Longitudinal), hard(points[k].Lateral, points[k].Longitudinal)
			return from + (to-from)*was/(was-is)
		}
	}
	return math.NaN()
}

// cornerFigures are the figures of a build in a bend, in the order shown; the
// mode tells two of one code apart.
var cornerFigures = []struct{ code, mode string }{
	{"roll-gradient", ""},
	{"front-transfer-share", ""},
	{"front-roll-share", ""},
	{"bar-roll-share", "front"},
	{"bar-roll-share", "rear"},
}

func (b *bends) figures(out *CornerBuild, o *bend) {
	for _, f := range cornerFigures {
		b.figure(&out.Figures, b.carValue(f.code, out.Build, f.mode, 0), f.mode)
	}
	for _, i := range []int{0, 1, 2, 3} {
		if slices.Contains(b.outer(), i) {
			continue
		}
		b.figure(&out.Figures, b.Answer.Get("inside-droop-left", out.Build, b.Load, i), wording.Corner(i))
	}
	for _, i := range b.outer() {
		if v := b.Answer.Get("camber-to-road", out.Build, b.Load, i); view.State(v) != "unknown" {
			b.figure(&out.Figures, v, wording.Corner(i))
		}
	}
	for i := range b.Answer.Values {
		v := &b.Answer.Values[i]
		if v.Code == "mode-damping" && v.Place.Build == out.Build && v.Place.Load == b.Load && v.Place.Mode == "roll" {
			b.figure(&out.Figures, v, "roll")
		}
	}
}

// figure adds a value, where there is one, under its name and a word more.
func (b *bends) figure(list *[]CornerFigure, v *figure.Value, more string) {
	if v == nil {
		return
	}
	label := wording.Name(v.Code)
	label = strings.ToUpper(label[:1]) + label[1:]
	if more != "" {
		label += ", " + view.Spaced(more)
	}
	*list = append(*list, CornerFigure{Label: label, Cell: b.Cell(v, b.Verdict(v))})
}

// carValue is a value of the whole car; speed 0 for any.
func (b *bends) carValue(code, build, mode string, speed float64) *figure.Value {
	for i := range b.Answer.Values {
		v := &b.Answer.Values[i]
		q := &v.Place
		if v.Code == code && q.Build == build && q.Load == b.Load && q.Corner == figure.NoCorner && q.Mode == mode && (speed == 0 || desk.SameSpeed(q.Speed, speed)) {
			return v
		}
	}
	return nil
}

// points fills the points of the sweep.
func (b *bends) points(out *CornerBuild, o *bend) {
	angle := quantity.Shown(quantity.Angle, b.System)
	mass := quantity.Shown(quantity.Mass, b.System)
	share := quantity.Shown(quantity.Share, b.System)
	wheelbase := o.car.Masses().Wheelbase
	for k := range o.swept.Points {
		p := &o.swept.Points[k]
		at := hard(p.Lateral, p.Longitudinal)
		roll, pitch := o.car.RollAt(p), o.car.PitchAt(p)
		one := CornerPoint{
			At: gs(at), Shown: wording.InG(at), Roll: view.Tidy(angle.FromSI(roll)), Pitch: view.Tidy(angle.FromSI(pitch)),
			Lift:    []float64{b.Length(p.Heave), b.Length(p.Heave + wheelbase*p.Pitch)},
			Centres: []float64{b.Length(o.car.RollCentreAt(p, 0)), b.Length(o.car.RollCentreAt(p, 1))},
			Rolls:   angle.Format(math.Abs(roll), 1), Dips: angle.Format(pitch, 1), Share: quantity.Nothing, Wheels: make([]CornerWheel, 4),
		}
		if f := o.car.FrontShare(p); !math.IsNaN(f) {
			one.Share = share.Format(f, 1)
		}
		for i := range 4 {
			one.Wheels[i] = b.wheel(o, p, i)
			one.Wheels[i].Load, one.Wheels[i].Loaded = view.Tidy(mass.FromSI(p.Load[i]/equilibrium.Gravity)), mass.Format(p.Load[i]/equilibrium.Gravity, 0)
			if c := o.car.Camber(p, i); !math.IsNaN(c) {
				one.Wheels[i].Camber = angle.Format(c, 1)
			}
		}
		one.Says = b.says(&one)
		out.Points = append(out.Points, one)
	}
}

// wheel is what is to be said of a wheel at a point.
func (b *bends) wheel(o *bend, p *cornering.Point, i int) CornerWheel {
	toStop, droop := o.car.ToStop(p, i), o.car.Droop(p, i)
	w := CornerWheel{Travel: b.Teller.WheelMoved(p.Travel[i] - o.car.Rest().Travel[i]), State: wording.WheelFree}
	switch {
	case p.Load[i] <= 0:
		w.State, w.Word = wording.WheelAir, "off the ground"
		w.Gap = b.Length(math.Max(0, o.gap(b.Answer, b.Load, p, i)))
	case toStop < 0:
		w.State, w.Word = wording.WheelStop, b.Teller.InStop(o.car.StopForce(p, i))
	case droop <= 0:
		w.State, w.Word = wording.WheelDroop, "droop used up"
	default:
		w.Word = b.Teller.Left(toStop, droop, b.pressed(i))
	}
	return w
}

// gap is how far a wheel hangs over the ground [m].
func (o *bend) gap(a *study.Answer, load string, p *cornering.Point, i int) float64 {
	rest := o.car.Rest()
	for b, one := range a.Job.Builds {
		for l := range a.Job.Loads {
			if one.ID != o.build.ID || a.Job.Loads[l].ID != load {
				continue
			}
			sys := &a.Cases[b][l].System
			rise := p.Heave - rest.Heave + sys.Left[i]*(p.Roll-rest.Roll) + sys.Behind[i]*(p.Pitch-rest.Pitch)
			return rise + p.Travel[i] - rest.Travel[i] - rest.Tyre[i]
		}
	}
	return 0
}

// says is a point in a line, for who does not see the drawing.
func (b *bends) says(p *CornerPoint) string {
	parts := []string{"At " + p.Shown}
	if b.ask.Driving != "braking" {
		parts = append(parts, "roll "+p.Rolls)
	}
	if b.ask.Driving != "cornering" {
		parts = append(parts, "nose down "+p.Dips)
	}
	for i := range p.Wheels {
		parts = append(parts, wording.Corner(i)+" "+p.Wheels[i].Loaded+", "+p.Wheels[i].Word)
	}
	return strings.Join(parts, "; ") + "."
}

// choices are what can be changed of a build that changes how it corners.
func (b *bends) choices(build *car.Build) []CornerChoice {
	out := []CornerChoice{}
	bars := false
	for a := range 2 {
		if r := &b.Answer.Job.Car.Axle[a].BarRate; r.Known() && r.Value > 0 {
			bars = true
		}
	}
	if bars {
		one := CornerChoice{
			Path: "builds." + build.ID + ".setup.bars", Label: "anti-roll bars", Value: "on",
			Choices: []view.Choice{{Value: "on", Label: "connected"}, {Value: "off", Label: "drop links off"}},
			Hint:    "both axles together",
		}
		if build.Setup.BarsOff {
			one.Value = "off"
		}
		out = append(out, one)
	}
	for a := range 2 {
		if one, ok := b.holes(build, a); ok {
			out = append(out, one)
		}
	}
	return out
}

// holes are the holes of an adjustable bar, with what the build does in each.
func (b *bends) holes(build *car.Build, axle int) (CornerChoice, bool) {
	list, err := b.Answer.BarHoles(build.ID, b.Load, axle)
	if err != nil || len(list) == 0 {
		return CornerChoice{}, false
	}
	name := car.AxleNames[axle]
	out := CornerChoice{
		Path: "builds." + build.ID + ".setup.bar_hole." + name, Label: name + " bar, hole", Value: study.UsedHole(&b.Answer.Job.Car.Axle[axle], build, axle),
		Title: b.Teller.BarHoles(name) + ".", Choices: []view.Choice{},
	}
	var columns []wording.Column[study.BarHole]
	for _, c := range wording.BarHoleColumns() {
		if c.Head == "" {
			continue
		}
		head := c.Head
		if label := b.Teller.Label(c.SI); label != "" {
			head += " [" + label + "]"
		}
		columns, out.Heads = append(columns, c), append(out.Heads, head)
	}
	for i := range list {
		h := &list[i]
		out.Choices = append(out.Choices, view.Choice{Value: h.ID, Label: view.Spaced(h.ID)})
		row := CornerRow{Name: view.Spaced(h.ID), Used: h.Used, Cells: []string{}}
		for _, c := range columns {
			text := quantity.Nothing
			if v := c.Of(h); h.Err == nil && !math.IsNaN(v) {
				text = b.Teller.Figure(c.SI, v)
			}
			row.Cells = append(row.Cells, text)
		}
		out.Rows = append(out.Rows, row)
	}
	return out, true
}

// frame is the outline of the car; what is not known of it is drawn as usual.
func (b *bends) frame() {
	c := b.Answer.Job.Car
	// A saloon's roof and a tyre of usual size, for the drawing alone: common
	// practice, no source. [m]
	height, radius, width := 1.45, 0.31, 0.205
	var taken []string
	if c.OverallHeight.Known() {
		height = c.OverallHeight.Value
	} else {
		taken = append(taken, "height")
	}
	if t := &c.Axle[0].Tyre; t.Width.Known() && t.Aspect.Known() && t.Rim.Known() {
		radius, width = 0.5*t.Rim.Value+t.Width.Value*t.Aspect.Value, t.Width.Value
	} else {
		taken = append(taken, "tyres")
	}
	f := &b.out.Frame
	*f = CornerFrame{
		Wheelbase: b.Length(c.Wheelbase.Value), Track: []float64{b.Length(c.Track[0].Value), b.Length(c.Track[1].Value)},
		Radius: b.Length(radius), Tyre: b.Length(width), Height: b.Length(height),
	}
	if c.CGHeight.Known() {
		f.Mass = b.KnownLength(c.CGHeight.Value)
	}
	f.Note = "Tracks and heights are the car's own; the outline is a sketch"
	if taken != nil {
		f.Note += ", " + strings.Join(taken, " and ") + " of usual size"
	}
	f.Note += "."
}

// restsOn lists the inputs of a bend that nobody measured.
func (b *bends) restsOn() {
	c := b.Answer.Job.Car
	add := func(path, text string) { b.out.Rests = append(b.out.Rests, CornerRests{Text: text, Path: path}) }
	estimated := func(in *car.Input) bool { return in.Known() && in.Origin == figure.Estimated }
	digits := 0 // a millimetre is less than anybody knows of these
	if b.System == quantity.Imperial {
		digits = 1
	}
	length := func(in *car.Input) string {
		return quantity.Format(in.Value, quantity.Length, b.System, digits)
	}
	switch {
	case !c.CGHeight.Known():
		add("car.cg_height", "The height of the sprung mass is not known.")
	case estimated(&c.CGHeight):
		add("car.cg_height", "The height of the sprung mass is estimated, "+length(&c.CGHeight)+".")
	}
	for a, axle := range car.AxleNames {
		if estimated(&c.RollCentre[a]) {
			add("car.roll_centre."+axle, "The "+axle+" roll centre is estimated, "+length(&c.RollCentre[a])+" over the ground.")
		}
		if bar := &c.Axle[a].BarRate; !bar.Known() || bar.Value == 0 {
			add("car."+axle+".bar.rate", "No "+axle+" anti-roll bar is entered: none is computed with.")
		}
		if !c.Axle[a].Cornering.Known() {
			add("car."+axle+".cornering_stiffness", "The "+axle+" tyres' cornering stiffness is that of the tyre of SAE 870421.")
		}
		if c.Axle[a].Hardpoints == nil {
			add("", "Camber to the road at the "+axle+" is not known: its link points were not measured.")
		}
	}
	for i := range b.list {
		o := &b.list[i]
		for a, axle := range car.AxleNames {
			if o.err == nil && math.IsNaN(o.car.ToStop(o.car.Rest(), 2*a)) {
				add("builds."+o.build.ID+"."+axle+".stop", "On “"+o.build.Name+"” it is not known where the "+axle+" stops are met: damper, stop, or how they stand is not entered.")
			}
		}
	}
	if !c.TopSpeed.Known() {
		_, top := b.Answer.YawSpeeds()
		add("car.top_speed", "The top speed is not known; steadiness is looked at up to "+quantity.Format(top, quantity.SpeedRoad, b.System, 0)+".")
	}
}
