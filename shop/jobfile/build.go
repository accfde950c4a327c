package jobfile

import (
	"fmt"
	"strconv"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

func (b *builder) car(e *entry) *car.Car {
	inertia := e.at("inertia")
	c := &car.Car{
		Name:           e.word("name"),
		Wheelbase:      e.input("wheelbase"),
		Track:          axlesOf(e, "track"),
		ZeroHeight:     axlesOf(e, "zero_height"),
		Unsprung:       axlesOf(e, "unsprung"),
		UnsprungHeight: axlesOf(e, "unsprung_height"),
		KerbMass:       e.input("kerb_mass"),
		FrontShare:     e.input("front_share"),
		Tank:           e.input("tank"),
		OverallHeight:  e.input("overall_height"),
		TopSpeed:       e.input("top_speed"),
		BrakeShare:     e.input("brake_share"),
		DriveShare:     e.input("drive_share"),
		Speedometer:    e.input("speedometer"),
		CGHeight:       e.input("cg_height"),
		RollCentre:     axlesOf(e, "roll_centre"),
		InertiaRoll:    inertia.input("roll"),
		InertiaPitch:   inertia.input("pitch"),
	}
	for i, name := range axleKeys {
		if a := e.at(name); a != nil {
			c.Axle[i] = b.axle(a)
		}
	}
	w := e.at("weighed")
	// Nobody takes a drop link off without saying so.
	bars := w.at("bars")
	c.Weighed = car.Weighed{
		Build:        w.word("build"),
		BarsOn:       bars == nil || bars.yes,
		Settled:      w.is("settled"),
		Aboard:       payloads(w.at("aboard")),
		Notes:        w.word("state"),
		Load:         cornersOf(w, "load"),
		Height:       cornersOf(w, "arch_height"),
		SpringLength: cornersOf(w, "spring_length"),
		DamperLength: cornersOf(w, "damper_length"),
		RodShowing:   cornersOf(w, "rod_showing"),
	}
	return c
}

// droopLimits are the limits that end droop.
var droopLimits = map[string]bool{"hose": true, "shaft": true, "joint": true}

func (b *builder) axle(e *entry) car.Axle {
	motion, tyre, bar, maker := e.at("motion"), e.at("tyre"), e.at("bar"), e.at("maker_travel")
	room := e.at("clearance")
	a := car.Axle{
		Kind: e.word("type"),
		Taped: car.Tape{
			ToSpring: motion.input("pivot_to_spring"), ToDamper: motion.input("pivot_to_damper"), ToJoint: motion.input("pivot_to_joint"),
		},
		TyreRate: e.input("tyre_rate"),
		Tyre: car.Tyre{
			Width: tyre.input("width"), Aspect: tyre.input("aspect"), Rim: tyre.input("rim"), Pressure: tyre.input("pressure"),
		},
		Clearance: car.Clearance{
			Lip: room.input("lip"), Strut: room.input("strut"), Liner: room.input("liner"), Lock: room.input("lock"),
		},
		Cornering: e.input("cornering_stiffness"),
		LiftArea:  e.input("lift_area"),

		ComplianceSteer: e.input("compliance_steer"),
		BushRate:        e.input("bush_rate"),
		BarRate:         bar.input("rate"),
		BarLink:         bar.input("link_ratio"),
		Bar: car.Bar{
			Diameter: bar.input("diameter"), Bore: bar.input("bore"), Length: bar.input("length"), Arm: bar.input("arm"),
		},
		MakerBump:  maker.input("to_touch"),
		MakerSolid: maker.input("to_solid"),
	}
	b.holes(bar, &a)
	a.Spring = b.motion(motion, "spring", a.Kind, figure.Input{})
	a.Damper = b.motion(motion, "damper", a.Kind, figure.Input{})
	b.hardpoints(&a, e.at("hardpoints"))
	b.sides(&a, e)
	limits := e.at("limits")
	if limits != nil {
		for _, name := range limits.names {
			l := car.Limit{Name: name, Droop: droopLimits[name], Travel: limits.input(name)}
			if l.Droop != (l.Travel.Value < 0) {
				want := "the wheel meets it in bump: it must be more than 0"
				if l.Droop {
					want = "it ends droop: it must be less than 0"
				}
				b.refuse(l.Travel.Line, l.Travel.Path, "is "+short(l.Travel.Typed), want)
				continue
			}
			a.Limits = append(a.Limits, l)
		}
	}
	return a
}

// motion makes the table of a part. On a strut one column serves spring and
// damper, which share it. reading is the band of its readings where it says none;
// unknown for the usual one.
func (b *builder) motion(e *entry, part, kind string, reading figure.Input) car.Motion {
	wheel, travel := e.at("wheel"), e.at(part)
	if travel == nil && kind == "strut" {
		for _, other := range []string{"spring", "damper"} {
			if travel == nil {
				travel = e.at(other)
			}
		}
	}
	if wheel == nil || travel == nil {
		if travel != nil {
			b.refuse(travel.line, travel.path, "has no wheel travel beside it", "give the row wheel of the same readings")
		}
		return car.Motion{}
	}
	if len(wheel.row) != len(travel.row) {
		b.refuse(travel.line, travel.path, fmt.Sprintf("has %d numbers", len(travel.row)), fmt.Sprintf("wheel has %d: enter one each", len(wheel.row)))
		return car.Motion{}
	}
	m := car.Motion{Wheel: wheel.row, Part: travel.row, Origin: figure.Measured, Path: travel.path, Line: travel.line}
	if m.Reading = e.input("reading"); !m.Reading.Known() {
		m.Reading = reading
	}
	if !m.Reading.Known() {
		m.Reading = figure.Input{
			Half: 0.001, Shape: figure.Normal95, Origin: figure.Measured, Path: join(e.path, "reading"), Line: e.line,
			Basis: "band ± 1 mm: common practice, no source",
		}
	}
	if err := m.FitTable(); err != nil {
		b.refuse(m.Line, m.Path, "is no table: "+err.Error(), "enter two or more readings away from zero")
		return car.Motion{}
	}
	return m
}

// sides reads the motion tables that one side has of its own. Where the axle has
// none, one side's serves both, as an axle's would.
func (b *builder) sides(a *car.Axle, e *entry) {
	for i, side := range sideKeys {
		motion := e.at(side).at("motion")
		if motion == nil {
			continue
		}
		if motion.at("spring") == nil && motion.at("damper") == nil {
			b.refuse(motion.line, motion.path, "has no travel of spring or damper", "a side's own table is wheel and spring or damper travel, as many readings of each")
		}
		for _, part := range []struct {
			name string
			axle *car.Motion
			own  **car.Motion
		}{{"spring", &a.Spring, &a.Side[i].Spring}, {"damper", &a.Damper, &a.Side[i].Damper}} {
			m := b.motion(motion, part.name, a.Kind, e.at("motion").input("reading"))
			switch {
			case !m.Known():
			case part.axle.Known():
				*part.own = &m
			default:
				*part.axle = m
			}
		}
	}
}

func (b *builder) build(id string, e *entry) *car.Build {
	out := &car.Build{
		ID: id, Name: e.word("name"), Note: e.word("note"), Price: e.word("price"), Hours: e.input("hours"),
		Mass: payloads(e.at("mass")),
	}
	if out.Name == "" {
		out.Name = id
	}
	setup := e.at("setup")
	out.Setup = car.Setup{
		Platform: cornersOf(setup, "platform"), BodyLength: cornersOf(setup, "body_length"),
		WantedHeight: cornersOf(setup, "heights"), Pressures: setup.word("pressures"), Pressure: pressuresOf(setup),
	}
	if bars := setup.at("bars"); bars != nil {
		out.Setup.BarsOff = !bars.yes
	}
	out.Setup.Click, out.Setup.HasClick = clicksOf(setup)
	for i, name := range axleKeys {
		out.Setup.BarHole[i] = setup.at("bar_hole").word(name)
		parts := e.at(name)
		axle := b.buildCorner(parts)
		for j, side := range sideKeys {
			own := b.ownOf(axle, parts.at(side))
			own.Serial = parts.at("serials").word(side)
			out.Corner[2*i+j] = own
		}
	}
	if r := e.at("readings"); r != nil {
		out.Readings = &car.Readings{
			Load: cornersOf(r, "load"), Height: cornersOf(r, "arch_height"), BarsOn: r.is("bars"), State: r.word("state"),
			Seats: seatsOf(r),
		}
	}
	return out
}

// pressuresOf reads what the tyres are set to by corner: a corner's own, its axle's, or
// what stands in words where they are a pressure, or one of each axle: 2.3 / 2.7 bar.
func pressuresOf(setup *entry) (out [4]figure.Input) {
	if words := setup.at("pressures"); words != nil {
		axle, ok := ReadPressures(words.text)
		for i := range out {
			if ok {
				out[i] = figure.Input{Value: axle[i/2], Origin: figure.Chosen, Path: words.path, Line: words.line, Typed: words.text}
			}
		}
	}
	e := setup.at("pressure")
	for i, corner := range cornerKeys {
		into(&out[i], e, axleKeys[i/2])
		into(&out[i], e, corner)
	}
	return out
}

// clicksOf reads clicks by corner: a corner's own, or those of its axle.
func clicksOf(e *entry) (click [4]int, has [4]bool) {
	e = e.at("click")
	for i, corner := range cornerKeys {
		for _, name := range []string{axleKeys[i/2], corner} {
			if c := e.at(name); c != nil {
				click[i], has[i] = c.count, true
			}
		}
	}
	return click, has
}

// buildCorner reads what an axle, or one side of it, says of its parts.
func (b *builder) buildCorner(e *entry) car.BuildCorner {
	return car.BuildCorner{
		Spring:        b.spring(e.at("spring")),
		Helper:        b.spring(e.at("helper")),
		Damper:        b.damper(e.at("damper")),
		Stop:          b.stop(e.at("stop")),
		Mount:         b.mount(e.at("mount")),
		Tyre:          b.tyreDrawer().part(e.at("tyre")),
		Wheel:         b.wheelDrawer().part(e.at("wheel")),
		Platform:      b.platform(e.at("platform")),
		Packer:        e.input("packer"),
		SeatsCloser:   e.input("seats_closer"),
		MountsCloser:  e.input("mounts_closer"),
		Friction:      e.input("friction"),
		TyreRate:      e.input("tyre_rate"),
		UnsprungMore:  e.input("unsprung_more"),
		BushTightened: e.word("bushes"),
	}
}

// ownOf puts what one side of an axle says of its own over what the axle says.
func (b *builder) ownOf(axle car.BuildCorner, e *entry) car.BuildCorner {
	if e == nil {
		return axle
	}
	out, own := axle, b.buildCorner(e)
	if e.at("spring") != nil {
		out.Spring = own.Spring
	}
	if e.at("helper") != nil {
		out.Helper = own.Helper
	}
	if e.at("damper") != nil {
		out.Damper = own.Damper
	}
	if e.at("stop") != nil {
		out.Stop = own.Stop
	}
	if e.at("mount") != nil {
		out.Mount = own.Mount
	}
	if e.at("platform") != nil {
		out.Platform = own.Platform
	}
	if e.at("tyre") != nil {
		out.Tyre = own.Tyre
	}
	if e.at("wheel") != nil {
		out.Wheel = own.Wheel
	}
	into(&out.Packer, e, "packer")
	into(&out.SeatsCloser, e, "seats_closer")
	into(&out.MountsCloser, e, "mounts_closer")
	into(&out.Friction, e, "friction")
	into(&out.TyreRate, e, "tyre_rate")
	into(&out.UnsprungMore, e, "unsprung_more")
	if own.BushTightened != "" {
		out.BushTightened = own.BushTightened
	}
	return out
}

func (b *builder) loads(e *entry) []car.Load {
	var out []car.Load
	for _, id := range e.ids() {
		one := e.at(id)
		load := car.Load{ID: id, Name: one.word("name")}
		if load.Name == "" {
			load.Name = id
		}
		load.Items = b.chain(e, id, 0)
		b.tow(&load, e)
		out = append(out, load)
	}
	return out
}

// tow gives a load state the trailer that it, or the nearest one it adds to, tows.
func (b *builder) tow(load *car.Load, all *entry) {
	at, t := load.ID, all.at(load.ID).at("trailer")
	for range all.ids() {
		with := all.at(at).at("with")
		if t != nil || with == nil || all.at(with.text) == nil {
			break
		}
		at = with.text
		t = all.at(at).at("trailer")
	}
	if t == nil {
		return
	}
	tyres := 2
	if n := t.at("tyres"); n != nil {
		tyres = n.count
		if tyres < 1 || tyres > 8 {
			b.refuse(n.line, n.path, "is "+strconv.Itoa(tyres), "a trailer stands on 1 to 8 tyres")
		}
	}
	if t.at("body_length") == nil && t.at("yaw_inertia") == nil {
		b.refuse(t.line, t.path, "has no body_length", "how it swings cannot be said without the length of its body or its yaw inertia")
	}
	load.Trailer = &car.Trailer{
		Mass: t.input("mass"), ToAxle: t.input("to_axle"), BodyLength: t.input("body_length"), YawInertia: t.input("yaw_inertia"),
		Cornering: t.input("cornering_stiffness"), Speed: t.input("speed"), Tyres: tyres, Nose: len(load.Items),
	}
	load.Items = append(load.Items, car.Payload{Name: "coupling load", Mass: t.input("coupling_load"), Behind: t.input("behind_front_axle")})
}

// chain collects the items of a load state and of what it adds to, the first
// aboard first.
func (b *builder) chain(e *entry, id string, deep int) []car.Payload {
	one := e.at(id)
	with := one.at("with")
	if with == nil {
		return payloads(one.at("items"))
	}
	if e.at(with.text) == nil {
		if deep == 0 {
			b.refuse(with.line, with.path, "is "+short(with.text), "no load state has this id; "+suggest(with.text, e.ids()))
		}
		return nil
	}
	if deep > len(e.ids()) {
		return nil // a ring; found by rings
	}
	return append(b.chain(e, with.text, deep+1), payloads(one.at("items"))...)
}

// rings finds load states that add to themselves.
func (b *builder) rings(e *entry) bool {
	found := false
	for _, id := range e.ids() {
		at := id
		for range len(e.ids()) {
			with := e.at(at).at("with")
			if with == nil || e.at(with.text) == nil {
				break
			}
			if at = with.text; at == id {
				own := e.at(id).at("with")
				b.refuse(own.line, own.path, "is "+short(own.text), "this load state would add to itself")
				found = true
				break
			}
		}
	}
	return found
}

func (b *builder) brief(e *entry) brief.Brief {
	out := brief.Brief{Reference: e.word("reference"), UsualLoad: e.word("usual_load")}
	uses := e.at("uses")
	for _, name := range uses.ids() {
		out.Uses = append(out.Uses, brief.Use{Name: name, Share: uses.input(name)})
	}
	for _, r := range e.at("roads").each() {
		road := brief.Road{Name: r.word("road"), Load: r.word("load")}
		if speeds := r.at("speeds"); speeds != nil {
			for i, v := range speeds.row {
				road.Speeds = append(road.Speeds, figure.Input{
					Value: v, Origin: figure.Chosen, Path: fmt.Sprintf("%s[%d]", speeds.path, i), Line: speeds.line,
				})
			}
		}
		out.Roads = append(out.Roads, road)
	}
	for _, v := range e.at("events").each() {
		out.Events = append(out.Events, brief.Event{
			Kind: v.word("event"), Depth: v.input("depth"), Height: v.input("height"), Length: v.input("length"),
			Speed: v.input("speed"), Load: v.word("load"),
		})
	}
	l := e.at("limits")
	out.Limits = brief.Limits{
		BumpLeft: l.input("bump_left"), BumpLeftLaden: l.input("bump_left_laden"), FirmLeft: l.input("firm_left"),
		DroopLeft: l.input("droop_left"), SpringLoose: l.input("spring_loose"), BlockLeft: l.input("block_left"),
		StopForce: l.input("stop_force"), StopHit: l.input("stop_hit"), ArchLeft: l.input("arch_left"),
		CrossOff: l.input("cross_off"), SideToSide: l.input("side_to_side"), Rake: l.input("rake"),
	}
	return out
}
