package answer

import (
	"io"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/search"
	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

// SearchFormat names the contract of builds that were found.
const SearchFormat = "trunnion.search/1"

// Search is trunnion.search/1: builds found for a brief, three plans among them, what
// stands in the way where nothing holds everything, and how many candidates each step let
// through.
type Search struct {
	Format     string         `json:"format"`
	Program    string         `json:"program"`
	JobSHA256  string         `json:"job_sha256"`
	Build      string         `json:"build"` // that was started from
	Title      string         `json:"title"`
	Currency   string         `json:"currency"`
	Candidates float64        `json:"candidates"` // [-]
	MayChange  []SearchChange `json:"may_change"`
	Steps      []SearchStep   `json:"steps"`
	MustHold   []SearchMust   `json:"must_hold"`
	Sought     []string       `json:"sought"` // aims that were set against each other
	Blocked    string         `json:"blocked"`
	BlockedBy  string         `json:"blocked_by"`
	Gives      []SearchGive   `json:"gives"`
	Plans      []SearchPlan   `json:"plans"`
	Builds     []SearchBuild  `json:"builds"`
	Present    []SearchBuild  `json:"present"`
	Screening  []SearchError  `json:"screening_errors"`
	Basis      string         `json:"basis"`
}

// SearchChange is what may be chosen at an axle, by how many.
type SearchChange struct {
	Axle    string `json:"axle"`
	Springs int    `json:"springs"`
	Dampers int    `json:"dampers"`
	Heights int    `json:"heights"`
	Stops   int    `json:"stops"`
	Packers int    `json:"packers"`
	Clicks  int    `json:"clicks"` // of the damper that has most
	Holes   int    `json:"bar_holes"`
}

// SearchStep is a step of the search.
type SearchStep struct {
	Code   string  `json:"code"`
	Name   string  `json:"name"`
	Tried  float64 `json:"tried"`    // [-]
	Looked int     `json:"computed"` // [-]
	Hold   float64 `json:"hold"`     // [-]
	On     int     `json:"go_on"`    // [-]
	Came   string  `json:"came"`
	Held   string  `json:"held"`
}

// SearchMust is a limit with the share of the candidates that it removes on its own.
type SearchMust struct {
	Code    string  `json:"code"`
	Says    string  `json:"says"`
	Share   float64 `json:"share"` // [-]
	Removes string  `json:"removes"`
}

// SearchGive is what could be given up.
type SearchGive struct {
	Codes  []string `json:"codes"`
	Says   string   `json:"says"`
	Builds int      `json:"builds"` // that lack nothing else [-]
	Build  string   `json:"build"`  // that needs least of it
}

// SearchPlan is a build worth proposing.
type SearchPlan struct {
	Kinds   []string `json:"kinds"`
	Name    string   `json:"name"`
	Build   string   `json:"build"`
	Why     string   `json:"why"`
	GivesUp []string `json:"gives_up"`
}

// SearchBuild is a build that was found, or one of the job's own judged alike.
type SearchBuild struct {
	ID      string         `json:"id"`
	Name    string         `json:"name"`
	Drawn   bool           `json:"drawn"` // it went through the whole study
	Holds   bool           `json:"holds"`
	Front   string         `json:"front"`
	Rear    string         `json:"rear"`
	Aims    []SearchAim    `json:"aims"`
	Heights string         `json:"heights"`
	Room    []string       `json:"room"`
	Short   []SearchShort  `json:"short"`
	Edits   []jobfile.Edit `json:"edits,omitempty"` // that put it into the job
}

// SearchAim is what a build is worth in one thing.
type SearchAim struct {
	Code  string   `json:"code"`
	Name  string   `json:"name"`
	Value *float64 `json:"value"` // [SI]
	High  *float64 `json:"high"`  // what 95 draws in 100 keep to [SI]
	Text  string   `json:"text"`
}

// SearchShort is a limit that a build does not keep.
type SearchShort struct {
	Code        string   `json:"code"`
	Axle        int      `json:"axle"`
	Load        string   `json:"load"`
	Value       *float64 `json:"value"`       // [SI]
	Limit       *float64 `json:"limit"`       // [SI]
	Need        *float64 `json:"need"`        // by which the limit would have to give [SI]
	Probability float64  `json:"probability"` // [-]
	Says        string   `json:"says"`
}

// SearchError is how far the spectrum's estimate is from the drive, over the candidates
// that went through both.
type SearchError struct {
	Code  string  `json:"code"`
	Name  string  `json:"name"`
	Pairs int     `json:"pairs"`
	Mean  float64 `json:"mean"`  // of the error, as a share [-]
	Worst float64 `json:"worst"` // of its size, as a share [-]
	Rank  float64 `json:"rank"`  // rank correlation of both [-]
}

// WriteJSON writes the document.
func (d *Search) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewSearch makes the document. edits are those that put the build of a number into the
// job.
func NewSearch(program, sha256 string, t *wording.Search, edits func(k int, name string) []jobfile.Edit) *Search {
	f := t.Found
	d := &Search{
		Format: SearchFormat, Program: program, JobSHA256: sha256, Build: t.From.ID, Currency: t.Currency, Candidates: f.Space.Size(), Title: t.SearchTitle(t.Build(t.From.ID)),
		MayChange: []SearchChange{}, Steps: []SearchStep{}, MustHold: []SearchMust{}, Sought: []string{}, Gives: []SearchGive{}, Plans: []SearchPlan{}, Builds: []SearchBuild{}, Present: []SearchBuild{},
		Screening: screeningErrors(f.Screened), Basis: t.SearchBasis(),
	}
	for axle := range 2 {
		x := &f.Space.Axle[axle]
		d.MayChange = append(d.MayChange, SearchChange{car.AxleNames[axle], len(x.Springs), len(x.Dampers), len(x.Heights), len(x.Stops), len(x.Packers), x.Clicks(), len(x.Holes)})
	}
	for k := range f.Steps {
		s := &f.Steps[k]
		name, came, held := wording.SearchStep(s)
		d.Steps = append(d.Steps, SearchStep{s.Name, name, s.Tried, s.Looked, s.Hold, s.On, came, held})
	}
	for k := range f.Removed {
		r := &f.Removed[k]
		d.MustHold = append(d.MustHold, SearchMust{r.Code, t.SearchLimit(r), r.Share, wording.Removes(r.Share)})
	}
	for _, aim := range f.Sought {
		d.Sought = append(d.Sought, search.Aims[aim])
	}
	d.Blocked, d.BlockedBy = t.Blocked()
	for k := range f.Gives {
		g := &f.Gives[k]
		d.Gives = append(d.Gives, SearchGive{g.Codes(), t.GiveSaid(g), g.Builds, f.Builds[g.Build].Build.ID})
	}
	names := map[int]string{}
	for k := range f.Plans {
		p := &f.Plans[k]
		names[p.Build] = wording.PlanName(p)
		d.Plans = append(d.Plans, SearchPlan{p.Kinds, wording.PlanName(p), f.Builds[p.Build].Build.ID, t.Why(p), t.GivesUp(p)})
	}
	for k := range f.Builds {
		one := searchBuild(t, &f.Builds[k])
		if one.Name = names[k]; one.Name == "" {
			one.Name = wording.FoundName(k)
		}
		if edits != nil && f.Builds[k].Drawn {
			one.Edits = edits(k, one.Name)
		}
		d.Builds = append(d.Builds, one)
	}
	for k := range f.Present {
		one := searchBuild(t, &f.Present[k])
		one.Name, one.Front, one.Rear = t.Build(one.ID), "", ""
		d.Present = append(d.Present, one)
	}
	return d
}

func searchBuild(t *wording.Search, b *search.Build) SearchBuild {
	out := SearchBuild{
		ID: b.Build.ID, Drawn: b.Drawn, Holds: len(b.Short) == 0, Front: t.PartsSaid(b.Build, car.Front), Rear: t.PartsSaid(b.Build, car.Rear),
		Aims: []SearchAim{}, Room: t.Room(b), Short: []SearchShort{},
	}
	if b.Drawn {
		out.Heights = t.Heights(b)
	}
	for aim := range b.Figures {
		out.Aims = append(out.Aims, SearchAim{search.Aims[aim], wording.AimName(aim), Finite(b.Figures[aim]), Finite(b.High[aim]), t.Aim(aim, b.Figures[aim])})
	}
	for k := range b.Short {
		s := &b.Short[k]
		out.Short = append(out.Short, SearchShort{s.Code, s.Axle, s.Place.Load, Finite(s.Value), Finite(s.Limit), Finite(s.Need), s.Probability, t.ShortSaid(s)})
	}
	return out
}

// screeningErrors set the spectrum's estimates against the drives.
func screeningErrors(list []search.Pair) []SearchError {
	out := []SearchError{}
	for _, aim := range []int{search.Comfort, search.Control, search.Grip} {
		e := SearchError{Code: search.Aims[aim], Name: wording.AimName(aim)}
		var x, y []float64
		for k := range list {
			a, b := list[k].Screened[aim], list[k].Driven[aim]
			if math.IsNaN(a) || !(b > 0) {
				continue
			}
			x, y = append(x, a), append(y, b)
			e.Mean += a/b - 1
			e.Worst = math.Max(e.Worst, math.Abs(a/b-1))
		}
		if e.Pairs = len(x); e.Pairs > 1 {
			e.Mean /= float64(e.Pairs)
			e.Rank = search.RankCorrelation(x, y)
			out = append(out, e)
		}
	}
	return out
}
