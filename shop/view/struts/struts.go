package struts

import (
	"context"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/axles"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/linkage"
	"trunnion/chassis/strut"
	"trunnion/shop/desk"
	"trunnion/shop/drawing"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// page is a request while it is answered.
type page struct {
	*view.Trial
	ask  Request
	axle int
	out  *View

	study     axles.StrutAsk
	move      desk.StrutMove
	struts    *desk.Strutted
	all       *axles.Struts
	corner    linkage.Corner // with what was moved
	strips    [][4]drawing.Strip
	moments   [][]desk.StrutMoment // build by build, case by case
	draws     [][][]axles.StrutFound
	travels   []float64 // of the wheel, in the case that is drawn [m]
	drawn     [][]strut.Moment
	drawnErrs [][]error
}

// carriedCase is the case that follows springs and stop over the travel.
const carriedCase = "carried"

// Of shows what the struts of a job carry.
func Of(ctx context.Context, s *view.Trial, req Request) (*View, error) {
	u := &page{Trial: s, ask: req}
	if req.Axle == car.AxleNames[car.Rear] {
		u.axle = car.Rear
	}
	u.out = &View{
		Key: s.Key, Full: s.Full, Units: wording.SystemName(s.System), Axle: req.Axle, Load: s.Load,
		Unit:    Units{Length: quantity.Units(quantity.Length, s.System), Force: quantity.Units(quantity.Force, s.System)},
		Missing: []view.Missing{}, Sliders: []view.Slider{}, Cases: []view.Choice{}, Points: []string{}, Forces: []Force{}, Heads: []string{},
		Frames: []Frame{}, Builds: []Build{}, Figures: []Figure{}, Charts: []view.Chart{}, Notes: []string{},
		Mounts: Mounts{Heads: []string{}, Kinds: []string{}, Names: []string{}, Rows: []MountRow{}, Notes: []string{}},
	}
	bad := u.asked()
	u.out.Faults = append(view.Listed(s.Faults), bad...)
	if s.Answer != nil {
		u.out.LoadName, u.out.Kind = s.Teller.Load(s.Load), s.Answer.Job.Car.Axle[u.axle].Kind
		if err := u.run(ctx); err != nil {
			return nil, err
		}
		u.mounts()
	}
	return u.out, nil
}

// asked reads what is moved and how hard the car is driven.
func (u *page) asked() []jobfile.Fault {
	var faults []jobfile.Fault
	u.study = axles.UsualStrutAsk(u.axle)
	u.study.Points, u.study.Load = 0, u.Load
	read := func(path, typed string, kind quantity.Kind, low, high float64, to *float64, want string) {
		if typed == "" {
			return
		}
		v, err := quantity.Parse(typed, kind)
		if err != nil || !(v.Value >= low && v.Value <= high) {
			faults = append(faults, jobfile.Fault{Path: path, Got: typed, Want: want, Kind: jobfile.Warn})
			return
		}
		*to = v.Value
	}
	read("offset", u.ask.Offset, quantity.Length, -view.MostOffset, view.MostOffset, &u.move.Change.Offset, u.Within(view.MostOffset))
	read("longer", u.ask.Longer, quantity.Length, -view.MostLonger, view.MostLonger, &u.move.Change.Extension, u.Within(view.MostLonger))
	read("lower", u.ask.Lower, quantity.Length, -view.MostLower, view.MostLower, &u.move.Lower, u.Within(view.MostLower))
	read("heavier", u.ask.Heavier, quantity.Share, -view.MostHeavier, view.MostHeavier, &u.move.Heavier, "enter from −30 % to 30 %")
	g := "enter an acceleration up to " + wording.InG(1.5*equilibrium.Gravity)
	read("lateral", u.ask.Lateral, quantity.Acceleration, 0, 1.5*equilibrium.Gravity, &u.study.Lateral, g)
	read("braking", u.ask.Braking, quantity.Acceleration, 0, 1.5*equilibrium.Gravity, &u.study.Braking, g)
	u.sliders()
	return faults
}

func (u *page) sliders() {
	percent := func(v float64) string { return strconv.Itoa(int(math.Round(v/quantity.Percent))) + " %" }
	gs := func(v float64) string { return wording.InG(v) }
	g := equilibrium.Gravity
	hard := func(id, label, hint string, now float64) view.Slider {
		s := view.NewSlider(id, label, hint, now, 0, 1.2*g, 0.1*g, gs, gs)
		s.None = 9 // what is usual
		return s
	}
	u.out.Sliders = []view.Slider{
		u.WheelOut(u.move.Change.Offset),
		u.ArmLonger(u.move.Change.Extension),
		u.LengthSlider("lower", "Car lower", "the wheel that much further up, under the same loads", u.move.Lower, -0.030, 0.050, 0.005),
		view.NewSlider("heavier", "Axle heavier by", "a heavier engine in front: every load of the road by as much", u.move.Heavier, -0.20, 0.30, 0.05, percent, func(v float64) string {
			if v > 0 {
				return "+" + percent(v)
			}
			return strings.Replace(percent(v), "-", "−", 1)
		}),
		hard("lateral", "Cornering at", "the wheel on the outside", u.study.Lateral),
		hard("braking", "Braking at", "brakes share as the wheels are loaded", u.study.Braking),
	}
}

// moved reports that something stands otherwise than measured.
func (u *page) moved() bool {
	return u.move != (desk.StrutMove{})
}

// run computes and fills all there is to say of the struts.
func (u *page) run(ctx context.Context) error {
	struts, err := desk.StrutsOf(ctx, &u.Result, u.study)
	all := struts.Struts
	if all != nil {
		u.unguided(all.Unguided)
	}
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.Is(err, axles.ErrNoStrut):
		u.noStrut()
		return nil
	case errors.Is(err, axles.ErrNoGuide):
		return nil
	case err != nil:
		u.out.Missing = append(u.out.Missing, view.Missing{Text: u.Teller.StrutFault(err), List: []string{}})
		return nil
	}
	if struts.NoPower {
		u.out.Notes = append(u.out.Notes, wording.NoPower())
	}
	u.struts, u.all, u.corner = struts, all, struts.Corner(&u.move)
	if !slices.ContainsFunc(all.Builds, func(one axles.BuildStrut) bool { return one.Sided }) {
		u.out.Loaded = car.SideNames[all.Loaded()]
	}
	for i := range all.Builds {
		u.strips = append(u.strips, drawing.Strips(u.Answer, all.Builds[i].Build.ID, u.Load))
		u.moments = append(u.moments, struts.Moments(&all.Builds[i], &u.move))
		u.draws = append(u.draws, struts.Drawn(&all.Builds[i], &u.move))
	}
	u.cases()
	u.frames()
	u.figures()
	u.changes()
	u.sentences()
	u.charts()
	if all.Inverted {
		u.out.Costs = wording.InversionCosts()
	}
	u.out.Notes = append(u.out.Notes, wording.StrutSide(all), wording.StrutBands(), wording.StrutAssumptions())
	return nil
}

// noStrut says what to measure, or that there is no strut.
func (u *page) noStrut() {
	ax := &u.Answer.Job.Car.Axle[u.axle]
	name := car.AxleNames[u.axle]
	if ax.Kind != string(linkage.Strut) {
		u.out.Missing = append(u.out.Missing, view.Missing{Text: wording.NoStrut(ax.Kind, name), List: []string{}})
		return
	}
	list := wording.MeasurePoints(ax.Kind, name)
	u.out.Missing = append(u.out.Missing, view.Missing{Text: list[0], List: list[1:], Path: "car." + name + ".hardpoints"})
	var unknown []*car.Build
	for _, b := range u.Answer.Job.Builds {
		if l, r := b.Corner[2*u.axle].Damper, b.Corner[2*u.axle+1].Damper; l == nil || !l.Guide.Known() || r == nil || !r.Guide.Known() {
			unknown = append(unknown, b)
		}
	}
	u.unguided(unknown)
}

// unguided says of which dampers the guide has to be measured.
func (u *page) unguided(builds []*car.Build) {
	if len(builds) == 0 {
		return
	}
	one := view.Missing{Text: wording.MeasureGuides(), List: []string{}}
	var order []string
	names := map[string][]string{}
	for _, b := range builds {
		id := ""
		if d := b.Corner[2*u.axle].Damper; d != nil {
			id = d.ID
		}
		if names[id] == nil {
			order = append(order, id)
		}
		names[id] = append(names[id], "“"+b.Name+"”")
	}
	for _, id := range order {
		line := strings.Join(names[id], ", ")
		if id != "" {
			path := "parts.dampers." + id + ".guide"
			line += ": " + wording.Input(path)
			if one.Path == "" {
				one.Path = path
			}
		}
		one.List = append(one.List, line)
	}
	u.out.Missing = append(u.out.Missing, one)
}

// caseID names a case of a strut for good.
func caseID(c *axles.StrutCase) string {
	if c.Event >= 0 {
		return c.Code + "-" + strconv.Itoa(c.Event)
	}
	return c.Code
}

// caseOf finds a case of a build; −1 without one.
func caseOf(one *axles.BuildStrut, id string) int {
	return slices.IndexFunc(one.Cases, func(c axles.StrutCase) bool { return caseID(&c) == id })
}

// caseName is a case in words: obstacles with their size and speed.
func (u *page) caseName(c *axles.StrutCase) string {
	if c.Event < 0 {
		return u.Teller.StrutCase(c)
	}
	e := &u.Answer.Job.Brief.Events[c.Event]
	return u.Teller.StrutCase(c) + " (" + u.EventLine(e) + ")"
}

// caseShort is a case in a sentence: without the obstacle's size where the brief
// has one obstacle alone.
func (u *page) caseShort(c *axles.StrutCase) string {
	if c.Event >= 0 && len(u.Answer.Job.Brief.Events) == 1 {
		return u.Teller.StrutCase(c)
	}
	return u.caseName(c)
}

func (u *page) cases() {
	u.out.Case = "standing"
	for n := range u.all.Builds[0].Cases {
		c := &u.all.Builds[0].Cases[n]
		u.out.Cases = append(u.out.Cases, view.Choice{Value: caseID(c), Label: u.caseName(c)})
		if caseID(c) == u.ask.Case {
			u.out.Case = u.ask.Case
		}
	}
	u.out.Cases = append(u.out.Cases, view.Choice{Value: carriedCase, Label: wording.Carried})
	if u.ask.Case == carriedCase {
		u.out.Case = carriedCase
	}
	for _, c := range u.out.Cases {
		if c.Value == u.out.Case {
			u.out.CaseName = c.Label
		}
	}
	var held *axles.StrutCase
	if n := caseOf(&u.all.Builds[0], u.out.Case); n >= 0 {
		held = &u.all.Builds[0].Cases[n]
	}
	u.out.CaseNote = u.Teller.StrutHolds(held)
}

// referenceOf is the reference build's place among the struts; −1 without one.
func (u *page) referenceOf() int { return u.all.Reference }
