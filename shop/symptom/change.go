package symptom

import (
	"trunnion/chassis/car"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
)

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

// make builds the changed build of a step; nil when the car has nothing to turn.
func (m *mender) make(st *step) *trial {
	b := m.base()
	if b == nil {
		return nil
	}
	changed := *b
	t := m.changed(st, &trial{build: &changed}, m.axles(st))
	if t != nil {
		t.build.ReadAs(b)
	}
	return t
}

// changed makes a step's change to the build of a trial.
func (m *mender) changed(st *step, t *trial, axles []int) *trial {
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
