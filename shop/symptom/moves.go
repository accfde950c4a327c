package symptom

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
)

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
