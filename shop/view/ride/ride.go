package ride

import (
	"context"
	"math"
	"runtime"
	"strings"

	"trunnion/chassis/drives"
	"trunnion/chassis/route"

	"trunnion/chassis/comfort"
	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
	"trunnion/shop/desk"
	"trunnion/shop/drawing"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// page is a trial on the road or over the obstacle that is looked at.
type page struct{ *view.Trial }

// Of shows the road or the obstacle that is looked at, all builds side by
// side; nil where none is.
func Of(ctx context.Context, t *view.Trial) (*View, error) {
	s, b := &page{t}, t.Answer.Job.Brief
	switch l := s.Look; {
	case l.Event != nil && *l.Event < len(b.Events):
		return s.rideEvent(ctx, *l.Event)
	case l.Road != "":
		return s.rideRoad(l.Road, l.RoadSpeed), nil
	}
	return nil, nil
}

func reaction(total float64) string {
	var words []string
	for _, r := range comfort.Reactions(total) {
		words = append(words, r.String())
	}
	return strings.Join(words, " to ")
}

func (s *page) rideRoad(name, typed string) *View {
	b := s.Answer.Job.Brief
	out := &View{Kind: "road", Name: view.Spaced(name), Speeds: []view.Speed{}, Tier: "screening", State: "unknown", Sides: []Side{}, Charts: []view.Chart{}}
	speed := 0.0
	if t, err := quantity.Parse(typed, quantity.SpeedRoad); err == nil {
		speed = t.Value
	}
	var speeds []float64
	for i := range b.Roads {
		r := &b.Roads[i]
		if r.Name != name {
			continue
		}
		for k := range r.Speeds {
			out.Speeds = append(out.Speeds, s.Speed(r.Speeds[k].Value))
			speeds = append(speeds, r.Speeds[k].Value)
			if desk.SameSpeed(r.Speeds[k].Value, speed) {
				speed = r.Speeds[k].Value
			}
		}
	}
	out.Speed = s.Speed(speed)
	out.Load = s.Load
	tier := figure.Screening
	if s.Full && s.Has(name, speed, s.Load, figure.Time) {
		tier, out.Tier = figure.Time, "time"
	}
	for _, build := range s.Answer.Job.Builds {
		side := Side{Build: build.ID, Floors: []Floor{}, Corners: []Corner{}}
		at := figure.Place{Build: build.ID, Load: s.Load, Corner: figure.NoCorner, Road: name, Speed: speed}
		for _, floor := range []string{drives.FloorDriver, drives.FloorRear} {
			at.At = floor
			a := s.find("floor-acceleration", tier, &at)
			side.Floors = append(side.Floors, s.rideFloor(a, floor))
			if view.State(a) != "unknown" {
				out.State = "ok"
			} else if a != nil && out.Note == "" {
				out.Note = a.Reason
			}
		}
		for i := range 4 {
			at.Corner, at.At = i, ""
			side.Corners = append(side.Corners, s.rideCorner(tier, at))
		}
		out.Sides = append(out.Sides, side)
	}
	if out.Note == "" {
		out.Note = map[string]string{"screening": "estimated from the road's spectrum; the full answer drives it in time", "time": "driven in time"}[out.Tier]
	}
	s.roadCharts(out, name, speeds, speed, tier)
	return out
}

// find returns a value of a drive; At of the place is looked at where it is
// given.
func (s *page) find(code string, tier figure.Tier, p *figure.Place) *figure.Value {
	for i := range s.Answer.Values {
		v := &s.Answer.Values[i]
		q := &v.Place
		if v.Code == code && v.Tier == tier && q.Build == p.Build && q.Load == p.Load && q.Corner == p.Corner && q.Road == p.Road && q.Event == p.Event &&
			desk.SameSpeed(q.Speed, p.Speed) && (p.At == "" || q.At == p.At) && q.Threshold == p.Threshold {
			return v
		}
	}
	return nil
}

func (s *page) rideFloor(v *figure.Value, floor string) Floor {
	out := Floor{Name: wording.Floor(floor), Shown: quantity.Nothing}
	if view.State(v) == "unknown" {
		if v != nil {
			out.Word = v.Reason
		}
		return out
	}
	out.Shown, out.ValueID, out.Word = s.Teller.Amount(v.Code, "m/s^2", v.Value), desk.ValueID(v), reaction(v.Value)
	if v.HasBand {
		out.Band = "± " + s.Teller.Amount(v.Code, "m/s^2", 0.5*(v.High-v.Low))
	}
	return out
}

// rideCorner says what a corner does: the stop, the travel, the tyre's load.
func (s *page) rideCorner(tier figure.Tier, p figure.Place) Corner {
	out := Corner{Corner: figure.CornerNames[p.Corner], Stop: quantity.Nothing, Travel: quantity.Nothing, Load: quantity.Nothing}
	get := func(code string) *figure.Value {
		v := s.find(code, tier, &p)
		if view.State(v) == "unknown" {
			return nil
		}
		return v
	}
	if v := s.find("stop-force-peak", tier, &p); v != nil && v.Reason == study.NoEnd {
		out.Stop = "stop not known"
	}
	if v := get("stop-force-peak"); v != nil {
		out.Stop = "not met"
		if v.Value > 0 {
			out.Stop = s.Teller.Amount(v.Code, "N", v.Value)
			if v.State == figure.Outside {
				out.Stop += " or more"
			}
		}
	}
	bump, droop := get("travel-peak-bump"), get("travel-peak-droop")
	if bump != nil && droop != nil {
		u := quantity.Shown(quantity.Length, s.System)
		out.Travel = u.Number(droop.Value, quantity.Auto) + " to " + u.Format(bump.Value, quantity.Auto)
	}
	if v := get("tyre-load-variation"); v != nil {
		out.Load = "varies by " + s.Teller.Amount(v.Code, "1", v.Value)
	} else if v := get("tyre-light-share"); v != nil {
		out.Load = "light for " + s.Teller.Amount(v.Code, "1", v.Value) + " of the time"
	}
	return out
}

// roadCharts are what the floor feels over speed, and how the travel is used.
func (s *page) roadCharts(out *View, name string, speeds []float64, speed float64, tier figure.Tier) {
	u := quantity.Shown(quantity.SpeedRoad, s.System)
	feel := view.Chart{
		ID: "floor", Title: "What the floor feels", Kind: "line", X: view.Axis{Label: "speed", Unit: u.Label()},
		Y: view.Axis{Label: "weighted acceleration, rms", Unit: s.Teller.Unit("floor-acceleration")}, Bands: s.comfortBands(), Series: []view.Series{},
		Note: "ISO 2631-1:1997, weighting Wk; bands: annex C, likely reactions in public transport, no limits",
	}
	for _, b := range s.Answer.Job.Builds {
		line := view.Series{Name: b.Name, Build: b.ID, X: []float64{}, Y: []float64{}}
		for _, x := range speeds {
			p := figure.Place{Build: b.ID, Load: s.Load, Corner: figure.NoCorner, Road: name, Speed: x, At: drives.FloorDriver}
			if v := s.find("floor-acceleration", tier, &p); view.State(v) != "unknown" {
				line.X, line.Y = append(line.X, view.Tidy(u.FromSI(x))), append(line.Y, s.shownAcceleration(v.Value))
			}
		}
		if len(line.X) > 0 {
			feel.Series = append(feel.Series, line)
		}
	}
	if len(feel.Series) > 0 {
		out.Charts = append(out.Charts, feel)
	}
	for i := range 4 {
		use := view.Chart{
			ID: "travel-" + figure.CornerNames[i], Title: "Travel used, " + wording.Corner(i), Kind: "line",
			X: view.Axis{Label: "wheel travel, bump positive", Unit: quantity.Units(quantity.Length, s.System)}, Y: view.Axis{Label: "time spent, 1 at its most", Unit: ""}, Series: []view.Series{},
		}
		for k := range s.Answer.Curves {
			c := &s.Answer.Curves[k]
			if c.Code != "travel-distribution" || c.Corner != i || c.Road != name || c.Load != s.Load || !desk.SameSpeed(c.Speed, speed) {
				continue
			}
			x, y := drawing.Density(c.X, c.Y)
			line := view.Series{Name: s.Teller.Build(c.Build), Build: c.Build, X: []float64{}, Y: []float64{}}
			for n := range x {
				line.X, line.Y = append(line.X, s.Length(x[n])), append(line.Y, view.Tidy(y[n]))
			}
			use.Series = append(use.Series, line)
		}
		if len(use.Series) > 0 {
			out.Charts = append(out.Charts, use)
		}
	}
}

func (s *page) shownAcceleration(v float64) float64 {
	return view.Tidy(quantity.Shown(quantity.Acceleration, s.System).FromSI(v))
}

// comfortBands are the bands of ISO 2631-1 annex C in the unit shown, cut where
// they overlap so that they can be drawn.
func (s *page) comfortBands() []view.ChartBand {
	var out []view.ChartBand
	for r := comfort.NotUncomfortable; r <= comfort.ExtremelyUncomfortable; r++ {
		from, to := r.Band()
		if math.IsInf(to, 1) {
			to = 2 * from
		}
		out = append(out, view.ChartBand{From: s.shownAcceleration(from), To: s.shownAcceleration(to), Label: r.String()})
	}
	return out
}

func (s *page) rideEvent(ctx context.Context, index int) (*View, error) {
	e := &s.Answer.Job.Brief.Events[index]
	out := &View{
		Kind: "event", Name: view.Spaced(e.Kind) + ", " + s.EventLine(e), Speed: s.Speed(e.Speed.Value), Speeds: []view.Speed{}, Load: e.Load, Tier: "time", State: "unknown",
		Note: "computed in time; one run, no band", Sides: []Side{}, Charts: []view.Chart{},
	}
	// A little slower and faster than the brief says. Chosen.
	for _, factor := range []float64{0.6, 0.8, 1, 1.2, 1.4} {
		out.Speeds = append(out.Speeds, s.Speed(math.Round(e.Speed.Value*factor/(5*quantity.KilometrePerHour))*5*quantity.KilometrePerHour))
	}
	name := route.EventName(e)
	for i := range s.Answer.Values {
		if q := &s.Answer.Values[i].Place; q.Event == name && desk.SameSpeed(q.Speed, e.Speed.Value) {
			out.Load = q.Load
			break
		}
	}
	for _, build := range s.Answer.Job.Builds {
		side := Side{Build: build.ID, Floors: []Floor{}, Corners: []Corner{}}
		at := figure.Place{Build: build.ID, Load: out.Load, Corner: figure.NoCorner, Event: name, Speed: e.Speed.Value}
		if a := s.find("body-acceleration-peak", figure.Time, &at); a != nil {
			f := Floor{Name: "greatest acceleration of the floor", Shown: quantity.Nothing, Word: a.Reason}
			if view.State(a) != "unknown" {
				out.State, out.Trace = "ok", true
				f.Shown, f.ValueID = s.Teller.Amount(a.Code, "m/s^2", a.Value), desk.ValueID(a)
			}
			side.Floors = append(side.Floors, f)
		}
		for i := range 4 {
			at.Corner = i
			side.Corners = append(side.Corners, s.rideCorner(figure.Time, at))
		}
		out.Sides = append(out.Sides, side)
	}
	if out.Trace {
		return out, s.eventCharts(ctx, out, index)
	}
	return out, nil
}

// traceSide is the side of the car that meets an obstacle: where the road moves
// more.
func traceSide(t *drives.Trace) int {
	var most [2]float64
	for i := range 4 {
		for _, z := range t.Road[i] {
			most[i&1] = math.Max(most[i&1], math.Abs(z))
		}
	}
	if most[1] > most[0] {
		return 1
	}
	return 0
}

// eventCharts draw travel, stop and floor over time for all builds.
func (s *page) eventCharts(ctx context.Context, out *View, index int) error {
	const most = 20000 // every moment: they are thinned below, and no peak with them
	length, force := quantity.Shown(quantity.Length, s.System), quantity.Shown(quantity.Force, s.System)
	names := [2]string{"left", "right"}
	var charts []view.Chart
	builds := s.Answer.Job.Builds
	traces := make([]*drives.Trace, len(builds))
	err := spread.Each(ctx, len(builds), runtime.NumCPU(), func(_, k int) {
		// A build without a rest has no trace; its column says why.
		if t, err := drives.Follow(ctx, s.Answer, builds[k].ID, index, most); err == nil {
			traces[k] = t
		}
	})
	if err != nil {
		return err
	}
	for k, b := range builds {
		t := traces[k]
		if t == nil {
			continue
		}
		side := traceSide(t)
		if charts == nil {
			axis := view.Axis{Label: "time", Unit: "s"}
			charts = []view.Chart{
				{ID: "travel-front", Title: "Wheel travel, front " + names[side], Kind: "line", X: axis, Y: view.Axis{Label: "wheel travel, bump positive", Unit: length.Label()}, Series: []view.Series{}},
				{ID: "travel-rear", Title: "Wheel travel, rear " + names[side], Kind: "line", X: axis, Y: view.Axis{Label: "wheel travel, bump positive", Unit: length.Label()}, Series: []view.Series{}},
				{ID: "stop-front", Title: "Force of the stop, front " + names[side], Kind: "line", X: axis, Y: view.Axis{Label: "force along the damper", Unit: force.Label()}, Series: []view.Series{}},
				{ID: "stop-rear", Title: "Force of the stop, rear " + names[side], Kind: "line", X: axis, Y: view.Axis{Label: "force along the damper", Unit: force.Label()}, Series: []view.Series{}},
				{ID: "floor", Title: "Acceleration of the floor under the driver", Kind: "line", X: axis, Y: view.Axis{Label: "vertical acceleration", Unit: s.Teller.Unit("floor-acceleration")}, Series: []view.Series{}},
			}
		}
		x := make([]float64, len(t.Floor))
		for k := range x {
			x[k] = view.Tidy(float64(k) * t.Step)
		}
		add := func(chart int, y []float64) {
			charts[chart].Series = append(charts[chart].Series, view.Series{Name: b.Name, Build: b.ID, X: x, Y: y})
		}
		add(0, shownAll(t.Travel[side], length))
		add(1, shownAll(t.Travel[2+side], length))
		add(2, shownAll(t.Stop[side], force))
		add(3, shownAll(t.Stop[2+side], force))
		add(4, shownAll(t.Floor, quantity.Shown(quantity.Acceleration, s.System)))
	}
	for i := range charts {
		thinned(&charts[i], chartStretches)
	}
	out.Charts = append(out.Charts, charts...)
	return nil
}

// chartStretches is how many stretches of a chart keep their extremes: more than
// a screen tells apart. Chosen.
const chartStretches = 70

// thinned leaves out points of a chart, but none at which one of its lines is
// lowest or highest within its stretch: a peak that the table beside it names is
// drawn. Lines that share their moments keep sharing them.
func thinned(c *view.Chart, stretches int) {
	if len(c.Series) == 0 {
		return
	}
	groups := map[float64][]int{} // lines by the step of their moments
	for k, s := range c.Series {
		if len(s.X) > 1 {
			groups[s.X[1]-s.X[0]] = append(groups[s.X[1]-s.X[0]], k)
		}
	}
	for _, group := range groups {
		keep := map[int]bool{}
		longest := 0
		for _, k := range group {
			y := c.Series[k].Y
			longest = max(longest, len(y))
			each := max(1, len(y)/stretches)
			for from := 0; from < len(y); from += each {
				low, high := from, from
				for i := from; i < min(from+each, len(y)); i++ {
					if y[i] < y[low] {
						low = i
					}
					if y[i] > y[high] {
						high = i
					}
				}
				keep[low], keep[high] = true, true
			}
			keep[0], keep[len(y)-1] = true, true
		}
		for _, k := range group {
			s := &c.Series[k]
			var x, y []float64
			for i := range min(longest, len(s.Y)) {
				if keep[i] {
					x, y = append(x, s.X[i]), append(y, s.Y[i])
				}
			}
			s.X, s.Y = x, y
		}
	}
}

// shownAll is a row of figures in the unit shown, as plain numbers.
func shownAll(list []float64, u quantity.Unit) []float64 {
	out := make([]float64, len(list))
	for i, v := range list {
		out[i] = view.Tidy(u.FromSI(v))
	}
	return out
}

// TraceOf plays an obstacle for the side view, in the units shown.
func TraceOf(ctx context.Context, s *view.Trial, build string, most int) (*Trace, error) {
	index := 0
	if s.Look.Event != nil {
		index = *s.Look.Event
	}
	t, err := drives.Follow(ctx, s.Answer, build, index, most)
	if err != nil {
		return nil, err
	}
	length, force := quantity.Shown(quantity.Length, s.System), quantity.Shown(quantity.Force, s.System)
	side := traceSide(t)
	out := &Trace{
		Dt: t.Step, Build: t.Build, Side: [2]string{"left", "right"}[side],
		Unit:      TraceUnits{Travel: length.Label(), Stop: force.Label(), Seat: s.Teller.Unit("floor-acceleration")},
		Wheelbase: s.Length(t.Wheelbase), Speed: s.Length(t.Speed),
		Road: TraceRoad{Front: shownAll(t.Road[side], length), Rear: shownAll(t.Road[2+side], length)},
		Seat: shownAll(t.Floor, quantity.Shown(quantity.Acceleration, s.System)), Limits: []TraceLimits{},
	}
	for i := range 4 {
		out.Wheel = append(out.Wheel, shownAll(t.Wheel[i], length))
		out.Body = append(out.Body, shownAll(t.Body[i], length))
		out.Travel = append(out.Travel, shownAll(t.Travel[i], length))
		out.Stop = append(out.Stop, shownAll(t.Stop[i], force))
	}
	for _, d := range drawing.Strips(s.Answer, t.Build, t.Load) {
		out.Limits = append(out.Limits, TraceLimits{Open: s.KnownLength(d.Open), Touch: s.KnownLength(d.Touch), Solid: s.KnownLength(d.Solid), Rest: s.Length(d.Rest)})
	}
	return out, nil
}
