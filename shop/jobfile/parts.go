package jobfile

import (
	"fmt"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// drawer is one drawer of parts: where ids are looked up and made parts are
// kept.
type drawer[P any] struct {
	b    *builder
	name string // key under parts
	made map[string]*P
	fill func(*P, *entry)
	id   func(*P) *string
}

// part returns the part of an entry: by id, by id with changes, or written out
// in its place.
func (d drawer[P]) part(e *entry) *P {
	switch {
	case e == nil || e.text == noPart:
		return nil
	case e.text != "":
		return d.byID(e.text, e, e.path, 0)
	}
	out := new(P)
	if use := e.at("use"); use != nil {
		base := d.byID(use.text, use, use.path, 0)
		if base == nil {
			return nil
		}
		*out = *base
		*d.id(out) = e.path
	} else {
		*d.id(out) = e.path
	}
	d.fill(out, e)
	return out
}

func (d drawer[P]) byID(id string, from *entry, path string, deep int) *P {
	if made, ok := d.made[id]; ok {
		return made
	}
	shelf := d.b.parts.at(d.name)
	e := shelf.at(id)
	if e == nil {
		d.b.refuse(from.line, path, "is "+short(id), "no part under parts."+d.name+" has this id; "+suggest(id, shelf.ids()))
		d.made[id] = nil
		return nil
	}
	if deep > len(shelf.ids()) {
		d.b.refuse(from.line, path, "is "+short(id), "this part would be made of itself")
		d.made[id] = nil
		return nil
	}
	out := new(P)
	next := e.text
	if use := e.at("use"); use != nil {
		next = use.text
	}
	if next != "" {
		base := d.byID(next, e, e.path, deep+1)
		if base == nil {
			d.made[id] = nil
			return nil
		}
		*out = *base
	}
	*d.id(out) = id
	if e.text == "" {
		d.fill(out, e)
	}
	d.made[id] = out
	return out
}

func (b *builder) springDrawer() drawer[car.SpringSpec] {
	return drawer[car.SpringSpec]{b, "springs", b.springs, b.fillSpring, func(p *car.SpringSpec) *string { return &p.ID }}
}

func (b *builder) damperDrawer() drawer[car.DamperSpec] {
	return drawer[car.DamperSpec]{b, "dampers", b.dampers, b.fillDamper, func(p *car.DamperSpec) *string { return &p.ID }}
}

func (b *builder) stopDrawer() drawer[car.StopSpec] {
	return drawer[car.StopSpec]{b, "stops", b.stops, b.fillStop, func(p *car.StopSpec) *string { return &p.ID }}
}

func (b *builder) mountDrawer() drawer[car.MountSpec] {
	return drawer[car.MountSpec]{b, "mounts", b.mounts, b.fillMount, func(p *car.MountSpec) *string { return &p.ID }}
}

func (b *builder) platformDrawer() drawer[car.PlatformSpec] {
	return drawer[car.PlatformSpec]{b, "platforms", b.platforms, b.fillPlatform, func(p *car.PlatformSpec) *string { return &p.ID }}
}

func (b *builder) tyreDrawer() drawer[car.TyreSpec] {
	return drawer[car.TyreSpec]{b, "tyres", b.tyres, b.fillTyre, func(p *car.TyreSpec) *string { return &p.ID }}
}

func (b *builder) wheelDrawer() drawer[car.WheelSpec] {
	return drawer[car.WheelSpec]{b, "wheels", b.wheels, b.fillWheel, func(p *car.WheelSpec) *string { return &p.ID }}
}

func (b *builder) spring(e *entry) *car.SpringSpec     { return b.springDrawer().part(e) }
func (b *builder) damper(e *entry) *car.DamperSpec     { return b.damperDrawer().part(e) }
func (b *builder) stop(e *entry) *car.StopSpec         { return b.stopDrawer().part(e) }
func (b *builder) mount(e *entry) *car.MountSpec       { return b.mountDrawer().part(e) }
func (b *builder) platform(e *entry) *car.PlatformSpec { return b.platformDrawer().part(e) }

// allParts makes the parts that no build uses as well, so that their faults
// are found.
func (b *builder) allParts() {
	for _, id := range b.parts.at("springs").ids() {
		b.springDrawer().byID(id, b.parts.at("springs").at(id), "parts.springs."+id, 0)
	}
	for _, id := range b.parts.at("dampers").ids() {
		b.damperDrawer().byID(id, b.parts.at("dampers").at(id), "parts.dampers."+id, 0)
	}
	for _, id := range b.parts.at("stops").ids() {
		b.stopDrawer().byID(id, b.parts.at("stops").at(id), "parts.stops."+id, 0)
	}
	for _, id := range b.parts.at("mounts").ids() {
		b.mountDrawer().byID(id, b.parts.at("mounts").at(id), "parts.mounts."+id, 0)
	}
	for _, id := range b.parts.at("platforms").ids() {
		b.platformDrawer().byID(id, b.parts.at("platforms").at(id), "parts.platforms."+id, 0)
	}
	for _, id := range b.parts.at("tyres").ids() {
		b.tyreDrawer().byID(id, b.parts.at("tyres").at(id), "parts.tyres."+id, 0)
	}
	for _, id := range b.parts.at("wheels").ids() {
		b.wheelDrawer().byID(id, b.parts.at("wheels").at(id), "parts.wheels."+id, 0)
	}
}

// table pairs two rows; nil without them.
func (b *builder) table(e *entry, x, f string) []car.Point {
	xs, fs := e.at(x), e.at(f)
	switch {
	case xs == nil && fs == nil:
		return nil
	case xs == nil:
		b.refuse(fs.line, fs.path, "stands alone", "enter the row "+x+" beside it")
		return nil
	case fs == nil:
		b.refuse(xs.line, xs.path, "stands alone", "enter the row "+f+" beside it")
		return nil
	case len(xs.row) != len(fs.row):
		b.refuse(fs.line, fs.path, fmt.Sprintf("has %d numbers", len(fs.row)), fmt.Sprintf("%s has %d: enter one each", x, len(xs.row)))
		return nil
	}
	out := make([]car.Point, len(xs.row))
	for i := range out {
		out[i] = car.Point{X: xs.row[i], F: fs.row[i]}
	}
	return out
}

// scaled is the factor on a table: 1 with the band that was typed, or the
// usual one of how the table came about.
func scaled(e *entry, measured, makers, estimated float64) figure.Input {
	if e.at("scale") != nil {
		return e.input("scale")
	}
	origin, half, shape := figure.Measured, measured, figure.Normal95
	if e.shape.has("origin") != nil {
		switch e.word("origin") {
		case "maker":
			origin, half = figure.Makers, makers
		case "est":
			origin, half = figure.Estimated, estimated
		}
	}
	return figure.Input{
		Value: 1, Half: half, Shape: shape, Origin: origin, Path: join(e.path, "scale"), Line: e.line,
		Basis: fmt.Sprintf("band ± %.0f %% of all forces: common practice, no source", half/quantity.Percent),
	}
}

func (b *builder) fillSpring(s *car.SpringSpec, e *entry) {
	if rate := e.at("rate"); rate != nil {
		s.Rate, s.RateTo = rate.in, rate.to
	}
	into(&s.RateTo, e, "rate_to")
	into(&s.Free, e, "free")
	into(&s.Block, e, "block")
	into(&s.Drop, e, "drop")
	into(&s.Wire, e, "wire")
	into(&s.MeanDiameter, e, "mean_diameter")
	into(&s.ActiveCoils, e, "active_coils")
	into(&s.Inside, e, "inside")
	priced(&s.Sold, e)
	s.Makers = s.Rate.Origin == figure.Makers
	if t := b.table(e, "deflection", "force"); t != nil {
		s.Table = t
		s.Scale = scaled(e, 0.03, 0.05, 0.15)
	} else {
		into(&s.Scale, e, "scale")
	}
	if !s.Scale.Known() {
		s.Scale = figure.Input{Value: 1, Origin: figure.Chosen, Path: join(e.path, "scale"), Line: e.line, Basis: "no table to scale"}
	}
}

// priced takes a part's price.
func priced(s *car.Sold, e *entry) {
	if price := e.word("price"); price != "" {
		s.Price = price
	}
}

func (b *builder) fillDamper(d *car.DamperSpec, e *entry) {
	if c := e.word("construction"); c != "" {
		d.Construction = c
	}
	into(&d.Open, e, "open")
	into(&d.Closed, e, "closed")
	into(&d.RodOpen, e, "rod_showing_open")
	if serial := e.word("serial"); serial != "" {
		d.Serial = serial
	}
	into(&d.Rod, e, "rod")
	into(&d.Body, e, "body")
	into(&d.Piston, e, "piston")
	fillGuide(&d.Guide, e.at("guide"))
	gas := e.at("gas")
	into(&d.GasForce, gas, "force")
	into(&d.GasRate, gas, "rate")
	into(&d.GasPressure, gas, "pressure")
	into(&d.GasVolume, gas, "volume")
	into(&d.GasExponent, gas, "exponent")
	if at := gas.word("read_at"); at != "" {
		d.GasOpen = at == "open"
	}
	if is := gas.word("pressure_is"); is != "" {
		d.GasAbsolute = is == "absolute"
	}
	if e.at("worn") != nil {
		d.Worn = e.is("worn")
	}
	if clicks := e.at("clicks"); clicks != nil {
		d.ClickMost = clicks.count
	}
	if curves := e.at("curves"); curves != nil {
		d.Curves = b.curves(curves, d.ClickMost)
		d.Scale = scaled(e, 0.03, 0.10, 0.35)
		d.Guess = e.word("origin") == "est"
		d.Swept = e.word("swept")
	} else {
		into(&d.Scale, e, "scale")
	}
	if t := b.table(e.at("top_out"), "crush", "force"); t != nil {
		d.TopOut = t
	}
	priced(&d.Sold, e)
}

func (b *builder) curves(e *entry, clicks int) []car.ClickCurve {
	var out []car.ClickCurve
	lines := map[int]string{}
	for _, id := range e.ids() {
		one := e.at(id)
		c := car.ClickCurve{Bump: b.table(one, "speed", "bump"), Rebound: b.table(one, "speed", "rebound")}
		if c.Bump == nil || c.Rebound == nil {
			continue
		}
		click := one.at("click")
		switch {
		case click != nil:
			c.Click = click.count
			if clicks == 0 {
				b.refuse(click.line, click.path, fmt.Sprintf("is %d", c.Click), "the damper has no clicks; say how many at clicks")
			} else if c.Click > clicks {
				b.refuse(click.line, click.path, fmt.Sprintf("is %d", c.Click), fmt.Sprintf("it must be 0 (closed) to %d, the number of clicks", clicks))
			}
		case len(e.ids()) > 1 || clicks > 0:
			b.refuse(one.line, join(one.path, "click"), "is missing", "say at which click, counted from closed, the curve was measured")
		}
		if other, twice := lines[c.Click]; twice {
			b.refuse(one.line, one.path, fmt.Sprintf("is a second curve at click %d", c.Click), "the first is "+other)
		}
		lines[c.Click] = id
		out = append(out, c)
	}
	return out
}

func (b *builder) fillStop(s *car.StopSpec, e *entry) {
	into(&s.Length, e, "length")
	if kind := e.word("type"); kind != "" {
		s.Kind = kind
	}
	priced(&s.Sold, e)
	into(&s.Loss, e, "loss")
	into(&s.Dynamic, e, "dynamic")
	if t := b.table(e, "crush", "force"); t != nil {
		s.Table = t
		s.Scale = scaled(e, 0.15, 0.15, 0.35)
	} else {
		into(&s.Scale, e, "scale")
	}
}

func (b *builder) fillMount(m *car.MountSpec, e *entry) {
	if kind := e.word("type"); kind != "" {
		m.Kind = kind
	}
	into(&m.Stiffness, e, "stiffness")
	if e.at("carries_spring") != nil {
		m.CarriesSpring = e.is("carries_spring")
	}
	into(&m.Rated, e, "rated")
	into(&m.Slope, e, "slope")
	if below := e.word("below"); below != "" {
		m.Below = below
	}
}

func (b *builder) fillPlatform(p *car.PlatformSpec, e *entry) {
	if kind := e.word("type"); kind != "" {
		p.Kind = kind
	}
	into(&p.Pitch, e, "thread")
	into(&p.Up, e, "up")
	into(&p.Down, e, "down")
	into(&p.Engaged, e, "engaged")
	into(&p.LeastEngaged, e, "least_engaged")
	if flats := e.at("flats"); flats != nil {
		p.Flats = flats.count
		if p.Flats < 2 || p.Flats > 60 {
			b.refuse(flats.line, flats.path, "is "+short(flats.text), "a collar has 2 to 60 flats")
			p.Flats = 0
		}
	}
	if hand := e.word("hand"); hand != "" {
		p.LeftHand = hand == "left"
	}
	if from := e.word("from"); from != "" {
		p.From = from
	}
}

// sidewall reads a marking into a tyre. What it says has no band of its own: those of
// the dimensions that follow have.
func (b *builder) sidewall(t *car.TyreSpec, e *entry) {
	if e == nil {
		return
	}
	s, ok := ReadSidewall(e.text)
	if !ok {
		b.refuse(e.line, e.path, "is "+short(e.text), "enter it as it stands on the sidewall, such as 205/55 R16 91V")
		return
	}
	given := func(q quantity.Typed) figure.Input {
		return figure.Input{Value: q.Value, Origin: figure.Makers, Path: e.path, Line: e.line, Typed: e.text}
	}
	t.Size, t.Width, t.Aspect, t.Rim = s.String(), given(s.Width), given(s.Aspect), given(s.Rim)
	t.LoadIndex, t.Speed, t.ExtraLoad = s.Index, s.Speed, s.ExtraLoad
}

func (b *builder) fillTyre(t *car.TyreSpec, e *entry) {
	b.sidewall(t, e.at("size"))
	into(&t.Diameter, e, "diameter")
	into(&t.LoadedRadius, e, "loaded_radius")
	into(&t.LoadedAt, e, "loaded_at")
	into(&t.Rate, e, "rate")
	into(&t.Pressure, e, "pressure")
	into(&t.Mass, e, "mass")
	into(&t.Section, e, "section")
	into(&t.Circumference, e, "circumference")
	into(&t.Cornering, e, "cornering_stiffness")
}

func (b *builder) fillWheel(w *car.WheelSpec, e *entry) {
	into(&w.Width, e, "width")
	into(&w.Diameter, e, "diameter")
	into(&w.Offset, e, "offset")
	into(&w.Mass, e, "mass")
}
