package clicks

import "trunnion/chassis/dyno"

// Reading is one row of a typed click table, gas and friction removed.
type Reading struct {
	Speed, Force float64 // both positive [m/s], [N]
}

// Table is force over speed at one typed click, counted from closed.
type Table struct {
	Click         int
	Bump, Rebound []Reading
}

// Typed makes a set of click tables as a job holds them: one knob of so many clicks,
// which acts on both strokes; no click is no knob. Each reading has the band of a
// single one.
func Typed(clicks int, tables []Table) (*dyno.Set, error) {
	s := &dyno.Set{}
	if clicks > 0 {
		s.Adjusters = []dyno.Adjuster{{Acts: dyno.OnBoth, Clicks: clicks}}
	}
	for i := range tables {
		t := &tables[i]
		c := dyno.Curve{Runs: 1}
		if clicks > 0 {
			c.Setting[0] = t.Click
		}
		var err error
		if c.Bump, err = branch(t.Bump); err != nil {
			return nil, err
		}
		if c.Rebound, err = branch(t.Rebound); err != nil {
			return nil, err
		}
		s.Curves = append(s.Curves, c)
	}
	return s, nil
}

// branch leaves out the origin, through which every branch goes.
func branch(rows []Reading) (dyno.Branch, error) {
	var speed, force, half []float64
	for _, r := range rows {
		if r.Speed > 0 {
			speed, force, half = append(speed, r.Speed), append(force, r.Force), append(half, dyno.Repeats*r.Force)
		}
	}
	return dyno.NewBranch(speed, force, half)
}
