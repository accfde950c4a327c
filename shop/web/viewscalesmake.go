package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// onScales is a build on the scales with what was kept and what is asked.
type onScales struct {
	settings ScalesSettings // with what was left empty filled in
	system   quantity.System
	teller   *wording.Teller
	text     []byte
	job      *jobfile.Job
	build    *car.Build
	load     string
	history  *levelling.History
	rounds   map[string]int // that stand, by build

	target    scales.Target
	rig       *scales.Rig
	weighings []intake.Weighing
	of        []*levelling.Past // of weighings; nil: no round that was kept
	drafted   bool              // the last weighing is a draft
	faults    []intake.FieldFault

	result *levelling.Result
	none   error // why there is no result
}

// look answers what to turn.
func (b *bay) look(ctx context.Context, job string, settings ScalesSettings, draft *intake.RoundTyped) (*Scales, error) {
	start := b.o.Now()
	st, err := b.stand(ctx, job, settings, draft)
	if err != nil {
		return nil, err
	}
	if st.result != nil {
		st.result.FindSuspects()
	}
	v := st.view(b.Server)
	v.Ms = int(b.o.Now().Sub(start).Milliseconds())
	return v, nil
}

// stand puts a build of the saved job on the scales and works through its
// rounds.
func (b *bay) stand(ctx context.Context, id string, settings ScalesSettings, draft *intake.RoundTyped) (*onScales, error) {
	r, err := b.store.Job(ctx, id)
	if err != nil {
		return nil, err
	}
	if settings.Units == "" {
		settings.Units = b.o.Units
	}
	st := &onScales{settings: settings, text: r.Text, rounds: map[string]int{}}
	if st.system, err = wording.System(settings.Units); err != nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	st.settings.Units = wording.SystemName(st.system)
	st.teller = wording.New(nil, st.system)
	var faults []jobfile.Fault
	if st.job, faults = jobfile.ReadBytes(r.Text, "job.yaml"); st.job == nil {
		if err := jobfile.AsError("job", faults); err != nil {
			return nil, err
		}
		return nil, problem(http.StatusUnprocessableEntity, "the job cannot be read")
	}
	all, err := b.store.RoundsOf(ctx, id, "", levelling.Kind)
	if err != nil {
		return nil, err
	}
	entries := map[string][]levelling.Entry{}
	for _, k := range all {
		entries[k.Build] = append(entries[k.Build], levelling.Entry{ID: k.ID, Number: k.Number, Taken: k.Taken, Saved: k.Saved, Who: k.Who, Text: k.Text})
	}
	for build, list := range entries {
		st.rounds[build] = len(levelling.Read(list).Standing())
	}
	if err := st.choose(); err != nil {
		return nil, err
	}
	st.history = levelling.Read(entries[st.build.ID])
	if st.load = settings.Load; st.load == "" {
		if st.load = st.history.Load(); st.load == "" {
			st.load = levelling.LoadOf(st.job, st.build)
		}
	}
	st.settings.Load = st.load
	if err := st.ask(); err != nil {
		return nil, err
	}
	st.weighings, st.of = st.history.Weighings(st.job, st.build, st.load)
	if draft != nil {
		w, faults := draft.Weigh()
		st.faults = append(st.faults, faults...)
		if !draft.Empty() {
			st.weighings, st.of, st.drafted = append(st.weighings, w), append(st.of, nil), true
		}
	}
	st.result, st.none = levelling.Work(st.build, st.load, st.rig, st.target, st.weighings)
	if _, left := st.history.LeftOut(st.job, st.build, st.load); left && st.result != nil {
		st.result.NoteLeftOut()
	}
	return st, nil
}

// choose finds the build: the one asked for, else the only one with collars,
// else the first that has.
func (st *onScales) choose() error {
	var ask *levelling.AskError
	build, err := levelling.Find(st.job, st.settings.Build)
	switch {
	case err == nil:
		st.build = build
	case errors.As(err, &ask) && st.settings.Build == "" && len(st.job.Builds) > 0:
		st.build = st.job.Builds[len(st.job.Builds)-1]
		if i := slices.IndexFunc(st.job.Builds, levelling.HasCollars); i >= 0 {
			st.build = st.job.Builds[i]
		}
	case len(st.job.Builds) == 0:
		return problem(http.StatusUnprocessableEntity, "the job has no build to stand on the scales")
	default:
		return problem(http.StatusUnprocessableEntity, err.Error())
	}
	st.settings.Build = st.build.ID
	return nil
}

// ask reads what is asked for. What cannot be read is named, and the preset's
// stands in its place.
func (st *onScales) ask() error {
	s := &st.settings
	fault := func(field string, err error) {
		if err != nil {
			st.faults = append(st.faults, intake.FieldFault{Field: field, Text: err.Error()})
		}
	}
	if s.Only == nil {
		s.Only = []string{}
	}
	if s.Preset == "" {
		s.Preset = string(scales.Road)
	}
	preset := scales.Preset(s.Preset)
	if !slices.Contains(scales.Presets(), preset) {
		fault("preset", fmt.Errorf("%q is no preset: road, track or race", s.Preset))
		preset = scales.Road
	}
	if s.Diagonal == "" {
		s.Diagonal = string(scales.FrontRightRearLeft)
	}
	diagonal := scales.Diagonal(s.Diagonal)
	if diagonal != scales.FrontRightRearLeft && diagonal != scales.FrontLeftRearRight {
		fault("diagonal", fmt.Errorf("%q is no diagonal: front-right-rear-left or front-left-rear-right", s.Diagonal))
		diagonal = scales.FrontRightRearLeft
	}
	st.target = preset.Level(diagonal)
	switch s.Price {
	case "":
	case "level":
		st.target.CrossPerMetre = 0
	default:
		price, err := levelling.Price(s.Price)
		if fault("price", err); err == nil {
			st.target.CrossPerMetre = price
		}
	}
	flats := 0
	if s.Flats != "" {
		var err error
		if flats, err = strconv.Atoi(strings.TrimSpace(s.Flats)); err != nil || flats == 0 {
			fault("flats", fmt.Errorf("%q is no number of flats: 2 to 60", s.Flats))
			flats = 0
		}
	}
	step, err := levelling.Step(s.Step, flats)
	if err != nil {
		var ask *levelling.AskError
		if errors.As(err, &ask) {
			fault(ask.Field, fmt.Errorf("it %s", ask.Text))
		}
		step = 0
	}
	fault("only", levelling.Only(&st.target, s.Only))
	w := &s.Wishes
	for _, x := range []struct{ field, name, typed string }{
		{"front", "front", w.Front},
		{"rear", "rear", w.Rear},
		{"rake", "rake", w.Rake},
		{"levelFront", "level-front", w.LevelFront},
		{"levelRear", "level-rear", w.LevelRear},
		{"cross", "cross", w.Cross},
		{"frontShare", "front-share", w.FrontShare},
		{"leftShare", "left-share", w.LeftShare},
	} {
		if typed := strings.TrimSpace(x.typed); typed != "" {
			fault("wishes."+x.field, levelling.Wish(&st.target, x.name, typed))
		}
	}
	st.rig, err = levelling.Stand(st.job, st.build, st.load, st.history.Collars(), step)
	if err != nil {
		return problem(http.StatusUnprocessableEntity, err.Error())
	}
	if s.Step == "" && s.Flats == "" {
		// What the job's collars are turned by.
		s.Step = "1/8"
		for a := range 2 {
			if p := st.build.Corner[2*a].Platform; p != nil && p.Flats > 0 {
				s.Step, s.Flats = "", strconv.Itoa(p.Flats)
				break
			}
		}
	}
	return nil
}

// countTurns counts the turns before a new round: as typed, else as they were
// asked for after the round that was on the screen, less what others turned
// since.
func (st *onScales) countTurns(typed [4]float64, seen string) [4]float64 {
	if st.result == nil {
		return typed // counted when the job can be answered
	}
	asked, err := st.result.Asked()
	if err != nil {
		return typed
	}
	if k := slices.IndexFunc(st.of, func(p *levelling.Past) bool { return p != nil && p.ID == seen }); k >= 0 && k < len(st.of)-1 {
		then, err := levelling.Work(st.build, st.load, st.rig, st.target, st.weighings[:k+1])
		if err != nil {
			return typed
		}
		if asked, err = then.Asked(); err != nil {
			return typed
		}
		for j := k + 1; j < len(st.result.Rounds); j++ {
			for i := range 4 {
				if pitch := st.rig.Adjuster[i].Pitch; pitch > 0 {
					asked[i] -= st.result.Rounds[j].Turned[i] / pitch
				}
			}
		}
	}
	for i := range 4 {
		if math.IsNaN(typed[i]) {
			typed[i] = asked[i]
		}
	}
	return typed
}

// view shows it.
func (st *onScales) view(s *Server) *Scales {
	v := &Scales{
		Builds: []ScalesBuild{}, Build: st.build.ID, Load: st.load, Loads: []ScalesLoad{}, Settings: st.settings, Presets: []ScalesPreset{},
		Verdict: string(scales.Caution), Checks: []ScalesCheck{}, Corners: []ScalesCorner{}, Totals: []ScalesTotal{}, Axles: []ScalesAxle{},
		Price: ScalesPrice{Points: []ScalesPricePoint{}, Chosen: -1}, Missed: []string{}, Refused: []string{}, Suspects: []ScalesSuspect{},
		Learned: []ScalesLearned{}, Predicted: []ScalesPredicted{}, Order: []ScalesStep{}, Reopened: []string{}, Opened: []string{}, Cautions: []string{},
		Rounds: []ScalesRound{}, Keep: ScalesKeep{Edits: []jobfile.Edit{}}, Faults: st.faults,
	}
	if v.Faults == nil {
		v.Faults = []intake.FieldFault{}
	}
	for _, b := range st.job.Builds {
		v.Builds = append(v.Builds, ScalesBuild{ID: b.ID, Name: b.Name, Collars: levelling.HasCollars(b), Rounds: st.rounds[b.ID]})
	}
	for i := range st.job.Loads {
		l := &st.job.Loads[i]
		name := l.Name
		if name == "" {
			name = l.ID
		}
		v.Loads = append(v.Loads, ScalesLoad{ID: l.ID, Name: name})
	}
	for _, p := range scales.Presets() {
		name, says := st.teller.ScalesPreset(p)
		v.Presets = append(v.Presets, ScalesPreset{ID: string(p), Name: name, Says: says})
	}
	st.kept(s, v)
	st.drawing(v)
	if st.result == nil {
		v.Stopped, v.Verdict, v.Says = true, string(scales.Stop), "Turn nothing: "+st.none.Error()+"."
		return v
	}
	st.gate(v)
	st.corners(v)
	st.whole(v)
	st.move(v)
	st.learned(v)
	st.work(v)
	st.keep(v)
	return v
}

// shown is a figure of a reading, or that it was not read.
func (st *onScales) shown(code, si string, value float64) string {
	if math.IsNaN(value) {
		return quantity.Nothing
	}
	return st.teller.Amount(code, si, value)
}

// numberOf is the number under which a round of the result is shown.
func (st *onScales) numberOf(k int) int {
	switch {
	case k >= 0 && k < len(st.of) && st.of[k] != nil:
		return st.of[k].Number
	case k > 0 || st.drafted && k == len(st.of)-1:
		return len(st.history.Rounds) + 1
	}
	return 0 // what the job held before
}

func (st *onScales) kept(s *Server, v *Scales) {
	for _, p := range st.history.Rounds {
		r := ScalesRound{
			ID: p.ID, Number: p.Number, Taken: view.When(p.Taken), Saved: view.When(p.Saved), Who: p.Who, Load: p.Load, Note: p.Round.Note,
			Loads: four(p.Round.Loads), Heights: four(p.Round.Heights), Turned: make([]string, 4), Cross: quantity.Nothing, Verdict: string(scales.Caution), Round: p.Round,
		}
		r.Round.Loads, r.Round.Heights = r.Loads, r.Heights
		typed := four(p.Round.Turned)
		for i := range 4 {
			switch {
			case typed[i] != "" || math.IsNaN(p.Turns[i]):
				r.Turned[i] = typed[i]
			case p.Turns[i] != 0:
				r.Turned[i] = "as asked: " + wording.SignedTurns(p.Turns[i], st.rig.Adjuster[i].Step)
			}
		}
		w, _ := p.Round.Weigh()
		if got := w.Session.Reading(); got.Complete() {
			r.Cross = st.teller.Amount("front-share", "1", got.Cross(st.target.Diagonal))
		}
		if p.Withdrawn != nil {
			r.Withdrawn = &ScalesWithdrawn{Who: p.Withdrawn.Who, When: view.When(p.Withdrawn.When), Why: p.Withdrawn.Why}
		}
		if st.result != nil {
			if k := slices.Index(st.of, p); k >= 0 && k < len(st.result.Gates) {
				r.Verdict = string(st.result.Gates[k].Verdict)
			}
		}
		v.Rounds = append(v.Rounds, r)
	}
}

// four makes a list of four of what may be shorter.
func four(list []string) []string {
	out := make([]string, 4)
	copy(out, list)
	return out
}

func (st *onScales) drawing(v *Scales) {
	c := st.job.Car
	wheelbase := c.Wheelbase.Value
	v.Plan = ScalesPlan{Unit: "m", Wheelbase: wheelbase, Wheels: [][]float64{}}
	for i := range 4 {
		left := 0.5 * c.Track[car.AxleOf(i)].Value
		if i&1 == 1 {
			left = -left
		}
		v.Plan.Wheels = append(v.Plan.Wheels, []float64{float64(car.AxleOf(i)) * wheelbase, left})
	}
	for i := range st.job.Loads {
		if st.job.Loads[i].ID != st.load {
			continue
		}
		for _, item := range st.job.Loads[i].Items {
			if strings.Contains(strings.ToLower(item.Name), "driver") {
				v.Plan.Seat = &ScalesSeat{Behind: item.Behind.Value, Left: item.Left.Value}
				return
			}
		}
	}
}

// gate shows what the last readings are good for.
func (st *onScales) gate(v *Scales) {
	l := st.result
	v.Stopped = l.Stopped
	v.Says = l.Says(st.teller)
	g := l.Gates[len(l.Gates)-1]
	v.Verdict = string(g.Verdict)
	if l.Stopped {
		v.Verdict = string(scales.Stop) // by a guard, where not by the readings
	}
	for k := range g.Checks {
		c := &g.Checks[k]
		check := ScalesCheck{Code: c.Code, Verdict: string(c.Verdict), Text: st.teller.ScalesCheck(c)}
		if c.Corner >= 0 {
			check.Corner = &figure.CornerNames[c.Corner]
		}
		v.Checks = append(v.Checks, check)
	}
	if l.Plan != nil {
		v.Met, v.Meets = l.Plan.Met, l.Plan.Meets
	}
}

// last is what was read last, and what the model has after it; of a car that was
// not read what the parts lead to.
func (st *onScales) last() (got scales.Reading, band scales.Forecast, read bool) {
	l := st.result
	if n := len(l.Rounds); n > 0 {
		got, read = l.Rounds[n-1].Got, true
	}
	switch {
	case l.Plan != nil && read:
		band = l.Plan.Scatter
	case l.Plan != nil:
		band = l.Plan.Now
	case read:
		band = l.Forecast[len(l.Forecast)-1]
	}
	if !read {
		for i := range 4 {
			got.Load[i], got.Height[i] = band.Load[i].Value, band.Height[i].Value
		}
	}
	return got, band, read
}

func (st *onScales) corners(v *Scales) {
	l, t := st.result, st.teller
	got, band, read := st.last()
	asked, err := l.Asked()
	for i := range 4 {
		c := ScalesCorner{
			Corner: figure.CornerNames[i], Name: wording.Corner(i), Read: read && !math.IsNaN(got.Load[i]) && !math.IsNaN(got.Height[i]),
			Load:   ScalesShown{Shown: st.shown("", "kg", got.Load[i]), Band: t.ScalesHalf("", "kg", band.Load[i].Half)},
			Height: ScalesShown{Shown: st.shown("", "m", got.Height[i]), Band: t.ScalesHalf("", "m", band.Height[i].Half)},
			After:  ScalesAfter{Load: quantity.Nothing, Height: quantity.Nothing},
		}
		a := &st.rig.Adjuster[i]
		turning := a.Kind != scales.Fixed && a.Pitch > 0
		if err == nil && turning && l.LastGood() >= 0 {
			c.Asked = wording.SignedTurns(asked[i], a.Step)
		}
		p := l.Plan
		if p != nil && !l.Stopped {
			c.After = ScalesAfter{
				Load: t.Amount("", "kg", p.After.Load[i].Value), LoadBand: t.ScalesHalf("", "kg", p.After.Load[i].Half),
				Height: t.Amount("", "m", p.After.Height[i].Value), HeightBand: t.ScalesHalf("", "m", p.After.Height[i].Half),
			}
		}
		switch {
		case !turning:
		case l.Stopped || p == nil:
			c.Collar = &ScalesCollar{Turns: "0", Way: "none", Text: "stays, until what stops it is put right", At: t.Amount("", "m", l.At()[i])}
		default:
			c.Collar = st.collar(&p.Collar[i])
		}
		v.Corners = append(v.Corners, c)
	}
}

func (st *onScales) collar(c *scales.Collar) *ScalesCollar {
	t := st.teller
	way := "none"
	switch {
	case c.Move > 0:
		way = "up"
	case c.Move < 0:
		way = "down"
	}
	return &ScalesCollar{
		Turns: wording.TurnsBy(c.Turns, c.Step), Way: way, Clockwise: c.Clockwise, TurnsNumber: c.Turns, Move: t.Amount("", "m", math.Abs(c.Move)), At: t.ScalesOff("", "m", c.At),
		RoomUp: t.Amount("", "m", c.RoomUp), RoomDown: t.Amount("", "m", c.RoomDown), Held: t.ScalesHeld(c.Held), Text: t.ScalesTurn(c),
	}
}

// whole shows the figures of the whole car.
func (st *onScales) whole(v *Scales) {
	l, t := st.result, st.teller
	got, band, _ := st.last()
	p := l.Plan
	if l.Stopped {
		p = nil // nobody is shown where a move leads that is not to be made
	}
	after := scales.Unread()
	if p != nil {
		for i := range 4 {
			after.Load[i], after.Height[i] = p.After.Load[i].Value, p.After.Height[i].Value
		}
	}
	total := func(label, code, si string, of func(*scales.Reading) float64, half float64) {
		row := ScalesTotal{Label: label, Shown: st.shown(code, si, of(&got)), After: st.shown(code, si, of(&after))}
		if half > 0 {
			row.Band = t.ScalesHalf(code, si, half)
		}
		v.Totals = append(v.Totals, row)
	}
	total("Total", "", "kg", (*scales.Reading).Total, 0)
	total("Front share", "front-share", "1", (*scales.Reading).FrontShare, 0)
	total("Left share", "front-share", "1", (*scales.Reading).LeftShare, 0)
	total("Front, mean height", "", "m", func(r *scales.Reading) float64 { return r.Mean(0) }, band.Mean[0].Half)
	total("Rear, mean height", "", "m", func(r *scales.Reading) float64 { return r.Mean(1) }, band.Mean[1].Half)
	total("Rake, rear over front", "", "m", (*scales.Reading).Rake, band.Rake.Half)

	d := st.target.Diagonal
	share := func(x float64) string { return st.shown("front-share", "1", x) }
	v.Cross = ScalesCross{
		Diagonal: []string{"front-right", "rear-left"}, Name: wording.Diagonal(d), Now: share(got.Cross(d)), After: share(after.Cross(d)), Wanted: "not wanted",
		Other: ScalesPair{Now: share(1 - got.Cross(d)), After: share(1 - after.Cross(d))},
	}
	if d == scales.FrontLeftRearRight {
		v.Cross.Diagonal = []string{"front-left", "rear-right"}
	}
	if !math.IsNaN(st.target.Cross) {
		v.Cross.Wanted = share(st.target.Cross)
	}
	half := band
	if p != nil {
		half = p.After
	}
	v.Cross.Band = t.ScalesHalf("front-share", "1", half.Cross.Half)
	for a := range 2 {
		row := ScalesAxle{Level: ScalesLevel{Now: quantity.Nothing, After: quantity.Nothing, Band: t.ScalesHalf("", "m", half.Level[a].Half)}}
		if now := got.Level(a); !math.IsNaN(now) {
			row.Level.Now = t.ScalesOff("", "m", now)
		}
		if then := after.Level(a); !math.IsNaN(then) {
			row.Level.After = t.ScalesOff("", "m", then)
		}
		then := math.NaN() // where nothing is turned it stays as it was read
		if p != nil && p.Turn {
			then = after.Level(a)
		}
		row.Says = t.ScalesLevelled(a, got.Level(a), then)
		v.Axles = append(v.Axles, row)
	}
}

// move shows what is missed, what it costs, and what one collar can do.
func (st *onScales) move(v *Scales) {
	l, t := st.result, st.teller
	p := l.Plan
	unit := quantity.Shown(quantity.Length, st.system)
	v.Price.Unit, v.Price.CrossUnit = unit.Label(), "%"
	if p == nil {
		return
	}
	for k := range p.Missed {
		v.Missed = append(v.Missed, t.ScalesMissed(&p.Missed[k], p))
	}
	for k := range p.Refused {
		v.Refused = append(v.Refused, t.ScalesRefusal(&p.Refused[k]))
	}
	if !levelling.HasCollars(l.Build) {
		v.Missed = []string{}
		return
	}
	if p.Single.Corner >= 0 && p.Turn && !l.Stopped {
		text := wording.Corner(p.Single.Corner) + " alone: " + t.ScalesTurn(&p.Single.Collar) + "; cross then " + t.ScalesBand("front-share", "1", p.Single.After.Cross)
		if p.Single.Meets {
			text += "; every wish is met"
		} else {
			text += "; not every wish is met"
		}
		v.Single = &ScalesSingle{Text: text, Meets: p.Single.Meets}
	}
	for _, x := range p.Price {
		worst := math.Max(math.Abs(x.Level[0]), math.Abs(x.Level[1]))
		point := ScalesPricePoint{X: unit.FromSI(worst), Cross: x.Cross / quantity.Percent, Label: "level to " + t.Amount("", "m", worst) + ", cross " + t.Amount("front-share", "1", x.Cross), Price: "level"}
		if !math.IsInf(x.CrossPerMetre, 1) {
			point.Price = wording.ScalesPriceText(x.CrossPerMetre)
		}
		v.Price.Points = append(v.Price.Points, point)
	}
	v.Price.Chosen, v.Price.Note = p.Chosen, t.ScalesPrice(p)
}

// learned shows what the readings say about the parts, and how well they were
// predicted.
func (st *onScales) learned(v *Scales) {
	l, t := st.result, st.teller
	for k := range l.Suspects {
		s := l.Suspects[k]
		if s.Round >= 0 {
			s.Round = st.numberOf(s.Round) - 1
		}
		likelier := "more than a million times"
		if s.Odds < 1e6 {
			likelier = fmt.Sprintf("%.0f times", s.Odds)
		}
		v.Suspects = append(v.Suspects, ScalesSuspect{Text: t.ScalesSuspect(&s), Likelier: likelier, Same: s.Same})
	}
	for _, x := range l.Model.Learned() {
		if x.Code == "thread" && st.rig.Adjuster[2*x.Axle].Kind == scales.Fixed || len(l.Model.Rounds) == 0 {
			continue
		}
		if text := t.ScalesLearned(&x); text != "" {
			v.Learned = append(v.Learned, ScalesLearned{Text: text})
		}
	}
	for k := range l.Rounds {
		got, f := &l.Rounds[k].Got, &l.Forecast[k]
		p := ScalesPredicted{Round: st.numberOf(k), Rows: []ScalesPredictedRow{}}
		row := func(label, code, si string, b scales.Band, got float64) {
			if math.IsNaN(got) {
				return
			}
			p.Rows = append(p.Rows, ScalesPredictedRow{
				Label: label, Predicted: t.ScalesBand(code, si, b), Got: t.Amount(code, si, got), Off: t.ScalesOff(code, si, got-b.Value), Inside: math.Abs(got-b.Value) <= b.Half,
			})
		}
		for i := range 4 {
			row(wording.Corner(i)+", load", "", "kg", f.Load[i], got.Load[i])
		}
		for i := range 4 {
			row(wording.Corner(i)+", height", "", "m", f.Height[i], got.Height[i])
		}
		row("cross", "front-share", "1", f.Cross, got.Cross(st.target.Diagonal))
		v.Predicted = append(v.Predicted, p)
	}
}

// work shows the order of work and what to mind in it.
func (st *onScales) work(v *Scales) {
	l := st.result
	p := l.Plan
	if l.Stopped {
		p = nil
	}
	for _, x := range scales.Order(p) {
		step := ScalesStep{Text: wording.ScalesStep(x.Code), Caution: len(x.Cautions) > 0, Now: x.Now, Again: x.Again}
		var mind []string
		for _, c := range x.Cautions {
			mind = append(mind, wording.ScalesMind(c))
		}
		if step.Mind = strings.Join(mind, "; "); step.Mind != "" {
			step.Text += ": " + step.Mind
		}
		v.Order = append(v.Order, step)
	}
	for _, code := range l.Reopened() {
		v.Reopened = append(v.Reopened, wording.ScalesReopened(code))
	}
	for _, code := range l.Opened() {
		v.Opened = append(v.Opened, wording.ScalesReopened(code))
	}
	if p != nil && p.Turn {
		for _, code := range []string{"stands-before-hands", "spring-under-load", "count-turns", "lock-collar"} {
			v.Cautions = append(v.Cautions, sentence(wording.ScalesMind(code)))
		}
	}
	other := 0
	for _, r := range st.history.Standing() {
		if r.Load != st.load {
			other++
		}
	}
	if other > 0 {
		v.Cautions = append(v.Cautions, fmt.Sprintf("%d of the rounds were read in another load state: their readings are not counted here, their turns are.", other))
	}
	if len(st.of) > 0 && st.of[0] == nil && !(st.drafted && len(st.of) == 1) {
		v.Cautions = append(v.Cautions, "It begins with the readings that the job holds of this build.")
	}
	v.Cautions = append(v.Cautions, "It says what scales and tape will show, and nothing about whether the car is safe or legal.")
}

func sentence(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// keep shows what writes the last good round into the job.
func (st *onScales) keep(v *Scales) {
	l := st.result
	k := l.LastGood()
	switch {
	case k < 0:
		v.Keep.Says = "No round stands that could be kept in the job."
		return
	case st.of[k] == nil && st.drafted && k == len(st.of)-1:
		v.Keep.Says = "The round that is being typed has to be kept first."
		return
	case st.of[k] == nil:
		v.Keep.Says = "The job holds these readings already."
		return
	}
	digits := 2
	if st.system == quantity.Imperial {
		digits = 4
	}
	length := func(x float64) string { return quantity.Format(x, quantity.Length, st.system, digits) }
	mass := func(x float64) string { return quantity.Format(x, quantity.Mass, st.system, 2) }
	list := l.Keep(st.text, length, mass, &st.of[k].Round)
	for _, p := range list {
		e := jobfile.Edit{Path: p.Path}
		if !p.Out {
			value := p.Value
			e.Value = &value
		}
		v.Keep.Edits = append(v.Keep.Edits, e)
	}
	v.Keep.Says = fmt.Sprintf("Writes round %d into the job: four loads, four heights and where the collars stand.", st.of[k].Number)
	if len(list) == 0 {
		v.Keep.Says = fmt.Sprintf("The job holds round %d already.", st.of[k].Number)
	}
}
