// Package find lays out what the page Find a build shows of a search: the funnel, the
// plans, the trade-off picture.
//
// In: what was found. Out: texts in the units asked for, and figures to draw. It searches
// nothing.
package find

import (
	"math"

	"trunnion/chassis/search"
	"trunnion/shop/answer"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// Request is a job with edits, and what may change and must hold.
type Request struct {
	view.TryRequest
	Build      string   `json:"build,omitempty" maxLength:"100"`
	Keep       []string `json:"keep,omitempty" maxItems:"8" doc:"what stays as fitted"`
	Without    []string `json:"without,omitempty" maxItems:"100" doc:"findings that may be broken, by code"`
	FrontLower string   `json:"frontLower,omitempty" maxLength:"60"`
	RearLower  string   `json:"rearLower,omitempty" maxLength:"60"`
	Budget     string   `json:"budget,omitempty" maxLength:"60"`
	Effort     string   `json:"effort,omitempty" enum:"quick,usual,thorough"`
}

// Ask is the question of the desk.
func (r *Request) Ask() desk.SearchAsk {
	return desk.SearchAsk{Build: r.Build, Keep: r.Keep, Without: r.Without, FrontLower: r.FrontLower, RearLower: r.RearLower, Budget: r.Budget, Effort: r.Effort}
}

// Search is a search of a job: under way, or with what it found.
type Search struct {
	ID    string  `json:"id"`
	Job   string  `json:"job"`
	State string  `json:"state" enum:"running,done,failed,cancelled"`
	Step  string  `json:"step" doc:"what is being done, in words"`
	Done  int     `json:"done"`
	Total int     `json:"total"`
	Said  string  `json:"said" doc:"why there is no answer"`
	Asked Request `json:"asked" doc:"without the job's text"`
	View  *View   `json:"view,omitempty"`
}

// View is what was found.
type View struct {
	Found    *answer.Search `json:"found"`
	Picture  view.Chart     `json:"picture" doc:"comfort against control"`
	Lowering view.Chart     `json:"lowering" doc:"comfort against height"`
	Plans    []Plan         `json:"plans"`
}

// Plan is a plan as its card shows it.
type Plan struct {
	Name    string   `json:"name"`
	Build   string   `json:"build"`
	Price   string   `json:"price"`
	Hours   string   `json:"hours"`
	Figures []Figure `json:"figures"`
}

// Figure is one of a card's figures.
type Figure struct {
	Label string `json:"label"`
	Text  string `json:"text"`
	High  string `json:"high" doc:"what 95 draws in 100 keep to; empty where no draw was made"`
}

// Of lays out what was found.
func Of(f *desk.SearchFound, program string, system quantity.System) *View {
	t := f.Teller(system)
	v := &View{Found: f.Document(program, system), Plans: []Plan{}}
	for k := range f.Found.Plans {
		p := &f.Found.Plans[k]
		b := &f.Found.Builds[p.Build]
		one := Plan{Name: wording.PlanName(p), Build: b.Build.ID, Price: t.Aim(search.Price, b.Figures[search.Price]), Hours: t.Aim(search.Hours, b.Figures[search.Hours]), Figures: []Figure{}}
		for _, aim := range []int{search.Comfort, search.Control, search.Grip, search.Stance} {
			fig := Figure{Label: wording.AimName(aim), Text: t.Aim(aim, b.Figures[aim])}
			if aim != search.Stance && b.High[aim] != b.Figures[aim] { //nolint:floateq // drawn or not
				fig.High = t.Aim(aim, b.High[aim])
			}
			one.Figures = append(one.Figures, fig)
		}
		v.Plans = append(v.Plans, one)
	}
	v.Picture = picture(f.Found, t, search.Comfort, search.Control)
	v.Picture.ID, v.Picture.Title, v.Picture.Note = "comfort-against-control", "Comfort against control", "Left is softer, down settles sooner."
	v.Lowering = picture(f.Found, t, search.Stance, search.Comfort)
	v.Lowering.ID, v.Lowering.Title, v.Lowering.Note = "comfort-against-height", "What lowering costs", "Left is lower, down is softer."
	return v
}

// picture sets all builds against each other in two aims: those that hold everything,
// those that do not, the job's own, and each plan.
func picture(f *search.Found, t *wording.Search, x, y int) view.Chart {
	c := view.Chart{Kind: "points", X: axis(t, x), Y: axis(t, y)}
	add := func(name string, list []*search.Build) {
		s := view.Series{Name: name}
		for _, b := range list {
			if at, up := shown(t, x, b.Figures[x]), shown(t, y, b.Figures[y]); !math.IsNaN(at) && !math.IsNaN(up) {
				s.X, s.Y = append(s.X, at), append(s.Y, up)
			}
		}
		if len(s.X) > 0 {
			c.Series = append(c.Series, s)
		}
	}
	plans := map[int]bool{}
	for k := range f.Plans {
		plans[f.Plans[k].Build] = true
	}
	var holds, short, present []*search.Build
	for k := range f.Builds {
		b := &f.Builds[k]
		switch {
		case plans[k] || x == search.Stance && !b.Drawn && b.Figures[search.Stance] == 0: //nolint:floateq // not computed
		case len(b.Short) == 0:
			holds = append(holds, b)
		default:
			short = append(short, b)
		}
	}
	for k := range f.Present {
		present = append(present, &f.Present[k])
	}
	add("holds everything", holds)
	add("lacks something", short)
	add("the job's builds", present)
	for k := range f.Plans {
		add("plan "+string(rune('1'+k))+", "+wording.Lower(wording.PlanName(&f.Plans[k])), []*search.Build{&f.Builds[f.Plans[k].Build]})
	}
	return c
}

// units of the aims that are drawn.
var units = map[int]quantity.Kind{search.Comfort: quantity.Acceleration, search.Control: quantity.Share, search.Stance: quantity.Length}

func axis(t *wording.Search, aim int) view.Axis {
	label := wording.AimName(aim)
	return view.Axis{Label: wording.Upper(label), Unit: quantity.Shown(units[aim], unitsOf(t, aim)).Label(), Tight: true}
}

// unitsOf is the system an aim is drawn in: accelerations of the floor are in metres a
// second squared everywhere, as the standard has them.
func unitsOf(t *wording.Search, aim int) quantity.System {
	if aim == search.Comfort {
		return quantity.Metric
	}
	return t.System
}

func shown(t *wording.Search, aim int, v float64) float64 {
	if math.IsNaN(v) {
		return v
	}
	return view.Tidy(quantity.Shown(units[aim], unitsOf(t, aim)).FromSI(v))
}
