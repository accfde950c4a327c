package corners

import (
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// frame is the outline of the car; what is not known of it is drawn as usual.
func (b *page) frame() {
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
	*f = Frame{
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
func (b *page) restsOn() {
	c := b.Answer.Job.Car
	add := func(path, text string) { b.out.Rests = append(b.out.Rests, Rests{Text: text, Path: path}) }
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
			if o.Err == nil && math.IsNaN(o.Car.ToStop(o.Car.Rest(), 2*a)) {
				add("builds."+o.Build.ID+"."+axle+".stop", "On “"+o.Build.Name+"” it is not known where the "+axle+" stops are met: damper, stop, or how they stand is not entered.")
			}
		}
	}
	if !c.TopSpeed.Known() && b.out.Steady.Top.Shown != "" {
		add("car.top_speed", "The top speed is not known; steadiness is looked at up to "+b.out.Steady.Top.Shown+".")
	}
}
