package car

import (
	"math"

	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

// Fill puts an estimate, marked as one, in the place of what is missing and
// can be estimated, and gives every factor on a table its 1. What cannot be
// estimated stays unknown; Check says whether that can be lived with.
//
// Calling it again changes nothing. The rules and their bands are common
// practice, no source, but where a comment says otherwise.
func Fill(c *Car, builds []*Build) []Filled {
	f := filler{car: c, fitted: fittedBuild(c, builds)}
	f.rolls()
	f.weighing()
	f.masses()
	for a := range 2 {
		f.motion(a)
		f.axle(a)
		f.clearance(a)
	}
	f.pressures(builds)
	if f.fitted != nil {
		f.build(f.fitted)
	}
	for _, b := range builds {
		if b != f.fitted {
			f.build(b)
		}
	}
	f.speedometer(builds)
	return f.list
}

func fittedBuild(c *Car, builds []*Build) *Build {
	for _, b := range builds {
		if b.ID == c.Weighed.Build {
			return b
		}
	}
	return nil
}

// pathCorners are the corners as a job's paths name them.
var pathCorners = [4]string{"front_left", "front_right", "rear_left", "rear_right"}

func (f *filler) weighing() {
	c, w := f.car, &f.car.Weighed
	scales := false
	for i := range 4 {
		scales = scales || w.Load[i].Known()
	}
	gain := 0.002
	if !scales && c.KerbMass.Known() && c.FrontShare.Known() {
		gain = 0
		share := [2]float64{c.FrontShare.Value, 1 - c.FrontShare.Value}
		for i := range 4 {
			value := 0.5 * c.KerbMass.Value * share[AxleOf(i)]
			f.put(&w.Load[i], "car.weighed.load."+pathCorners[i], value, 0.04*value,
				"kerb mass, axle split and both sides alike, ± 4 %: common practice, no source")
		}
	}
	f.put(&w.ScaleGain, "car.weighed.scale_gain", 1, gain, "one gain of all four scales, ± 0.2 %: common practice, no source")
	for a := range 2 {
		l, r := &w.Height[2*a], &w.Height[2*a+1]
		pathL, pathR := "car.weighed.arch_height."+pathCorners[2*a], "car.weighed.arch_height."+pathCorners[2*a+1]
		switch {
		case !l.Known() && !r.Known():
			datum := usualHeight
			if c.ZeroHeight[a].Known() {
				datum = c.ZeroHeight[a].Value
			}
			const basis = "nobody measured it: heights are counted from this datum and only their differences mean anything"
			f.put(l, pathL, datum, 0, basis)
			f.put(r, pathR, datum, 0, basis)
		case !l.Known():
			f.put(l, pathL, r.Value, 0.010, "as on the other side, ± 0.010 m: common practice, no source")
		case !r.Known():
			f.put(r, pathR, l.Value, 0.010, "as on the other side, ± 0.010 m: common practice, no source")
		}
		f.put(&c.ZeroHeight[a], "car.zero_height."+AxleNames[a], 0.5*(l.Value+r.Value), 0, "a datum: the mean of the axle as it was measured")
	}
}

// usualHeight is an ordinary hub-to-arch height: common practice, no source. [m]
const usualHeight = 0.37

func (f *filler) masses() {
	c := f.car
	total, axle := 0.0, [2]float64{}
	for i, load := range c.EmptyLoads() {
		axle[AxleOf(i)] += load
		total += load
	}
	if total <= 0 {
		return
	}
	unsprung := 0.0
	for a := range 2 {
		f.put(&c.Unsprung[a], "car.unsprung."+AxleNames[a], 0.11*axle[a]/2, 0.04*axle[a]/2,
			"11 % of the corner load, ± 4 points: common practice, no source")
		unsprung += 2 * c.Unsprung[a].Value
	}
	sprung := total - unsprung
	track := 0.5 * (c.Track[Front].Value + c.Track[Rear].Value)
	// h = track/(2·SSF): the static stability factor of cars is about 1.3 to
	// 1.5 (NHTSA measurements, SAE 1999-01-1336, abstract read). It is of the
	// whole car; the wheels' share, at wheel-centre height, is taken out.
	height := track / (2 * stabilityFactor)
	radius := 0.5 * (f.hub(Front) + f.hub(Rear))
	f.put(&c.CGHeight, "car.cg_height", (total*height-unsprung*radius)/sprung, height*0.10/stabilityFactor*total/sprung,
		"track / (2 · 1.42 ± 0.10), wheels taken out: static stability factors of cars, NHTSA, SAE 1999-01-1336 (abstract read)")
	roll := 0.39 * track
	f.put(&c.InertiaRoll, "car.inertia.roll", sprung*roll*roll, 0.20*sprung*roll*roll,
		"roll radius 0.39 track, ± 10 %: common practice, no source")
	behind := c.Wheelbase.Value * axle[Rear] / total
	pitch := sprung * behind * (c.Wheelbase.Value - behind)
	f.put(&c.InertiaPitch, "car.inertia.pitch", 0.94*pitch, 0.08*pitch,
		"pitch index 0.94 ± 0.08: common practice, no source")
}

// stabilityFactor is track over twice the height of the centre of gravity of
// ordinary cars. [-]
const stabilityFactor = 1.42

// UsualHubHeight is the height of a hub, with its brake, over the ground, half-width
// beside it: common practice, no source.
const UsualHubHeight, UsualHubHeightHalf = 0.31, 0.02 // [m]

// hub is the height of what moves with an axle's wheels: as measured, or at their
// centres. [m]
func (f *filler) hub(a int) float64 {
	if h := &f.car.UnsprungHeight[a]; h.Known() {
		return h.Value
	}
	return f.wheelRadius(a)
}

// wheelRadius is the loaded radius of an axle's tyre, or an ordinary one. [m]
func (f *filler) wheelRadius(a int) float64 {
	t := &f.car.Axle[a].Tyre
	if !t.Width.Known() || !t.Aspect.Known() || !t.Rim.Known() {
		return UsualHubHeight
	}
	const squash = 0.018 // of an ordinary car's tyre at rest: common practice, no source. [m]
	return 0.5*t.Rim.Value + t.Width.Value*t.Aspect.Value - squash
}

func (f *filler) motion(a int) {
	ax := &f.car.Axle[a]
	base := "car." + AxleNames[a] + ".motion."
	spring, damper := ax.Taped.ToSpring, ax.Taped.ToDamper
	// Where one of the two was taped and the suspension carries the spring on
	// its damper, both stand at the same place.
	if !damper.Known() && ax.OnDamper() {
		damper = spring
	}
	if !spring.Known() && ax.OnDamper() {
		spring = damper
	}
	known := [2]bool{ax.Spring.Known(), ax.Damper.Known()}
	f.ratio(&ax.Spring, base+"spring", spring, ax)
	f.ratio(&ax.Damper, base+"damper", damper, ax)
	if ax.OnDamper() {
		if known[0] && !known[1] {
			f.shared(&ax.Damper, &ax.Spring, base+"damper")
		} else if known[1] && !known[0] {
			f.shared(&ax.Spring, &ax.Damper, base+"spring")
		}
	}
	f.bend(&ax.Spring, base+"spring")
	f.bend(&ax.Damper, base+"damper")
	for i := range ax.Side {
		f.side(ax, i, "car."+AxleNames[a]+"."+SideNames[i]+".motion.", known)
	}
}

// side fills the tables that one side has of its own. Where the axle's two parts
// share a table because they stand on one axis, they share one side's too.
func (f *filler) side(ax *Axle, i int, base string, known [2]bool) {
	side := &ax.Side[i]
	if ax.OnDamper() && known[0] != known[1] {
		switch {
		case side.Damper == nil && side.Spring != nil:
			side.Damper = new(Motion)
			f.shared(side.Damper, side.Spring, base+"damper")
		case side.Spring == nil && side.Damper != nil:
			side.Spring = new(Motion)
			f.shared(side.Spring, side.Damper, base+"spring")
		}
	}
	if side.Spring != nil {
		f.bend(side.Spring, base+"spring")
	}
	if side.Damper != nil {
		f.bend(side.Damper, base+"damper")
	}
}

// OnDamper reports a suspension whose spring stands on its damper.
func (ax *Axle) OnDamper() bool { return ax.Kind == "strut" || ax.Kind == "wishbone" }

// shared gives a part the table of the other one on the same axis.
func (f *filler) shared(to, from *Motion, path string) {
	if to.Wheel != nil && to.Origin != figure.Estimated {
		return
	}
	*to = *from
	to.Origin, to.Path = figure.Estimated, path
	if to.Curve == nil && to.FitTable() != nil {
		return
	}
	f.list = append(f.list, Filled{Path: path, Basis: "spring and damper stand on the same axis: the same table"})
}

// ratio makes a motion table of one guessed ratio.
//
// A single reading r·w whose error is h·w leaves exactly the band ± h on the
// ratio.
func (f *filler) ratio(m *Motion, path string, taped Input, ax *Axle) {
	if m.Known() {
		return
	}
	var r, half float64
	var basis string
	switch {
	case taped.Known() && ax.Taped.ToJoint.Known() && ax.Taped.ToJoint.Value > 0:
		r = taped.Value / ax.Taped.ToJoint.Value
		half = 0.08 * r
		basis = "taped along the arm, pivot to spring over pivot to joint, ± 8 %: common practice, no source"
	case ax.Kind == "strut":
		r, half = 0.95, 0.05
		basis = "the cosine of a strut's lean, 0.95 ± 0.05: common practice, no source"
	case ax.Kind == "":
		// A job taken on the telephone: the answer is wide, and says so.
		r, half = 0.8, 0.2
		basis = "nothing is said of the suspension: 0.8 ± 0.2 of the wheel's travel, which holds most of them: common practice, no source; say its type, or tape the arm"
	default:
		return
	}
	const w = 0.1
	m.Wheel, m.Part = []float64{w}, []float64{r * w}
	m.Reading = Input{Half: half * w, Shape: figure.Normal95, Origin: figure.Estimated, Path: path, Basis: basis}
	m.Origin, m.Path, m.Line = figure.Estimated, path, taped.Line
	if m.FitTable() != nil {
		m.Wheel, m.Part = nil, nil
		return
	}
	f.list = append(f.list, Filled{Path: path, Basis: basis, Input: &m.Reading})
}

// bend says how much a ratio may change with travel where the readings cannot
// show it: 0 to 0.8 per metre on struts.
func (f *filler) bend(m *Motion, path string) {
	if !m.Known() || m.Curve != nil || m.Fit.Curved || m.Bend.Known() {
		return
	}
	m.Bend = Input{
		Value: 0.4, Half: 0.4, Shape: figure.Limit, Origin: figure.Estimated, Path: path + ".bend",
		Basis: "the readings cannot show a change of the ratio with travel: 0 to 0.8 per metre, common practice, no source",
	}
	f.list = append(f.list, Filled{Path: m.Bend.Path, Basis: m.Bend.Basis, Input: &m.Bend})
}

func (f *filler) axle(a int) {
	c, ax := f.car, &f.car.Axle[a]
	name := "car." + AxleNames[a] + "."
	f.points(a)
	centre := [2]float64{0.070, 0.115}
	f.put(&c.RollCentre[a], "car.roll_centre."+AxleNames[a], centre[a], rollCentreHalf(ax.Kind),
		"0.070 m in front, 0.115 m behind, ± 0.040 m with independent wheels: common practice, no source")
	if t := &ax.Tyre; t.Width.Known() && t.Aspect.Known() && t.Rim.Known() && !ax.TyreRate.Known() {
		pressure := t.Pressure
		if !pressure.Known() {
			pressure.Value = usualPressure
		}
		rate := part.RadialRate(pressure.Value, t.Width.Value, 100*t.Aspect.Value, t.Rim.Value)
		f.put(&ax.TyreRate, name+"tyre_rate", rate, 0.15*rate,
			"from the sidewall and the pressure, ± 15 %: T. B. Rhyne, Tire Science and Technology 33 (2005), coefficients from memory")
	}
	f.put(&ax.TyreRate, name+"tyre_rate", 220e3, 0.25*220e3, "an ordinary car tyre, ± 25 %: common practice, no source")
	bush := 3e3
	if ax.Kind == "strut" {
		bush = 1.5e3
	}
	f.put(&ax.BushRate, name+"bush_rate", bush, 0.6*bush, "rubber bushes, ± 60 %: common practice, no source")
	if bar := &ax.Bar; !ax.BarRate.Known() && bar.Diameter.Known() && bar.Length.Known() && bar.Arm.Known() {
		rate := 0.85 * part.TorsionBarEndRate(steelShear, bar.Diameter.Value, bar.Bore.Value, bar.Length.Value, bar.Arm.Value)
		f.put(&ax.BarRate, name+"bar.rate", rate, 0.15*rate,
			"twist of the bar by its size, × 0.85 ± 15 % for arms and bushes: elementary torsion; the factor is common practice, no source")
	}
	f.points(a) // the rate may be known by now
	if ax.BarRate.Known() {
		ratio := 0.7
		if ax.Kind == "strut" {
			ratio = 0.93 // the link stands on the strut
		}
		f.put(&ax.BarLink, name+"bar.link_ratio", ratio, 0.15*ratio, "drop link on the strut 0.93, on an arm 0.7, ± 15 %: common practice, no source")
	}
}

const (
	// steelShear is the shear modulus of oil-tempered spring steel: EN 10270-2,
	// from memory [Pa].
	steelShear = 79.5e9
)

func rollCentreHalf(kind string) float64 {
	switch kind {
	case "twist-beam":
		return 0.08
	case "live-axle":
		return 0.20
	default:
		return 0.04
	}
}

func (f *filler) build(b *Build) {
	for i := range 4 {
		if f.fitted != nil && b != f.fitted && b.Corner[i].Damper == nil {
			b.Corner[i].Damper = f.fitted.Corner[i].Damper
		}
	}
	for _, corners := range b.groups() {
		if i := corners[0]; i&1 == 0 {
			f.friction(b, AxleOf(i))
		}
		f.parts(b, corners...)
	}
}

// friction estimates what nobody measured, of both sides at once where neither
// was.
func (f *filler) friction(b *Build, a int) {
	friction, half := 45.0, 30.0
	if f.car.Axle[a].Kind == "strut" {
		friction, half = 80, 50
	}
	const basis = "a strut 80 ± 50 N, other suspensions 45 ± 30 N at the wheel: common practice, no source"
	left, right := &b.Corner[2*a].Friction, &b.Corner[2*a+1].Friction
	path := "builds." + b.ID + "." + AxleNames[a] + "."
	if !left.Known() && !right.Known() {
		f.put(left, path+"friction", friction, half, basis)
		*right = *left
		return
	}
	f.put(left, path+"left.friction", friction, half, basis)
	f.put(right, path+"right.friction", friction, half, basis)
}

// parts fills the parts at a corner, and at its other side where both are alike.
func (f *filler) parts(b *Build, corners ...int) {
	i := corners[0]
	a, ax := AxleOf(i), &b.Corner[i]
	where := b.PlaceOf(i) + "."
	if ax.BushTightened == "" {
		ax.BushTightened = "rest"
		if b == f.fitted {
			ax.BushTightened = "as-weighed"
		}
	}
	if ax.Spring == nil && b == f.fitted {
		ax.Spring = &SpringSpec{ID: where + "spring"}
	}
	if ax.Spring != nil {
		f.spring(ax.Spring, i, b)
	}
	if ax.Helper != nil {
		f.springSize(ax.Helper)
	}
	if ax.Damper == nil && b == f.fitted {
		ax.Damper = &DamperSpec{ID: where + "damper"}
	}
	if ax.Damper != nil {
		f.damper(ax, a)
		if b == f.fitted {
			for _, j := range corners {
				f.lengthOnCar(ax.Damper, j)
			}
		}
	}
	if ax.Stop == nil && ax.Damper != nil && ax.Damper.Open.Known() && ax.Damper.RodOpen.Known() {
		if b != f.fitted && f.fitted != nil && f.fitted.Corner[i].Stop != nil {
			ax.Stop = f.fitted.Corner[i].Stop
		} else {
			ax.Stop = &StopSpec{ID: where + "stop"}
		}
	}
	if ax.Stop != nil {
		f.stop(ax.Stop)
	}
	f.tyre(ax)
	for _, j := range corners[1:] {
		serial := b.Corner[j].Serial
		b.Corner[j] = *ax
		b.Corner[j].Serial = serial
	}
}

// corner is the mean of an axle's two corners: sprung mass [kg] and the ratios
// of spring and damper at the zero height.
func (f *filler) corner(a int) (sprung, spring, damper float64) {
	empty := f.car.EmptyLoads()
	sprung = 0.5*(empty[2*a]+empty[2*a+1]) - f.car.Unsprung[a].Value
	ax := &f.car.Axle[a]
	for side := range 2 {
		spring += 0.5 * ax.SpringOf(side).Ratio(0)
		damper += 0.5 * ax.DamperOf(side).Ratio(0)
	}
	return sprung, spring, damper
}

func (f *filler) spring(s *SpringSpec, i int, b *Build) {
	f.springSize(s)
	if s.Rate.Known() || len(s.Table) > 0 {
		return
	}
	path := partPath("springs", s.ID) + ".rate"
	if b != f.fitted && f.fitted != nil && f.fitted.Corner[i].Spring != nil && f.fitted.Corner[i].Spring.Rate.Known() {
		rate := 1.2 * f.fitted.Corner[i].Spring.Rate.Value
		f.put(&s.Rate, path, rate, 0.15*rate, "a lowering spring: the original's rate × 1.2 ± 15 %, common practice, no source")
		return
	}
	a := AxleOf(i)
	sprung, ratio, _ := f.corner(a)
	if sprung <= 0 || ratio <= 0 {
		return
	}
	// k_s = (2π·f)²·m/r²
	frequency := [2]float64{1.25, 1.35}[a]
	omega := 2 * math.Pi * frequency
	rate := omega * omega * sprung / (ratio * ratio)
	f.put(&s.Rate, path, rate, 0.25*rate,
		"an ordinary road car's frequency, 1.25 Hz in front and 1.35 Hz behind, ± 12 %: common practice, no source")
}

// springSize fills what follows from a spring's own size.
func (f *filler) springSize(s *SpringSpec) {
	path := partPath("springs", s.ID)
	if !s.Scale.Known() {
		s.Scale = Input{Value: 1, Origin: figure.Chosen, Path: path + ".scale", Basis: "no table to scale"}
	}
	if d, m, n := &s.Wire, &s.MeanDiameter, &s.ActiveCoils; !s.Rate.Known() && d.Known() && m.Known() && n.Known() {
		rate := part.WireRate(steelShear, d.Value, m.Value, n.Value)
		half := rate * math.Sqrt(sq(4*d.Half/d.Value)+sq(3*m.Half/m.Value)+sq(n.Half/n.Value)+sq(0.03))
		f.put(&s.Rate, path+".rate", rate, half, "from wire and coils: EN 13906-1:2013, with the shear modulus of EN 10270-2 steel (from memory) ± 3 %")
	}
	if s.Free.Known() {
		f.put(&s.Block, path+".block", 0.36*s.Free.Value, 0.12*0.36*s.Free.Value, "36 % of the free length, ± 12 % of that: common practice, no source")
	}
}

func sq(x float64) float64 { return x * x }

// hidden is how much of the rod still shows when a damper is closed: the
// space of a bush or bracket that never enters. Common practice, no source. [m]
const hidden, hiddenHalf = 0.012, 0.006

func (f *filler) damper(ax *BuildCorner, a int) {
	d := ax.Damper
	path := partPath("dampers", d.ID)
	if d.Open.Known() {
		const basis = "0.012 ± 0.006 m of rod still show when it is closed: common practice, no source"
		switch {
		case d.RodOpen.Known() && !d.Closed.Known():
			f.put(&d.Closed, path+".closed", d.Open.Value-d.RodOpen.Value+hidden, math.Hypot(hiddenHalf, d.RodOpen.Half), basis)
		case d.Closed.Known() && !d.RodOpen.Known():
			f.put(&d.RodOpen, path+".rod_showing_open", d.Open.Value-d.Closed.Value+hidden, math.Hypot(hiddenHalf, d.Closed.Half), basis)
		}
	}
	strut := f.car.Axle[a].Kind == "strut"
	f.gas(d, path, strut)
	f.curves(ax, a, path)
	if !d.Scale.Known() {
		d.Scale = Input{Value: 1, Origin: figure.Chosen, Path: path + ".scale"}
	}
}

func (f *filler) gas(d *DamperSpec, path string, strut bool) {
	rod, rodHalf := 0.013, 0.002
	switch {
	case d.Construction == "single-tube-inverted":
		rod, rodHalf = 0.016, 0.003
	case strut:
		rod = 0.020
	}
	f.put(&d.Rod, path+".rod", rod, rodHalf, "a strut 0.020 m, others 0.013 m, the inner rod of an inverted strut 0.016 m: common practice, no source")
	area := math.Pi / 4 * d.Rod.Value * d.Rod.Value
	pressure, half := 4e5, 2e5
	charge, source := "a twin tube's charge, 4 ± 2 × 10⁵ Pa", ": common practice, no source"
	switch {
	case d.GasPressure.Known():
		pressure, half = d.GaugePressure(nil), d.GasPressure.Half
		charge, source = "the pressure given", ""
	case d.Construction == "single-tube", d.Construction == "single-tube-inverted":
		pressure, half = 20e5, 8e5
		charge, source = "a single tube's charge, 20 ± 8 × 10⁵ Pa", ": common practice, no source; push it in on a scale"
	}
	if d.GasVolume.Known() {
		f.put(&d.GasExponent, path+".gas.exponent", usualExponent, usualExponentHalf, "1.25 ± 0.15: between slow and quick movements of an ideal gas of two atoms, 1 and 1.4; the middle is common practice, no source")
	}
	if d.GasVolume.Known() && !d.GasForce.Known() {
		// The force follows from the charge.
		f.put(&d.GasPressure, path+".gas.pressure", pressure, half, charge+source)
		return
	}
	force := pressure * area
	f.put(&d.GasForce, path+".gas.force", force, force*math.Hypot(half/pressure, 2*d.Rod.Half/d.Rod.Value), charge+", on the rod"+source)
	if d.GasVolume.Known() {
		// How fast the charge stiffens, n·p·A²/V.
		rate := d.GasExponent.Value * (pressure + part.AtmospherePressure) * area * area / d.GasVolume.Value
		f.put(&d.GasRate, path+".gas.rate", rate, 0.3*rate, charge+", in the volume given"+source)
	}
	f.put(&d.GasRate, path+".gas.rate", 4*d.GasForce.Value, 2.4*d.GasForce.Value, "4 ± 2.4 times the push-out per metre of travel: common practice, no source")
}

// Speeds at which an estimated curve is written. [m/s]
var curveSpeeds = []float64{0.025, 0.05, 0.13, 0.26, 0.39, 0.52, 1.04}

// curves guesses force over speed of a damper nobody put on a dyno.
//
//	C_d = 2·ζ·√(k_w·m)/r_d²,  F(v) = C_d·v₀·(v/v₀)^0.7,  ζ = 0.25 at v₀ = 0.13 m/s
//
// rebound 2.2 times bump; × 0.75 when the damper is worn; ± 35 %.
func (f *filler) curves(ax *BuildCorner, a int, path string) {
	d := ax.Damper
	if len(d.Curves) > 0 || ax.Spring == nil || !ax.Spring.Rate.Known() {
		return
	}
	sprung, rs, rd := f.corner(a)
	if sprung <= 0 || rs <= 0 || rd <= 0 {
		return
	}
	const ratio, at, split = 0.25, 0.13, 2.2
	mean := 2 * ratio * math.Sqrt(ax.Spring.Rate.Value*rs*rs*sprung) / (rd * rd) * at
	if d.Worn {
		mean *= 0.75
	}
	var c ClickCurve
	for _, v := range curveSpeeds {
		force := mean * math.Pow(v/at, 0.7)
		c.Bump = append(c.Bump, Point{X: v, F: force * 2 / (1 + split)})
		c.Rebound = append(c.Rebound, Point{X: v, F: force * 2 * split / (1 + split)})
	}
	d.Curves, d.Guess = []ClickCurve{c}, true
	const basis = "ratio 0.25 at 0.13 m/s of the damper, rebound 2.2 times bump, × 0.75 when worn, ± 35 %: common practice, no source"
	d.Scale = Input{Value: 1, Half: 0.35, Shape: figure.Normal95, Origin: figure.Estimated, Path: path + ".curves", Basis: basis}
	f.list = append(f.list, Filled{Path: path + ".curves", Basis: basis, Input: &d.Scale})
}

// lengthOnCar finds the mount-to-mount length of a corner's damper on the car from
// the rod that shows.
func (f *filler) lengthOnCar(d *DamperSpec, i int) {
	w := &f.car.Weighed
	if w.DamperLength[i].Known() || !w.RodShowing[i].Known() || !d.Open.Known() || !d.RodOpen.Known() {
		return
	}
	half := math.Sqrt(sq(d.Open.Half) + sq(d.RodOpen.Half) + sq(w.RodShowing[i].Half))
	f.put(&w.DamperLength[i], "car.weighed.damper_length."+pathCorners[i],
		d.Open.Value-(d.RodOpen.Value-w.RodShowing[i].Value), half, "open length less the rod that went in")
}

// FillStop does for a stop that no build has yet what Fill does for a build's.
func FillStop(s *StopSpec) { new(filler).stop(s) }

func (f *filler) stop(s *StopSpec) {
	path := partPath("stops", s.ID)
	f.put(&s.Length, path+".length", 0.055, 0.015, "an ordinary stop, 0.055 ± 0.015 m: common practice, no source")
	kind := s.kind()
	if len(s.Table) == 0 {
		s.Table = s.UsualTable()
		s.Scale = Input{Value: 1, Half: kind.band, Shape: figure.Normal95, Origin: figure.Estimated, Path: path + ".force", Basis: kind.basis}
		f.list = append(f.list, Filled{Path: path + ".force", Basis: kind.basis, Input: &s.Scale})
	}
	if !s.Scale.Known() {
		s.Scale = Input{Value: 1, Origin: figure.Chosen, Path: path + ".scale"}
	}
	f.put(&s.Loss, path+".loss", kind.loss, kind.lossHalf, kind.lossBasis)
	f.put(&s.Dynamic, path+".dynamic", kind.dynamic, kind.dynaHalf, kind.dynamicBasis)
}

// UsualLoads are the load states of a job that names none: the car as it was
// weighed, and an ordinary driver in it. Which side the driver sits on is not
// known, nor exactly how far back.
func UsualLoads(c *Car) []Load {
	guess := func(key string, value, half float64, basis string) Input {
		return Input{
			Value: value, Half: half, Shape: figure.Limit, Origin: figure.Estimated,
			Path: "loads.driver.items[0]." + key, Basis: basis + ": common practice, no source",
		}
	}
	base := c.Wheelbase.Value
	return []Load{
		{ID: "as-weighed", Name: "As weighed"},
		{ID: "driver", Name: "Driver", Items: []Payload{{
			Name:   "driver",
			Mass:   guess("mass", 75, 20, "an ordinary driver, 75 ± 20 kg"),
			Behind: guess("behind_front_axle", 0.52*base, 0.08*base, "seats of ordinary cars, half way between the axles"),
			Left:   guess("left", 0, 0.37, "which side is not known"),
		}}},
	}
}
