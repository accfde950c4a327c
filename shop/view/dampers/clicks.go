package dampers

import (
	"context"
	"errors"
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/clickmap"
	"trunnion/chassis/dyno"
	"trunnion/chassis/figure"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// page is a request while it is answered.
type page struct {
	*view.Trial
	out *View
}

// rays are the damping ratios that lines are drawn for.
var rays = []float64{0.1, 0.2, 0.3, 0.4, 0.6, 0.8, 1}

// Of maps the clicks of a build's dampers on the car.
func Of(ctx context.Context, d *view.Desk, req *Request) (*View, error) {
	t, err := d.Recent(ctx, &req.TryRequest, nil)
	if err != nil {
		return nil, err
	}
	u := &page{Trial: t, out: &View{
		Key: t.Key, Faults: view.Listed(t.Faults), Builds: []view.Choice{}, Missing: []view.Missing{}, Speeds: []string{}, Heads: []string{}, Wheels: []Wheel{}, Unlike: [][]string{},
		Moves: wording.ClickMoves[:],
		Unit:  Units{Force: quantity.Units(quantity.Force, t.System), Speed: quantity.Units(quantity.SpeedDamper, t.System)},
	}}
	if t.Job == nil || t.Answer == nil {
		return u.out, nil
	}
	for _, b := range t.Job.Builds {
		u.out.Builds = append(u.out.Builds, view.Choice{Value: b.ID, Label: t.Teller.Build(b.ID)})
	}
	got, err := d.Clicks(ctx, t.Job, desk.ClicksAsk{Build: req.Build, Load: t.Load, Roads: req.Roads && len(t.Job.Brief.Roads) > 0})
	var bad *desk.AskError
	switch {
	case errors.As(err, &bad):
		u.missing(req.Build, bad)
		return u.out, nil
	case err != nil:
		return nil, err
	}
	u.fill(got)
	return u.out, u.wheels(got.Map)
}

// fill says what stands over all dampers.
func (u *page) fill(got *desk.Clicked) {
	m := got.Map
	u.out.Build = m.Build.ID
	u.out.Title, u.out.Note, u.out.Heads = u.Teller.ClicksTitle(u.Job.Car.Name, m), u.Teller.ClicksNote(m), u.Teller.ClickColumns(m)
	for _, v := range m.Ask.Speeds {
		u.out.Speeds = append(u.out.Speeds, u.Teller.Shaft(v))
	}
	u.out.Mid = u.shaft(m.Ask.Speeds[clickmap.Mid])
	for i := range m.Unlike {
		u.out.Unlike = append(u.out.Unlike, u.Teller.Unlike(m, &m.Unlike[i]))
	}
}

// shaft is a damper speed [m/s] as a plain number in the unit shown.
func (u *page) shaft(v float64) float64 {
	unit := quantity.Shown(quantity.SpeedDamper, u.System)
	return view.Tidy(unit.FromSI(v))
}

// missing says what a build needs before its clicks can be mapped, and where it is
// typed.
func (u *page) missing(build string, why *desk.AskError) {
	u.out.Build = build
	if build == "" && len(u.Job.Builds) > 0 {
		u.out.Build = u.Job.Builds[len(u.Job.Builds)-1].ID
	}
	one := view.Missing{Text: view.Sentence(why.Error()), List: []string{}}
	seen := map[string]bool{}
	for _, b := range u.Job.Builds {
		if b.ID != u.out.Build {
			continue
		}
		for i := range b.Corner {
			d := b.Corner[i].Damper
			if d == nil || seen[d.ID] {
				continue
			}
			seen[d.ID] = true
			if d.ClickMost == 0 || len(d.Curves) < 2 {
				one.List = append(one.List, wording.ClicksNeeded(d))
				if one.Path == "" {
					one.Path = "parts.dampers." + d.ID + ".clicks"
				}
			}
		}
	}
	u.out.Missing = append(u.out.Missing, one)
}

// wheels lays out every map.
func (u *page) wheels(m *clickmap.Map) error {
	for i := range m.Wheels {
		w := &m.Wheels[i]
		hard, soft := w.Surface.Range(0)
		one := Wheel{
			ID: wheelID(w), Name: u.Teller.ClickWheelName(w), Title: u.Teller.ClickWheel(w), Swept: wording.Swept(w.Damper), Now: w.Now, Hard: hard, Soft: soft,
			Paths: clickPaths(u.Text, m.Build.ID, w.Corner, w.Sided), Rays: []Ray{}, Clicks: []Click{}, Faults: []BadStep{}, Ladder: []int{}, Roads: []SeenRoad{},
			Authority: u.Teller.ClickAuthority(w), LadderSay: u.Teller.ClickLadder(w),
		}
		ratio := u.Answer.Get("damping-ratio", m.Build.ID, u.Load, w.Corner)
		one.Ratio = u.Cell(ratio, u.Verdict(ratio))
		for _, z := range rays {
			one.Rays = append(one.Rays, Ray{quantity.Format(z, quantity.Ratio, quantity.Metric, 1), view.Tidy(u.Force(z*w.Critical*farthest) / u.shaft(farthest))})
		}
		for k := range w.Clicks {
			c, err := u.click(m, w, &w.Clicks[k])
			if err != nil {
				return err
			}
			one.Clicks = append(one.Clicks, c)
		}
		for k, says := range u.Teller.ClickFaults(w) {
			one.Faults = append(one.Faults, BadStep{w.Faults[k].Soft, w.Faults[k].Hard, says})
		}
		for _, s := range w.Ladder {
			one.Ladder = append(one.Ladder, s.Click)
		}
		for k := range m.Seen {
			if s := &m.Seen[k]; s.Corner == w.Corner {
				one.Roads = append(one.Roads, SeenRoad{u.Teller.ClickSeen(s), u.Teller.SeenRoad(s), view.Tidy(s.Slow), view.Tidy(s.Mid), view.Tidy(s.Fast)})
			}
		}
		one.Seen = u.seen(m, w)
		u.out.Wheels = append(u.out.Wheels, one)
	}
	return nil
}

// seen draws how fast a damper moves, road by road.
func (u *page) seen(m *clickmap.Map, w *clickmap.Wheel) view.Chart {
	share := quantity.Shown(quantity.Share, u.System)
	c := view.Chart{
		ID: "seen-" + wheelID(w), Kind: "line", Title: wording.SeenTitle + ", " + u.Teller.ClickWheelName(w), Series: []view.Series{},
		X: view.Axis{Label: wording.DamperSpeed, Unit: u.out.Unit.Speed}, Y: view.Axis{Label: wording.SeenShare + ", in steps of " + u.Teller.Shaft(clickmap.BinWidth), Unit: share.Label()},
	}
	for k := range m.Seen {
		s := &m.Seen[k]
		if s.Corner != w.Corner {
			continue
		}
		line := view.Series{Name: u.Teller.SeenRoad(s), X: []float64{}, Y: []float64{}}
		for _, b := range s.Bins {
			line.X, line.Y = append(line.X, u.shaft(b.Speed)), append(line.Y, view.Tidy(share.FromSI(b.Share)))
		}
		c.Series = append(c.Series, line)
	}
	return c
}

// farthest is the damper speed to which rays are reckoned: a force to a tenth of a newton
// there is a slope to five digits. [m/s]
const farthest = 1.0

// wheelID is how a map is called in addresses and requests.
func wheelID(w *clickmap.Wheel) string {
	if w.Sided {
		return figure.CornerNames[w.Corner]
	}
	return car.AxleNames[car.AxleOf(w.Corner)]
}

// clickPaths are where the clicks of a damper are typed in a job: of the axle, or of each
// side where the sides are typed apart.
func clickPaths(text []byte, build string, corner int, sided bool) []string {
	base := "builds." + build + ".setup.click."
	axle := car.AxleOf(corner)
	side := func(k int) string { return base + car.AxleNames[axle] + "_" + car.SideNames[k] }
	if sided {
		return []string{side(corner & 1)}
	}
	if _, err := jobfile.Piece(text, side(0)); err == nil {
		return []string{side(0), side(1)}
	}
	return []string{base + car.AxleNames[axle]}
}

// click lays out one setting.
func (u *page) click(m *clickmap.Map, w *clickmap.Wheel, c *clickmap.Click) (Click, error) {
	const mid = clickmap.Mid
	out := Click{Click: c.Click, Measured: c.Measured, Row: u.Teller.ClickRow(c), Says: u.Teller.ClickSays(m, c), Ratio: view.Tidy(c.Ratio[mid].Value), Steps: []string{}, Moves: wording.ClickMovements(c)}
	if !math.IsNaN(c.Worth[1][mid].Value) {
		out.Step = u.Force(c.Worth[1][mid].Value)
		for k := range m.Ask.Speeds {
			out.Steps = append(out.Steps, u.Teller.ClickStep(c, k))
		}
	}
	curve, err := w.Curve(c.Click)
	if err != nil {
		return out, err
	}
	speeds := []float64{0}
	top := math.Min(curve.Bump.Top(), curve.Rebound.Top())
	for _, stroke := range dyno.Strokes {
		for _, v := range curve.Of(stroke).Speed {
			if v <= top {
				speeds = append(speeds, v)
			}
		}
	}
	slices.Sort(speeds)
	for _, v := range slices.Compact(speeds) {
		b, _ := curve.Bump.At(v)
		r, _ := curve.Rebound.At(v)
		out.Speed, out.Bump, out.Rebound = append(out.Speed, u.shaft(v)), append(out.Bump, u.Force(b.Value)), append(out.Rebound, u.Force(r.Value))
	}
	return out, nil
}
