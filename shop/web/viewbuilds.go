package web

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/desk"
	"trunnion/shop/drawing"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// builds makes one column a build.
func (s *comparison) builds(v *View) {
	a := s.Answer
	sets := make([][4]drawing.Strip, len(a.Job.Builds))
	for i, b := range a.Job.Builds {
		sets[i] = drawing.Strips(a, b.ID, s.Load)
	}
	low, high := drawing.Scale(sets...)
	// A few millimetres of paper on either side. Chosen.
	low, high = low-6e-3, high+6e-3
	var ghost *[4]drawing.Strip
	for i, b := range a.Job.Builds {
		if b.ID == a.Reference {
			ghost = &sets[i]
		}
	}
	for i, b := range a.Job.Builds {
		build := Build{
			ID: b.ID, Name: b.Name, Sub: s.springsOf(b), Price: b.Price, Hours: hours(b), Reference: b.ID == a.Reference,
			Strips: []Strip{}, Controls: s.controls(v, b),
		}
		build.Verdict, build.Sentence = s.summary(b.ID)
		for k := range sets[i] {
			strip := s.strip(b, &sets[i][k], low, high)
			if ghost != nil && b.ID != a.Reference && ghost[k].Known {
				g := &ghost[k]
				strip.Ghost = &Ghost{
					Open: s.KnownLength(g.Open), Loose: s.KnownLength(g.Loose), Rest: s.Length(g.Rest),
					Touch: s.KnownLength(g.Touch), Solid: s.KnownLength(g.Solid), Closed: s.KnownLength(g.Closed),
				}
			}
			build.Strips = append(build.Strips, strip)
		}
		if !sets[i][0].Known {
			build.Strips = []Strip{} // nothing to draw: its sentence says why
		}
		v.Builds = append(v.Builds, build)
	}
}

func hours(b *car.Build) string {
	if !b.Hours.Known() {
		return ""
	}
	return strconv.FormatFloat(math.Round(b.Hours.Value/360)/10, 'f', -1, 64) + " h"
}

// springsOf says what a build stands on: "31 and 60 N/mm, click 7 and 7".
func (s *comparison) springsOf(b *car.Build) string {
	u := quantity.Shown(quantity.Stiffness, s.System)
	var rates []string
	for a := range 2 {
		if sp := b.Corner[2*a].Spring; sp != nil && sp.Rate.Known() {
			rates = append(rates, view.TrimZeros(u.Number(sp.Rate.Value, quantity.Auto)))
		}
	}
	text := strings.Join(rates, " / ")
	if text != "" {
		text += " " + u.Label()
	}
	if b.Setup.HasClick[0] || b.Setup.HasClick[2] {
		var clicks []string
		for a := range 2 {
			if b.Setup.HasClick[2*a] {
				clicks = append(clicks, strconv.Itoa(b.Setup.Click[2*a]))
			}
		}
		text += ", click " + strings.Join(clicks, " / ") + " from closed"
	}
	return strings.TrimPrefix(text, ", ")
}

// summary is a build's gravest verdict and what there is to say about it first.
func (s *comparison) summary(build string) (verdict, sentence string) {
	verdict = "no-limit"
	for i := range s.Findings {
		f := &s.Findings[i]
		if f.Value.Place.Build != build {
			continue
		}
		// The sentence is the first of the worst grade, so that mark and words
		// say the same.
		if v := string(f.Verdict); view.Grades[v] < view.Grades[verdict] {
			verdict, sentence = v, ""
			if view.Loud(f) {
				sentence = s.Teller.Finding(f).What
			}
		}
	}
	for _, f := range s.Answer.Failures {
		if f.Build == build && sentence == "" {
			verdict, sentence = "unknown", s.Teller.Failure(&f)
		}
	}
	if sentence == "" {
		switch verdict {
		case "clear":
			sentence = "Clear of every limit that was looked at."
		case "unknown":
			sentence = "Some figures are not known."
		default:
			sentence = "No limit was chosen."
		}
	}
	return verdict, sentence
}

// strip shows one corner.
func (s *comparison) strip(b *car.Build, d *drawing.Strip, low, high float64) Strip {
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
		out.State, out.Says = "unknown", name+": no rest position was found."
		return out
	}
	for _, v := range []*figure.Value{bump, droop} {
		if state := view.State(v); state != "ok" && out.State != "unknown" {
			out.State = state
		}
	}
	out.Says = name + ": to the stop " + s.Teller.Value(bump) + ", droop left " + s.Teller.Value(droop) + "."
	out.Use = s.use(b.ID, d.Corner)
	out.Peak = s.peak(b.ID, d)
	out.Drag = s.drag(b, d)
	return out
}

// figure is a figure of a strip: its number alone, and with unit and band.
func (s *comparison) figure(v *figure.Value) Figure {
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
	out.Shown = quantity.Shown(quantity.Length, s.System).Number(v.Value, digits)
	out.Full, out.ValueID = s.Teller.Value(v), desk.ValueID(v)
	return out
}

// use is how the travel of a corner is spread over the road it is worst used
// on: the first of the brief that says it for this build.
func (s *comparison) use(build string, corner int) *Use {
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
func (s *comparison) peak(build string, d *drawing.Strip) *Peak {
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
func (s *comparison) drag(b *car.Build, d *drawing.Strip) *Drag {
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

// controls are what can be changed of a build.
func (s *comparison) controls(v *View, b *car.Build) []Control {
	out := []Control{}
	choices := func(list []Outlined) []view.Choice {
		picks := make([]view.Choice, len(list))
		for i, o := range list {
			picks[i] = view.Choice{Value: o.ID, Label: o.Label}
		}
		return picks
	}
	label := func(list []Outlined, id string) string {
		for _, o := range list {
			if o.ID == id {
				return o.Label
			}
		}
		if id == "" {
			return "as on the car"
		}
		return id
	}
	number := func(x float64) *float64 { return &x }
	for a, axle := range car.AxleNames {
		ax := &b.Corner[2*a]
		path := "builds." + b.ID + "." + axle
		pick := func(kind, id string, list []Outlined) {
			typed := v.Fields[path+"."+kind].Typed
			if typed == "" {
				typed = id
			}
			out = append(out, Control{
				Path: path + "." + kind, Label: axle + " " + kind, Axle: axle, Kind: kind, Value: typed, Shown: label(list, typed), Choices: choices(list),
			})
		}
		pick("spring", idOf(ax.Spring != nil, func() string { return ax.Spring.ID }), v.Outline.Springs)
		pick("damper", idOf(ax.Damper != nil, func() string { return ax.Damper.ID }), v.Outline.Dampers)
		pick("stop", idOf(ax.Stop != nil, func() string { return ax.Stop.ID }), v.Outline.Stops)
		if d := ax.Damper; d != nil && d.ClickMost > 0 {
			click := b.Setup.Click[2*a]
			out = append(out, Control{
				Path: "builds." + b.ID + ".setup.click." + axle, Label: axle + " click", Axle: axle, Kind: "click", Value: strconv.Itoa(click),
				Shown: strconv.Itoa(click) + " from closed", Min: number(0), Max: number(float64(d.ClickMost)), Step: number(1),
				Hint: "0 is closed, " + strconv.Itoa(d.ClickMost) + " the softest",
			})
		}
		if p := ax.Platform; p != nil {
			out = append(out, s.platform(b, a, path, p))
		}
		packer := v.Fields[path+".packer"].Typed
		shown := packer
		if ax.Packer.Known() {
			shown = quantity.Format(ax.Packer.Value, quantity.Length, s.System, quantity.Auto)
		}
		if packer == "" {
			packer = quantity.Format(ax.Packer.Value, quantity.Length, s.System, quantity.Auto)
			shown = "none"
			if ax.Packer.Value > 0 {
				shown = packer
			}
		}
		out = append(out, Control{Path: path + ".packer", Label: axle + " packer", Axle: axle, Kind: "packer", Value: packer, Shown: shown, Hint: "a rigid spacer that brings the stop in earlier"})
	}
	return out
}

func idOf(there bool, id func() string) string {
	if !there {
		return ""
	}
	return id()
}

func (s *comparison) platform(b *car.Build, a int, path string, p *car.PlatformSpec) Control {
	values := b.Setup.Platform[2*a : 2*a+2]
	if p.Kind == "body" {
		values = b.Setup.BodyLength[2*a : 2*a+2]
	}
	u := quantity.Shown(quantity.Length, s.System)
	shown := u.Format(values[0].Value, quantity.Auto)
	if values[0].Value != values[1].Value {
		shown = u.Number(values[0].Value, quantity.Auto) + " left, " + u.Format(values[1].Value, quantity.Auto) + " right"
	}
	hint := "from its start mark, up positive"
	if p.Up.Known() && p.Down.Known() {
		hint = fmt.Sprintf("%s up to %s down of its start mark", u.Format(p.Up.Value, quantity.Auto), u.Format(p.Down.Value, quantity.Auto))
	}
	return Control{Path: path, Label: car.AxleNames[a] + " platform", Axle: car.AxleNames[a], Kind: "platform", Value: u.Format(values[0].Value, quantity.Auto), Shown: shown, Hint: hint}
}

// tabled are the figures that nothing judges, in the order they are shown.
var tabled = []struct {
	id, title string
	codes     []string
	ofCar     bool // one row for the whole car, in place of four for its corners
}{
	{"heights", "Heights and loads", []string{"arch-height", "corner-load"}, false},
	{"rates", "Rates and frequencies", []string{"wheel-rate", "corner-frequency", "corner-frequency-on-tyre", "damping-ratio"}, false},
	{"margins", "What is left of the travel", []string{"travel-to-stop-firm", "travel-to-solid", "travel-to-closed", "travel-to-arch", "hang-up", "catch-speed"}, false},
	{"car", "The car as a whole", []string{"sprung-mass", "front-share", "left-share", "cross-share-front-right-rear-left", "frequency-ratio"}, true},
	{"bends", "In a bend, from the full judgement", []string{
		"roll-gradient", "front-transfer-share", "front-roll-share", "bar-roll-share", "understeer-gradient", "critical-speed", "yaw-settling", "yaw-damping", "yaw-frequency",
	}, true},
}

// tables show figures without a limit, in the load state that is looked at.
func (s *comparison) tables(v *View) {
	a := s.Answer
	columns := make([]Column, len(a.Job.Builds))
	for i, b := range a.Job.Builds {
		columns[i] = Column{Build: b.ID}
	}
	for _, t := range tabled {
		table := Table{ID: t.id, Title: t.title + ", " + strings.ToLower(s.Teller.Load(s.Load)), Columns: columns, Rows: []TableRow{}}
		for _, code := range t.codes {
			corners := []int{0, 1, 2, 3}
			if t.ofCar {
				corners = []int{figure.NoCorner}
			}
			for _, c := range corners {
				name := wording.Name(code)
				row := TableRow{Label: strings.ToUpper(name[:1]) + name[1:], Sub: wording.Corner(c), Cells: []view.Cell{}}
				there := false
				for _, b := range a.Job.Builds {
					value := a.Get(code, b.ID, s.Load, c)
					there = there || value != nil
					verdict, _ := finding.One(a, value)
					row.Cells = append(row.Cells, s.Cell(value, verdict))
				}
				if there {
					table.Rows = append(table.Rows, row)
				}
			}
		}
		if len(table.Rows) > 0 {
			v.Tables = append(v.Tables, table)
		}
	}
	s.modes(v, columns)
}

// modes are the car's own movements in the load state that is looked at.
func (s *comparison) modes(v *View, columns []Column) {
	a := s.Answer
	var names []string
	found := map[string]map[string][2]*figure.Value{}
	for i := range a.Values {
		m := &a.Values[i]
		if m.Place.Load != s.Load || m.Code != "mode-frequency" && m.Code != "mode-damping" || m.Place.Mode == "" {
			continue
		}
		if found[m.Place.Mode] == nil {
			found[m.Place.Mode] = map[string][2]*figure.Value{}
			names = append(names, m.Place.Mode)
		}
		pair := found[m.Place.Mode][m.Place.Build]
		if m.Code == "mode-frequency" {
			pair[0] = m
		} else {
			pair[1] = m
		}
		found[m.Place.Mode][m.Place.Build] = pair
	}
	if names == nil {
		return
	}
	table := Table{ID: "modes", Title: "The car's own movements, " + strings.ToLower(s.Teller.Load(s.Load)), Columns: columns, Rows: []TableRow{}}
	for _, name := range names {
		for k, sub := range [2]string{"frequency", "damping ratio"} {
			row := TableRow{Label: strings.ToUpper(name[:1]) + view.Spaced(name[1:]), Sub: sub, Cells: []view.Cell{}}
			for _, c := range columns {
				row.Cells = append(row.Cells, s.Cell(found[name][c.Build][k], finding.NoLimit))
			}
			table.Rows = append(table.Rows, row)
		}
	}
	v.Tables = append(v.Tables, table)
}
