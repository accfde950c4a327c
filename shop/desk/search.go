package desk

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/finding"
	"trunnion/chassis/scales"
	"trunnion/chassis/search"
	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// SearchAsk is what a search for builds may change, and what must hold.
type SearchAsk struct {
	Build      string   `help:"Build to start from, by id; without it the first with collars, else the last that is not the baseline." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Keep       []string `help:"Leave as fitted: springs, helpers, dampers, heights, stops, packers, clicks, bars." json:"keep,omitempty" maxItems:"8" placeholder:"WHAT"`
	Without    []string `help:"Findings that may be broken, by code; trunnion explain lists them." json:"without,omitempty" maxItems:"100" placeholder:"CODE"`
	FrontLower string   `help:"The front stands at least that much lower than the baseline." json:"frontLower,omitempty" maxLength:"60" placeholder:"LENGTH"`
	RearLower  string   `help:"The rear stands at least that much lower than the baseline." json:"rearLower,omitempty" maxLength:"60" placeholder:"LENGTH"`
	Budget     string   `help:"For parts that have to be bought, with its currency." json:"budget,omitempty" maxLength:"60" placeholder:"PRICE"`
	Effort     string   `default:"usual" enum:"quick,usual,thorough" help:"How many candidates are carried on: ${enum}." json:"effort,omitempty"`
	Settings

	// Tell, where given, is called as the search goes on, from several goroutines.
	Tell func(search.Progress) `json:"-" kong:"-"`
	// Hands, where given, have the pieces of the search computed; the answer is the same.
	Hands Hands `json:"-" kong:"-"`
}

// searchDraws are behind the bands of the last candidates: enough to tell 5 in 100 from 1.
// Chosen.
const searchDraws = 400

// efforts are how much more or fewer candidates are carried on than usual. Chosen. [-]
var efforts = map[string]float64{"quick": 0.5, "usual": 1, "thorough": 3}

// SearchFound are builds that were found.
type SearchFound struct {
	Job      *jobfile.Job
	Found    *search.Found
	Must     search.Must
	Build    *car.Build // that was started from
	Currency string     // of all prices; empty where none is known
}

// prepared is a search before its first step.
type prepared struct {
	base  *Result
	build string
	space search.Space
	must  search.Must
	opt   search.Options
	found *SearchFound
}

// prepare reads what a search may change and must hold, and puts the job's own builds
// through the study; drives may be those of an earlier one.
func (d *Desk) prepare(ctx context.Context, job *jobfile.Job, ask *SearchAsk, driven *drives.Driven) (*prepared, error) {
	s := &ask.Settings
	if err := cmp.Or(s.check(), known(job, nil, nil)); err != nil {
		return nil, err
	}
	p := new(prepared)
	var err error
	if p.build, err = startOf(job, ask.Build); err != nil {
		return nil, err
	}
	may, err := ask.may()
	if err != nil {
		return nil, err
	}
	if p.must, err = ask.must(); err != nil {
		return nil, err
	}
	if p.opt, err = ask.options(); err != nil {
		return nil, err
	}
	q := &asked{job: job, opt: s.options(searchDraws), full: true, drives: driven}
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoModes = true, true, true
	ride := s.drive()
	ride.Mounts = false
	q.drive = &ride
	q.as = fmt.Sprintf("search %s %d %d %v", job.SHA256, q.opt.Samples, q.opt.Seed, ride.Lanes)
	if ask.Tell != nil {
		s.Progress = nil
		q.shown = func(done, total int) { ask.Tell(search.Progress{Step: search.AtStart, Done: done, Total: total}) }
	}
	if p.base, err = d.answer(ctx, q); err != nil {
		return nil, err
	}
	if p.base.NotDriven != nil {
		return nil, p.base.NotDriven
	}
	p.found = &SearchFound{Job: p.base.Job, Must: p.must}
	shop := p.found.shop(p.base.Answer.Job.Stock, ask.Budget)
	if p.space, err = search.Offer(p.base.Answer, p.build, may, shop); err != nil {
		return nil, err
	}
	if p.space.Size() < 2 {
		return nil, absent("%s", nothingToChange(buildOf(p.base.Job, p.build)))
	}
	return p, nil
}

// nothingToChange says why a search from a build has nothing to choose from.
func nothingToChange(b *car.Build) string {
	said := "nothing can be changed about “" + b.Name + "”: it has no collars, clicks or holes, and "
	for i := range b.Corner {
		if s := b.Corner[i].Spring; s == nil || !s.Free.Known() || !s.Rate.Known() {
			return said + "the rate and free length of its own springs are not both known, so that no other can be set against them; measure them, or start from another build"
		}
	}
	return said + "no spring that is sold or in the catalogue fits it"
}

// Search finds builds for the brief.
func (d *Desk) Search(ctx context.Context, job *jobfile.Job, ask SearchAsk) (*SearchFound, error) {
	var in *SearchInputs
	var driven *drives.Driven
	if ask.Hands != nil && job != nil {
		var err error
		if in, err = d.inputs(ctx, job, ask); err != nil {
			return nil, err
		}
		if driven, err = ask.Hands.Base(ctx, in); err != nil {
			return nil, err
		}
	}
	p, err := d.prepare(ctx, job, &ask, driven)
	if err != nil {
		return nil, err
	}
	done, err := d.searching.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	var crew search.Crew
	if in != nil {
		var leave func()
		if crew, leave, err = d.crew(ctx, p, in, ask.Hands); err == nil {
			defer leave()
		}
	}
	if err == nil {
		p.found.Found, err = search.FindBy(ctx, crew, p.base.Answer, p.space, p.must, p.opt, ask.Tell)
	}
	if errors.Is(err, search.ErrNoRoads) {
		return nil, absent("the brief names no road with a speed: there is nothing to compare comfort on; enter one under brief.roads")
	}
	if err != nil {
		return nil, err
	}
	p.found.Build = buildOf(p.base.Job, p.build)
	return p.found, nil
}

// errOtherCatalogue is returned where a part was saved between two looks at the catalogue.
var errOtherCatalogue = errors.New("the catalogue was changed in this moment; search again")

// inputs are what a search is made ready of, but for the base.
func (d *Desk) inputs(ctx context.Context, job *jobfile.Job, ask SearchAsk) (*SearchInputs, error) {
	draws, seed := or(ask.Draws, searchDraws), or(ask.Seed, Seed)
	ask.Draws, ask.Seed = &draws, &seed
	text, err := json.Marshal(ask)
	if err != nil {
		return nil, err
	}
	in := &SearchInputs{Ask: text, Text: job.Text}
	in.Catalogue, err = d.stock.parts(ctx)
	return in, err
}

// crew begins a search whose pieces are handed out.
func (d *Desk) crew(ctx context.Context, p *prepared, in *SearchInputs, hands Hands) (search.Crew, func(), error) {
	now, err := d.stock.parts(ctx)
	if err != nil {
		return nil, nil, err
	}
	if markOf(now) != markOf(in.Catalogue) || markOf(now) != d.stock.now() {
		return nil, nil, errOtherCatalogue
	}
	ready, err := search.NewReady(p.base.Answer, p.space, p.must, p.opt)
	if err != nil {
		return nil, nil, err
	}
	driven := drives.Of(p.base.Answer)
	in.Base = &driven
	return hands.Crew(ctx, in, ready)
}

func buildOf(job *jobfile.Job, id string) *car.Build {
	i := slices.IndexFunc(job.Builds, func(b *car.Build) bool { return b.ID == id })
	if i < 0 {
		return nil
	}
	return job.Builds[i]
}

// startOf is the build that a search starts from.
func startOf(job *jobfile.Job, id string) (string, error) {
	if id != "" {
		return id, known(job, []string{id}, nil)
	}
	reference := job.Brief.Reference
	if reference == "" {
		reference = job.Car.Weighed.Build
	}
	last := ""
	for _, b := range job.Builds {
		if b.ID == reference {
			continue
		}
		last = b.ID
		for i := range b.Corner {
			if scales.AdjusterOf(b.Corner[i].Platform).Kind != scales.Fixed {
				return b.ID, nil
			}
		}
	}
	if last == "" {
		last = reference
	}
	return last, nil
}

// changed are what a search may leave as fitted, by name.
var changed = map[string]func(*search.May) *bool{
	"springs": func(m *search.May) *bool { return &m.Springs }, "helpers": func(m *search.May) *bool { return &m.Helpers },
	"dampers": func(m *search.May) *bool { return &m.Dampers },
	"heights": func(m *search.May) *bool { return &m.Heights }, "stops": func(m *search.May) *bool { return &m.Stops },
	"packers": func(m *search.May) *bool { return &m.Packers }, "clicks": func(m *search.May) *bool { return &m.Clicks },
	"bars": func(m *search.May) *bool { return &m.Bars },
}

func (a *SearchAsk) may() (search.May, error) {
	may := search.Everything()
	for _, list := range a.Keep {
		for what := range strings.SplitSeq(list, ",") {
			set := changed[strings.TrimSpace(what)]
			if set == nil {
				return may, bad("keep", "is of springs, helpers, dampers, heights, stops, packers, clicks and bars, not %q", what)
			}
			*set(&may) = false
		}
	}
	return may, nil
}

func (a *SearchAsk) must() (search.Must, error) {
	m := search.UsualMust()
	for axle, typed := range []string{a.FrontLower, a.RearLower} {
		v, err := length([]string{"front-lower", "rear-lower"}[axle], typed, math.NaN())
		if err != nil {
			return m, err
		}
		m.Lower[axle] = v
	}
	if a.Budget != "" {
		v, err := quantity.Parse(a.Budget, quantity.Price)
		if err != nil {
			return m, bad("budget", "%s: %w", a.Budget, err)
		}
		m.Budget = v.Value
	}
	codes := finding.Codes()
	for _, list := range a.Without {
		for code := range strings.SplitSeq(list, ",") {
			if code = strings.TrimSpace(code); !slices.Contains(codes, code) {
				return m, bad("without", "is the code of a finding, such as %s, not %q", codes[0], code)
			}
			m.Without = append(m.Without, code)
		}
	}
	return m, nil
}

func (a *SearchAsk) options() (search.Options, error) {
	opt := search.Usual()
	more, ok := efforts[cmp.Or(a.Effort, "usual")]
	if !ok {
		return opt, bad("effort", "is quick, usual or thorough, not %q", a.Effort)
	}
	for _, n := range []*int{&opt.Standing, &opt.Kept, &opt.Rested, &opt.Driven, &opt.Longer, &opt.Finalists} {
		*n = max(3, int(more*float64(*n)))
	}
	opt.Seed, opt.Workers, opt.Draws, opt.Lanes = or(a.Seed, Seed), or(a.Workers, Workers()), or(a.Draws, searchDraws), a.drive().Lanes
	return opt, nil
}

// shop is the catalogue with its prices and those of the job's own parts, all in the
// currency of the budget, else of the first that has one.
func (f *SearchFound) shop(stock car.Stock, budget string) search.Shop {
	if v, err := quantity.Parse(budget, quantity.Price); budget != "" && err == nil {
		f.Currency = v.Unit
	}
	var typed []string
	for _, s := range stock.Springs {
		typed = append(typed, s.Price)
	}
	for _, d := range stock.Dampers {
		typed = append(typed, d.Price)
	}
	for _, s := range stock.Stops {
		typed = append(typed, s.Price)
	}
	for _, b := range f.Job.Builds {
		for i := range b.Corner {
			c := &b.Corner[i]
			if c.Spring != nil {
				typed = append(typed, c.Spring.Price)
			}
			if c.Damper != nil {
				typed = append(typed, c.Damper.Price)
			}
			if c.Stop != nil {
				typed = append(typed, c.Stop.Price)
			}
		}
	}
	for _, price := range typed {
		if v, err := quantity.Parse(price, quantity.Price); f.Currency == "" && price != "" && err == nil {
			f.Currency = v.Unit
		}
	}
	return search.Shop{Stock: stock, Price: func(price string) float64 {
		v, err := quantity.Parse(price, quantity.Price)
		if price == "" || err != nil || v.Unit != f.Currency {
			return math.NaN()
		}
		return v.Value
	}}
}

// Edits are a build that was found as a new build of the job's text beside the one that was
// started from.
func (f *SearchFound) Edits(k int, name string) []jobfile.Edit {
	to := f.Build.ID + "-found"
	for n := 2; buildOf(f.Job, to) != nil; n++ {
		to = fmt.Sprintf("%s-found-%d", f.Build.ID, n)
	}
	out := []jobfile.Edit{{Path: "builds." + to, CopyOf: f.Build.ID, Name: name}}
	return append(out, jobfile.Alter(f.Job.Text, f.Build, f.Found.Builds[k].Build, to)...)
}

// Teller is what the sentences of what was found are made of.
func (f *SearchFound) Teller(system quantity.System) *wording.Search {
	return &wording.Search{Teller: wording.New(f.Found.Study, system), Found: f.Found, From: f.Build, Currency: f.Currency}
}

// Document is what was found, for programs.
func (f *SearchFound) Document(program string, system quantity.System) *answer.Search {
	return answer.NewSearch(program, f.Job.SHA256, f.Teller(system), f.Edits)
}
