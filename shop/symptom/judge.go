package symptom

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
)

// tryDraws is how many draws stand behind a change that is tried: its figures
// are shown without bands.
const tryDraws = 16

func (m *mender) moved(code string, p figure.Place, before, after float64) string {
	e, _ := figure.Look(code)
	p.Build, p.At, p.HasClick, p.Direction, p.Velocity = "", "", false, "", 0
	text := m.tell.Effect(&finding.Effect{Code: code, Before: before, After: after, Unit: e.Unit})
	if where := m.tell.Place(p); where != "" {
		text += " (" + where + ")"
	}
	return text
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
