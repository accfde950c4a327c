package symptom

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/scales"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Change is the first change that is proposed.
type Change struct {
	Text string `json:"text"` // what to do, with its size on this car
	// Computed says that it was put through the same study: Then, Betters and
	// Worsens are what came of it.
	Computed bool     `json:"computed"`
	Then     []string `json:"then"` // the cause's own figures, before and after
	Betters  []string `json:"betters"`
	Worsens  []string `json:"worsens"`
	Edits    []Edit   `json:"edits"` // of the job, that do the same; nil where parts must be chosen
	Back     string   `json:"back"`  // how to undo it; empty: as the cause says
}

// Edit is a value of the job to be put at a path.
type Edit struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

// tryDraws is how many draws stand behind a change that is tried: its figures
// are shown without bands.
const tryDraws = 16

// mender finds the first change that this car allows.
type mender struct {
	ctx      context.Context
	scene    *scene
	tell     *wording.Teller
	cause    *cause
	findings []finding.Finding
	again    []car.Load
}

// trial is a changed build and how it is told.
type trial struct {
	build *car.Build
	text  string
	back  string
	edits []Edit
}

func (m *mender) first() Change {
	for i := range m.cause.first {
		st := &m.cause.first[i]
		if st.do == "remedy" {
			if c, ok := m.remedy(st); ok {
				return c
			}
			continue
		}
		t := m.make(st)
		if t == nil {
			continue
		}
		if c, ok := m.through(t); ok {
			return c
		}
	}
	return Change{Text: sentence(m.cause.otherwise)}
}

// base is the build as it is.
func (m *mender) base() *car.Build {
	for _, b := range m.scene.was.Job.Builds {
		if b.ID == m.scene.build {
			return b
		}
	}
	return nil
}

// remedy takes the remedy of a finding of this build, where it has one.
func (m *mender) remedy(st *step) (Change, bool) {
	for _, code := range st.codes {
		for i := range m.findings {
			f := &m.findings[i]
			if f.Code != code || f.Value == nil || f.Value.Place.Build != m.scene.build || !m.scene.ends(f.Value.Place.Corner) || f.Verdict != finding.Over && f.Verdict != finding.Close {
				continue
			}
			one := *f
			if len(one.Remedies) == 0 {
				if err := remedy.Mend(m.ctx, m.scene.was, &one); err != nil || len(one.Remedies) == 0 {
					continue
				}
			}
			c := Change{Computed: true, Text: m.tell.Remedy(&one, &one.Remedies[0])}
			// What it costs stands in the text.
			c.Betters = m.effects(one.Remedies[0].Betters)
			return c, true
		}
	}
	return Change{}, false
}

func (m *mender) effects(list []finding.Effect) []string {
	var out []string
	for i := range list {
		out = append(out, m.moved(list[i].Code, list[i].Place, list[i].Before, list[i].After))
	}
	return out
}

func (m *mender) moved(code string, p figure.Place, before, after float64) string {
	e, _ := figure.Look(code)
	p.Build, p.At, p.HasClick, p.Direction, p.Velocity = "", "", false, "", 0
	text := m.tell.Effect(&finding.Effect{Code: code, Before: before, After: after, Unit: e.Unit})
	if where := m.tell.Place(p); where != "" {
		text += " (" + where + ")"
	}
	return text
}

// axles are those a step is about.
func (m *mender) axles(st *step) []int {
	switch st.axle {
	case "front":
		return []int{car.Front}
	case "rear":
		return []int{car.Rear}
	case "worst":
		for i := range m.cause.evidence {
			if g, err := m.scene.figureOf(m.cause.evidence[i].of); err == nil && g.place.Corner >= 0 {
				return []int{car.AxleOf(g.place.Corner)}
			}
		}
	}
	return []int{car.Front, car.Rear}
}

func axleWords(axles []int) string {
	if len(axles) == 2 {
		return "front and rear"
	}
	return car.AxleNames[axles[0]]
}

// make builds the changed build of a step; nil when the car has nothing to turn.
func (m *mender) make(st *step) *trial {
	b := m.base()
	if b == nil {
		return nil
	}
	changed := *b
	t := &trial{build: &changed}
	axles := m.axles(st)
	switch st.do {
	case "softer-clicks", "firmer-clicks":
		return m.clicks(st, t, axles)
	case "less-bump", "more-force", "less-force":
		return m.forces(st, t, axles)
	case "raise", "lower":
		by := st.by
		if st.do == "lower" {
			by = -by
		}
		var at [4]float64
		for _, x := range axles {
			at[2*x], at[2*x+1] = by, by
		}
		return m.platforms(t, at, axles)
	case "less-packer", "more-packer":
		return m.packer(st, t, axles)
	case "firmer-spring", "softer-spring":
		return m.spring(st, t, axles)
	case "softer-bar", "firmer-bar":
		return m.bar(st, t, axles)
	case "level-diagonal", "level-rake":
		if m.scene.level != nil {
			return m.levelled(t)
		}
	}
	return nil
}

func (m *mender) path(rest string) string { return "builds." + m.scene.build + "." + rest }

// spot is where a part is changed: at both corners of an axle that are alike, or at
// one.
type spot struct {
	corners []int
}

// spots are those of an axle.
func spots(axle int, alike bool) []spot {
	if l := 2 * axle; !alike {
		return []spot{{[]int{l}}, {[]int{l + 1}}}
	} else {
		return []spot{{[]int{l, l + 1}}}
	}
}

func (s spot) sided() bool { return len(s.corners) == 1 }

// name is "front", or "front left".
func (s spot) name() string {
	if s.sided() {
		return wording.Corner(s.corners[0])
	}
	return car.AxleNames[car.AxleOf(s.corners[0])]
}

// key is where a job says what is there: "front", or "front.left".
func (s spot) key() string { return strings.ReplaceAll(s.name(), " ", ".") }

func (s spot) change(b *car.Build, f func(p *car.BuildCorner)) {
	if s.sided() {
		f(&b.Corner[s.corners[0]])
		return
	}
	b.Both(car.AxleOf(s.corners[0]), f)
}

// put makes the edits of a value at a spot; what both sides get goes over what one has
// of its own.
func (m *mender) put(t *trial, s spot, path, value string) {
	paths := []string{m.path(path)}
	if !s.sided() && m.scene.bothSides != nil {
		paths = m.scene.bothSides(paths[0])
	}
	for _, p := range paths {
		t.edits = append(t.edits, Edit{p, value})
	}
}

// alike says that both sides get the same, where no spot is one side's.
func alike(any []spot) string {
	if slices.ContainsFunc(any, spot.sided) {
		return ""
	}
	return ", left and right alike"
}

// clicks turns the adjusters of the axles, as far as there are clicks left.
func (m *mender) clicks(st *step, t *trial, axles []int) *trial {
	want := int(math.Round(st.by))
	var turned, back []string
	var at []spot
	for _, x := range axles {
		set, l := &t.build.Setup, 2*x
		for _, s := range spots(x, t.build.Corner[l].Damper == t.build.Corner[l+1].Damper && set.Click[l] == set.Click[l+1]) {
			i := s.corners[0]
			d := t.build.Corner[i].Damper
			if d == nil || d.ClickMost == 0 || len(d.Curves) == 0 {
				continue
			}
			ends := clicksAt(m.scene.was, m.scene.build)[i]
			now := set.Click[i]
			to := min(now+want, ends[0])
			word := "softer"
			if st.do == "firmer-clicks" {
				to, word = max(now-want, ends[1]), "firmer"
			}
			if to == now {
				continue
			}
			for _, k := range s.corners {
				set.Click[k], set.HasClick[k] = to, true
			}
			n := max(to-now, now-to)
			at = append(at, s)
			turned = append(turned, fmt.Sprintf("%s %s %s, from %d to %d", s.name(), counted(n, "click"), word, now, to))
			back = append(back, fmt.Sprintf("%s click %d", s.name(), now))
			m.put(t, s, "setup.click."+strings.ReplaceAll(s.name(), " ", "_"), strconv.Itoa(to))
		}
	}
	if len(turned) == 0 {
		return nil
	}
	t.text = sentence(strings.Join(turned, "; ") + " (counted from closed)" + alike(at))
	t.back = sentence("back to " + strings.Join(back, ", ") + ", counted from closed")
	return t
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// forces asks for another curve, where there is nothing to turn.
func (m *mender) forces(st *step, t *trial, axles []int) *trial {
	any := false
	for _, x := range axles {
		l := 2 * x
		for _, s := range spots(x, t.build.Corner[l].Damper == t.build.Corner[l+1].Damper) {
			d := t.build.Corner[s.corners[0]].Damper
			if d == nil || len(d.Curves) == 0 {
				continue
			}
			any = true
			one := *d
			switch st.do {
			case "less-bump":
				one.Curves = slices.Clone(d.Curves)
				for i := range one.Curves {
					one.Curves[i].Bump = slices.Clone(one.Curves[i].Bump)
					for k := range one.Curves[i].Bump {
						one.Curves[i].Bump[k].F *= 1 - st.by
					}
				}
			case "more-force":
				one.Scale.Value *= 1 + st.by
			default:
				one.Scale.Value *= 1 - st.by
			}
			s.change(t.build, func(p *car.BuildCorner) { p.Damper = &one })
			if st.do != "less-bump" && d.ID != "" {
				m.put(t, s, s.key()+".damper", "{use: "+d.ID+", scale: "+strconv.FormatFloat(one.Scale.Value, 'f', 3, 64)+"}")
			}
		}
	}
	if !any {
		return nil
	}
	what := map[string]string{"less-bump": "less bump force", "more-force": "more force, bump and rebound", "less-force": "less force, bump and rebound"}[st.do]
	t.text = sentence(fmt.Sprintf("%s dampers with %s %s at every speed: there are no clicks left to turn, so the builder is asked", axleWords(axles), m.share(st.by), what))
	t.back = "Keep the dyno sheet of the curve that was in use."
	return t
}

func (m *mender) share(v float64) string {
	return strconv.FormatFloat(math.Round(v/quantity.Percent), 'f', -1, 64) + " %"
}

// platforms moves collars by so much at each corner [m], within their thread.
func (m *mender) platforms(t *trial, by [4]float64, axles []int) *trial {
	var turned, back []string
	for i := range 4 {
		if by[i] == 0 {
			continue
		}
		p := t.build.Corner[i].Platform
		if p == nil || t.build.Setup.WantedHeight[i].Known() {
			return nil
		}
		in := &t.build.Setup.Platform[i]
		key := "platform"
		if p.Kind == "body" {
			in, key = &t.build.Setup.BodyLength[i], "body_length"
		}
		c := scales.Turned(p, by[i])
		if c.Turns == 0 {
			return nil
		}
		in.Value += c.Move
		if p.Up.Known() && in.Value > p.Up.Value+1e-9 || p.Down.Known() && in.Value < -p.Down.Value-1e-9 {
			return nil
		}
		m.turned(t, i, &c, in, key, &turned, &back)
	}
	if len(turned) == 0 {
		return nil
	}
	t.text = sentence("collars: " + strings.Join(turned, "; "))
	t.back = sentence("back: " + strings.Join(back, "; "))
	return t
}

var cornerKeys = [4]string{"front_left", "front_right", "rear_left", "rear_right"}

// turned tells the turn of one collar, and how to set it in the job.
func (m *mender) turned(t *trial, corner int, c *scales.Collar, in *figure.Input, key string, turned, back *[]string) {
	if !in.Known() {
		in.Origin = figure.Chosen
	}
	other := c.Back()
	*turned = append(*turned, wording.Corner(corner)+" "+m.tell.ScalesTurn(c))
	*back = append(*back, wording.Corner(corner)+" "+m.tell.ScalesTurn(&other))
	t.edits = append(t.edits, Edit{m.path("setup." + key + "." + cornerKeys[corner]), quantity.Format(in.Value, quantity.Length, quantity.Metric, 2)})
}

// levelled turns the collars as a session on the scales asks for.
func (m *mender) levelled(t *trial) *trial {
	plan := m.scene.level(m.scene.build)
	if plan == nil {
		return nil
	}
	var turned, back []string
	for i := range plan.Collar {
		c := plan.Collar[i]
		p := t.build.Corner[i].Platform
		if p == nil || c.Turns == 0 {
			continue
		}
		if t.build.Setup.WantedHeight[i].Known() {
			return nil
		}
		in, key := &t.build.Setup.Platform[i], "platform"
		if p.Kind == string(scales.Body) {
			in, key = &t.build.Setup.BodyLength[i], "body_length"
		}
		in.Value += c.Move
		c.Held = ""
		m.turned(t, i, &c, in, key, &turned, &back)
	}
	if len(turned) == 0 {
		return nil
	}
	t.text = sentence("collars, as on the scales: " + strings.Join(turned, "; "))
	t.back = sentence("back: " + strings.Join(back, "; "))
	return t
}

// packer takes packers out or puts them in.
func (m *mender) packer(st *step, t *trial, axles []int) *trial {
	var list, back []string
	var at []spot
	for _, x := range axles {
		l, r := &t.build.Corner[2*x], &t.build.Corner[2*x+1]
		for _, s := range spots(x, l.Stop == r.Stop && l.Packer.Value == r.Packer.Value) {
			ax := &t.build.Corner[s.corners[0]]
			if ax.Stop == nil {
				continue
			}
			was := ax.Packer.Value
			to := was + st.by
			if st.do == "less-packer" {
				to = max(0, was-st.by)
			}
			if to == was {
				continue
			}
			s.change(t.build, func(p *car.BuildCorner) {
				p.Packer.Value = to
				if !p.Packer.Known() {
					p.Packer.Origin = figure.Chosen
				}
			})
			at = append(at, s)
			list = append(list, s.name()+" packers from "+m.length(was)+" to "+m.length(to))
			back = append(back, s.name()+" packers "+m.length(was))
			m.put(t, s, s.key()+".packer", quantity.Format(to, quantity.Length, quantity.Metric, 0))
		}
	}
	if len(list) == 0 {
		return nil
	}
	t.text, t.back = sentence(strings.Join(list, "; ")+alike(at)), sentence("back to "+strings.Join(back, ", "))
	return t
}

func (m *mender) length(v float64) string {
	return quantity.Format(v, quantity.Length, m.tell.System, 0)
}

// spring takes another rate and the length nearest to the same height, both as sold.
func (m *mender) spring(st *step, t *trial, axles []int) *trial {
	c := m.restCase()
	if c == nil {
		return nil
	}
	var list []string
	for _, x := range axles {
		l, r := &t.build.Corner[2*x], &t.build.Corner[2*x+1]
		for _, at := range spots(x, l.Spring == r.Spring && l.Helper == r.Helper) {
			i := at.corners[0]
			ax := &t.build.Corner[i]
			s := ax.Spring
			if s == nil || !s.Free.Known() || !s.Rate.Known() || len(s.Table) > 0 || s.RateTo.Known() || ax.Helper != nil {
				continue
			}
			load := c.System.Corner[i].At(c.State.Travel[i]).SpringLoad
			factor := 1 + st.by
			if st.do == "softer-spring" {
				factor = 1 - st.by
			}
			to := change.RateSold(s.Rate.Value*factor, s.Rate.Value)
			if to <= 0 {
				continue
			}
			n := *s
			n.Rate.Value, n.Rate.Half = to, s.Rate.Half*to/s.Rate.Value
			n.Free.Value = change.FreeSold(s.Free.Value + load/to - load/s.Rate.Value)
			at.change(t.build, func(p *car.BuildCorner) { p.Spring = &n })
			if s.ID != "" {
				m.put(t, at, at.key()+".spring", fmt.Sprintf("{use: %s, rate: %s, free: %s}", s.ID,
					quantity.Format(to, quantity.Stiffness, quantity.Metric, 1), quantity.Format(n.Free.Value, quantity.Length, quantity.Metric, 1)))
			}
			list = append(list, fmt.Sprintf("%s springs of %s instead of %s, %s free, as near to the same height as they are sold", at.name(),
				quantity.Format(to, quantity.Stiffness, m.tell.System, quantity.Auto), quantity.Format(s.Rate.Value, quantity.Stiffness, m.tell.System, quantity.Auto), m.length(n.Free.Value)))
		}
	}
	if len(list) == 0 {
		return nil
	}
	t.text, t.back = sentence(strings.Join(list, "; ")), "Keep the old springs, labelled with axle and height."
	return t
}

// restCase is the build at rest in the load state asked about.
func (m *mender) restCase() *study.Case {
	a := m.scene.was
	for b := range a.Job.Builds {
		for l := range a.Job.Loads {
			if a.Job.Builds[b].ID == m.scene.build && a.Job.Loads[l].ID == m.scene.load && a.Cases[b][l].Err == nil {
				return &a.Cases[b][l]
			}
		}
	}
	return nil
}

// bar moves the drop links to the next hole.
func (m *mender) bar(st *step, t *trial, axles []int) *trial {
	var list, back []string
	for _, x := range axles {
		holes, err := m.scene.was.BarHoles(m.scene.build, m.scene.load, x)
		if err != nil || len(holes) < 2 {
			continue
		}
		slices.SortFunc(holes, func(a, b study.BarHole) int { return cmp.Compare(a.Wheel, b.Wheel) })
		at := slices.IndexFunc(holes, func(h study.BarHole) bool { return h.Used })
		to := at + 1
		if st.do == "softer-bar" {
			to = at - 1
		}
		if at < 0 || to < 0 || to >= len(holes) || holes[to].Err != nil {
			continue
		}
		t.build.Setup.BarHole[x] = holes[to].ID
		list = append(list, fmt.Sprintf("the %s bar from hole %s to hole %s", car.AxleNames[x], holes[at].ID, holes[to].ID))
		back = append(back, fmt.Sprintf("%s bar in hole %s", car.AxleNames[x], holes[at].ID))
		t.edits = append(t.edits, Edit{m.path("setup.bar_hole." + car.AxleNames[x]), holes[to].ID})
	}
	if len(list) == 0 {
		return nil
	}
	t.text, t.back = sentence(strings.Join(list, "; ")), sentence("back to "+strings.Join(back, ", "))
	return t
}

// loads are the load states that a change is looked at in.
func (m *mender) loads() []car.Load {
	if m.again == nil {
		for _, l := range m.scene.was.Job.Loads {
			if l.ID == m.scene.load || l.ID == m.scene.usual || l.ID == m.scene.laden {
				m.again = append(m.again, l)
			}
		}
	}
	return m.again
}

// through puts a change through the study again and tells what came of it; not
// when the cause's own figures get no better by it.
func (m *mender) through(t *trial) (Change, bool) {
	got, err := m.scene.was.AgainInCorners(m.ctx, t.build, m.loads(), tryDraws)
	if err != nil {
		return Change{}, false
	}
	breaks, ok := m.judged(t.build)
	if !ok {
		return Change{}, false
	}
	c := Change{Text: t.text, Back: t.back, Edits: t.edits, Computed: true}
	s := *m.scene
	s.now, s.shapes = got, nil
	asked, better := 0, false
	for i := range m.cause.evidence {
		e := &m.cause.evidence[i]
		before, err := m.scene.figureOf(e.of)
		if err != nil {
			continue
		}
		after, err := s.figureOf(e.of)
		if err != nil {
			if before.driven {
				c.Then = append(c.Then, sentence(e.say+": to be driven again"))
			}
			continue
		}
		asked++
		if away := (e.silences - e.speaks) * (after.v - before.v); away > 0 {
			better = true
		}
		text := e.say
		if where := placeOf(m.tell, &before); where != "" {
			text += ", " + where
		}
		text += ": from " + e.bare(m.tell, before.v) + " to " + e.amount(m.tell, after.v)
		if now := placeOf(m.tell, &after); now != placeOf(m.tell, &before) {
			text += ", then " + now
		}
		c.Then = append(c.Then, sentence(text))
	}
	if asked > 0 && !better {
		return Change{}, false
	}
	c.Betters, c.Worsens = m.elsewhere(got)
	var broken []string
	for i := range breaks {
		broken = append(broken, "It breaks "+m.tell.Break(&breaks[i])+".")
	}
	c.Worsens = append(broken, c.Worsens...)
	return c, true
}

// mayBe is the chance from which a first change that breaks something hard is held
// back. Chosen.
const mayBe = 0.5

// judged are the findings that a changed build makes worse, in every load state; not
// ok where it breaks what is as hard as a corner on its stop, or turns over more than
// one thing that was not.
func (m *mender) judged(made *car.Build) (breaks []finding.Break, ok bool) {
	if m.scene.judge == nil {
		judge, err := remedy.JudgeOf(m.ctx, m.scene.was, m.scene.build)
		if judge == nil || err != nil {
			return nil, false
		}
		m.scene.judge = judge
	}
	breaks, ok, err := m.scene.judge.Breaks(m.ctx, made)
	if err != nil || !ok {
		return nil, false
	}
	over := 0
	for i := range breaks {
		b := &breaks[i]
		if finding.AtLeastAsHard(b.Code, "stop-carries-load") && (b.Now == finding.Over || b.Probability >= mayBe) {
			return nil, false
		}
		if b.Now == finding.Over && b.Was != finding.Over {
			over++
		}
	}
	return breaks, over <= 1
}

// watched are the figures that a change may move elsewhere, with the direction
// that is worse and the least that is worth a word: common practice, no source.
var watched = []struct {
	code  string
	worse float64
	least float64 // [SI]
}{
	{"travel-to-stop", -1, 1e-3},
	{"travel-to-open", -1, 1e-3},
	{"spring-gap-open", 1, 1e-3},
	{"solid-before-arch", -1, 1e-3},
	{"solid-before-block", -1, 1e-3},
	{"damping-ratio", -1, 0.02},
	{"corner-frequency", 1, 0.03},
	{"catch-speed", -1, 0.02},
	{"stop-contact-acceleration", -1, 0.02 * quantity.StandardGravity},
	{"roll-gradient", 1, 0.1 * quantity.DegreePerGravity},
	{"understeer-gradient", -1, 0.1 * quantity.DegreePerGravity},
	{"cross-share-front-right-rear-left", 0, 0.001},
	{"arch-height", 0, 1e-3},
}

// mostMoved is how many figures are told each way.
const mostMoved = 4

// elsewhere tells what else moves: of each figure the place that moves most.
func (m *mender) elsewhere(got *study.Answer) (better, worse []string) {
	for _, w := range watched {
		if e := m.cause.evidence; len(e) > 0 && e[0].of.code() == w.code {
			continue
		}
		var most, before, after float64
		var at figure.Place
		for i := range got.Values {
			v := &got.Values[i]
			if v.Code != w.code || v.State == figure.Unknown || v.Place.Load != m.scene.load && v.Place.Load != m.scene.usual {
				continue
			}
			if v.Code == "damping-ratio" && (v.Place.Direction != "mean" || v.Place.Velocity != got.Options.MainSpeed || got.Get(v.Code, v.Place.Build, v.Place.Load, v.Place.Corner) != v) {
				continue
			}
			old := m.scene.was.Get(v.Code, v.Place.Build, v.Place.Load, v.Place.Corner)
			if old == nil || old.State == figure.Unknown || v.Place.Mode != old.Place.Mode {
				continue
			}
			if d := math.Abs(v.Value - old.Value); d >= w.least && d > most {
				most, before, after, at = d, old.Value, v.Value, v.Place
			}
		}
		if most == 0 {
			continue
		}
		text := sentence(m.moved(w.code, at, before, after))
		if (after-before)*w.worse >= 0 {
			worse = append(worse, text)
		} else {
			better = append(better, text)
		}
	}
	return better[:min(len(better), mostMoved)], worse[:min(len(worse), mostMoved)]
}
