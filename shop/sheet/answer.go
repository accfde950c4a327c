package sheet

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

const (
	notMeasured = "not measured"
	notKnown    = "not known"
)

func (m *maker) head() {
	info := &m.Job.Info
	m.sheet.Title = m.Job.Car.Name
	pair := func(label, text string) {
		if text != "" {
			m.sheet.Head = append(m.sheet.Head, Pair{label, text})
		}
	}
	pair("Owner", info.Owner)
	pair("Registration", info.Plate)
	pair("Job", info.Number)
	pair("Came in", info.Date)
	pair("Odometer", m.hand.Odometer)
	pair("Left with", m.build.Name)
	pair("Printed", m.Printed)
	if uses := m.uses(); uses != "" {
		pair("Used for", uses)
	}
}

func (m *maker) uses() string {
	var list []string
	for i := range m.Job.Brief.Uses {
		u := &m.Job.Brief.Uses[i]
		list = append(list, u.Name+" "+quantity.Format(u.Share.Value, quantity.Share, m.System, 0))
	}
	return strings.Join(list, ", ")
}

// words is what the owner said.
func (m *maker) words() Part {
	said := strings.TrimSpace(m.Job.Info.Words)
	if said == "" {
		m.miss("the owner's own words are not entered")
		return Part{}
	}
	who := m.Job.Info.Owner
	if who == "" {
		who = "The owner"
	}
	return Part{Quote: &Quote{who, said}}
}

func (m *maker) paragraph() Part { return Part{Words: strings.TrimSpace(m.hand.Paragraph)} }

// told are the figures in which a car is told to its owner, each the worse
// corner of its axle.
var told = []struct {
	label string
	code  string
	axle  int
	least bool // the smaller of the two is the worse
	full  bool // in the fullest load state
}{
	{"Height, front, hub to arch", "arch-height", 0, true, false},
	{"Height, rear", "arch-height", 1, true, false},
	{"Bump travel to the stop, front", "travel-to-stop", 0, true, false},
	{"Bump travel to the stop, rear", "travel-to-stop", 1, true, false},
	{"Bump travel to the stop, front, fullest", "travel-to-stop", 0, true, true},
	{"Bump travel to the stop, rear, fullest", "travel-to-stop", 1, true, true},
	{"Rebound travel left, front", "travel-to-open", 0, true, false},
	{"Rebound travel left, rear", "travel-to-open", 1, true, false},
}

// workshops are the figures that follow for the workshop: an owner reads no hertz and no ratio.
var workshops = []struct {
	label string
	code  string
	axle  int
	least bool
}{
	{"Frequency, front", "corner-frequency", 0, false},
	{"Frequency, rear", "corner-frequency", 1, false},
	{"Damping ratio, front", "damping-ratio", 0, true},
	{"Damping ratio, rear", "damping-ratio", 1, true},
}

// answer is the table of before and after.
func (m *maker) answer() Part {
	t := &Table{Columns: []string{"At the worse side of each axle", "as it arrived", "as it leaves"}}
	full := m.fullest()
	for _, row := range told {
		load := m.Load
		if row.full {
			if load = full; full == m.Load {
				continue
			}
		}
		was, is := m.worse(row.code, m.before, load, row.axle, row.least), m.worse(row.code, m.build, load, row.axle, row.least)
		label := row.label
		if row.full {
			label = strings.Replace(label, "fullest", wording.Lower(m.tell.Load(full)), 1)
		}
		t.Rows = append(t.Rows, []string{label, m.shown(was), m.shown(is)})
	}
	for i := range m.Job.Brief.Events {
		was, is := m.blow(m.before, i), m.blow(m.build, i)
		if was == nil || is == nil {
			continue
		}
		p := figure.Place{Corner: figure.NoCorner, Event: is.Place.Event, Speed: is.Place.Speed, Load: is.Place.Load}
		t.Rows = append(t.Rows, []string{wording.Upper(wording.Name("stop-force-peak")) + ", " + strings.TrimSpace(m.tell.Place(p)), m.shown(was), m.shown(is)})
	}
	t.Note = "Computed from the measured car, " + m.aboard(m.Load) + " unless another load state is named; in brackets the 95 % range."
	m.onlyLeaves(t)
	return Part{Table: t}
}

// onlyLeaves leaves the column of the car as it arrived out where nothing was fitted.
func (m *maker) onlyLeaves(t *Table) {
	if m.before != m.build {
		return
	}
	t.Columns = []string{t.Columns[0], t.Columns[2]}
	for i := range t.Rows {
		t.Rows[i] = []string{t.Rows[i][0], t.Rows[i][2]}
	}
}

// inShort is what the build that leaves says to the owner's words, in two sentences.
func (m *maker) inShort() Part { return Part{Words: m.tell.AnswerOf(m.InShort, m.build.ID)} }

func (m *maker) worse(code string, b *car.Build, load string, axle int, least bool) *figure.Value {
	if b == nil {
		return nil
	}
	var got *figure.Value
	for _, corner := range []int{2 * axle, 2*axle + 1} {
		v := m.get(code, b.ID, load, corner)
		if v == nil || math.IsNaN(v.Value) {
			continue
		}
		if got == nil || (v.Value < got.Value) == least {
			got = v
		}
	}
	return got
}

// blow is the greatest force of a stop over an obstacle of the brief.
func (m *maker) blow(b *car.Build, event int) *figure.Value {
	if b == nil {
		return nil
	}
	var most *figure.Value
	want := &m.Job.Brief.Events[event]
	for i := range m.Answer.Values {
		v := &m.Answer.Values[i]
		if v.Code != "stop-force-peak" || v.Place.Build != b.ID || v.State == figure.Unknown || v.Place.Event != route.EventName(want) ||
			math.Abs(v.Place.Speed-want.Speed.Value) > 0.1 {
			continue
		}
		if most == nil || v.Value > most.Value {
			most = v
		}
	}
	return most
}

func (m *maker) shown(v *figure.Value) string {
	if v == nil {
		return notKnown
	}
	return m.tell.Value(v)
}

// findings are the gravest of the build that leaves: an honest sheet says them, those in ratios and hertz to the workshop.
func (m *maker) findings(workshops bool) Part {
	var list []string
	for i := range m.Findings {
		f := &m.Findings[i]
		if f.Value.Place.Build != m.build.ID || m.tell.ForWorkshop(f.Value.Code) != workshops {
			continue
		}
		if f.Verdict == finding.Over && len(list) < 4 || f.Verdict == finding.Close && len(list) < 2 {
			list = append(list, m.tell.Finding(f).What)
		}
	}
	if len(list) == 0 {
		return Part{}
	}
	return Part{List: append([]string{"Still to discuss:"}, list...)}
}

// plan is the car from above with what stands at each corner.
func (m *maker) plan() Part {
	p := &Plan{Totals: []Pair{}, Diagonal: [2]int{figure.FrontRight, figure.RearLeft}}
	r := m.build.Readings
	w := &m.Job.Car.Weighed
	for i := range 4 {
		c := PlanCorner{Name: wording.Upper(spaced(figure.CornerNames[i]))}
		add := func(label, text string) { c.Lines = append(c.Lines, Pair{label, text}) }
		read := func(in *figure.Input, kind quantity.Kind, what string) string {
			if in.Known() && in.Origin == figure.Measured {
				return quantity.Format(in.Value, kind, m.System, 0)
			}
			m.miss(what)
			return notMeasured
		}
		var height, load figure.Input
		if r != nil {
			height, load = r.Height[i], r.Load[i]
		}
		if m.build == m.before {
			height, load = w.Height[i], w.Load[i]
		}
		add("height", read(&height, quantity.Length, "heights after fitting are not measured"))
		if m.build != m.before {
			before := w.Height[i]
			if before.Known() {
				add("before", quantity.Format(before.Value, quantity.Length, m.System, 0))
			}
		}
		add("load", read(&load, quantity.Mass, "loads after fitting are not measured"))
		m.cornerSetting(i, add)
		p.Corners[i] = c
	}
	m.totals(p)
	state := "as weighed"
	if r != nil && r.State != "" {
		state = m.aboard(r.State)
	}
	bars := "drop links off"
	if r != nil && r.BarsOn || r == nil && m.build == m.before && w.BarsOn {
		bars = "drop links on"
	}
	p.Note = "Height is hub centre to arch edge, load that of the tyre. Read " + state + ", " + bars + "."
	for _, extra := range []string{m.hand.Fuel, m.hand.Ballast} {
		if extra != "" {
			p.Note += " " + wording.Upper(extra) + "."
		}
	}
	if said := w.Notes; said != "" {
		p.Note += " Weighed before: " + said + "."
	}
	return Part{Plan: p}
}

// cornerSetting adds what is set at a corner: platform, clicks, pressure, serial.
func (m *maker) cornerSetting(i int, add func(label, text string)) {
	a := car.AxleOf(i)
	corner := &m.build.Corner[i]
	set := &m.build.Setup
	if pl := corner.Platform; pl != nil {
		at := set.Platform[i]
		if pl.Kind == "body" {
			at = set.BodyLength[i]
		}
		add("platform", quantity.Format(math.Abs(at.Value), quantity.Length, m.System, 1)+side(at.Value))
		if pl.Up.Known() && pl.Down.Known() {
			unit := quantity.Shown(quantity.Length, m.System)
			digits := 0
			if m.System == quantity.Imperial {
				digits = quantity.Auto
			}
			add("thread left", unit.Number(pl.Up.Value-at.Value, digits)+" up, "+unit.Number(pl.Down.Value+at.Value, digits)+" down "+unit.Label())
		}
	}
	if set.HasClick[i] {
		text := strconv.Itoa(set.Click[i]) + " from closed"
		if n := clicksOf(corner); n > 0 {
			text += ", of " + strconv.Itoa(n)
		}
		add("clicks", text)
	}
	cold := m.hand.Tyres[a].Cold
	if cold == "" {
		cold = set.Pressures
	}
	if cold == "" {
		m.miss("tyre pressures are not entered")
		cold = notMeasured
	}
	if hot := m.hand.Tyres[a].Hot; hot != "" {
		cold += " cold, " + hot + " hot"
	}
	add("tyre", cold)
	if s := corner.Serial; s != "" {
		add("damper", "no. "+s)
	}
}

// side says on which side of its start mark a collar stands.
func side(at float64) string {
	switch {
	case at < 0:
		return " below its mark"
	case at > 0:
		return " above its mark"
	}
	return ", at its mark"
}

func clicksOf(a *car.BuildCorner) int {
	if a.Damper == nil {
		return 0
	}
	return a.Damper.ClickMost
}

// totals are the sums of what was read, else of what was computed.
func (m *maker) totals(p *Plan) {
	add := func(label, text string) { p.Totals = append(p.Totals, Pair{label, text}) }
	r := m.build.Readings
	loads, heights := m.Job.Car.Weighed.Load, m.Job.Car.Weighed.Height
	if m.build != m.before {
		if r == nil {
			p.Cross = notMeasured
			return
		}
		loads, heights = r.Load, r.Height
	}
	sum, known := 0.0, true
	for i := range loads {
		sum += loads[i].Value
		known = known && loads[i].Known()
	}
	share := func(v float64) string { return quantity.Format(v/sum, quantity.Share, m.System, 1) }
	if known && sum > 0 {
		add("total", quantity.Format(sum, quantity.Mass, m.System, 0))
		add("front weight", share(loads[0].Value+loads[1].Value))
		add("left weight", share(loads[0].Value+loads[2].Value))
		p.Cross = share(loads[1].Value + loads[2].Value)
	} else {
		p.Cross = notMeasured
	}
	if heights[0].Known() && heights[1].Known() && heights[2].Known() && heights[3].Known() {
		rake := (heights[2].Value + heights[3].Value - heights[0].Value - heights[1].Value) / 2
		add("rake, rear over front", quantity.Format(rake, quantity.Length, m.System, 0))
	}
}

// aboard is a load state in a sentence: "with the driver".
func (m *maker) aboard(load string) string {
	return strings.TrimSpace(strings.TrimPrefix(m.tell.AsLoaded(load), ","))
}

func spaced(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "-", " "), "_", " ")
}
