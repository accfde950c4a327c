package desk

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

var errNotThere = errors.New("not there")

// catalogueFile is a workshop's list of springs, as a file holds it.
type catalogueFile string

func (c catalogueFile) StockedParts(context.Context) ([]jobfile.Stocked, error) {
	return jobfile.StockIn([]byte(c)), nil
}

func (c catalogueFile) StockedPart(_ context.Context, kind, slug string) (jobfile.Stocked, error) {
	for _, s := range jobfile.StockIn([]byte(c)) {
		if s.Kind == kind && s.Slug == slug {
			return s, nil
		}
	}
	return jobfile.Stocked{}, errNotThere
}

func (c catalogueFile) StockedPreset(context.Context, string) (jobfile.Stocked, error) {
	return jobfile.Stocked{}, errNotThere
}

// The rear springs of the uprated build, 60 N/mm and 250 mm, are loose at full droop and
// met by their stops on holiday.
const springs = `parts:
  springs:
    long-55: {rate: maker 55 N/mm, free: maker 282 mm, block: 95 mm, inside: 75 mm, price: 84.50 EUR}
    long-60: {rate: maker 60 N/mm, free: maker 268 mm, block: 95 mm, inside: 75 mm, price: 90 EUR}
    narrow-62: {rate: maker 62 N/mm, free: maker 265 mm, inside: 60 mm, price: 70 EUR}
    far-too-firm: {rate: maker 160 N/mm, free: maker 200 mm, inside: 75 mm}
    progressive: {rate: 55-80 N/mm, free: maker 270 mm, inside: 75 mm}
    unreadable: {rate: maker 60 mm, free: maker 270 mm}
`

// A plan is taken over as changes of the job's text: what the text then gives is what
// the plan promised, with springs as they are sold and with springs of the catalogue.
func TestPlanThroughItsEditsGivesWhatItPromised(t *testing.T) {
	inside := []string{"parts.springs.rear-60.inside", "75 mm"}
	for name, c := range map[string]struct {
		shelf   catalogueFile
		changes []string
	}{
		"as sold":           {"", nil},
		"of the catalogue":  {springs, inside},
		"unknown diameters": {catalogueFile(strings.ReplaceAll(springs, ", inside: 75 mm", "")), nil},
	} {
		t.Run(name, func(t *testing.T) { planned(t, c.shelf, demo(t, c.changes...)) })
	}
}

func planned(t *testing.T, shelf catalogueFile, job *jobfile.Job) {
	d := New("test")
	if shelf != "" {
		d.Buying(shelf)
	}
	try := func(text []byte) *Trial {
		tr, err := d.Try(t.Context(), Typed{Text: text}, Look{}, quantity.Metric)
		if err != nil || tr.Answer == nil {
			t.Fatal(err, tr.Faults)
		}
		return tr
	}
	was := try(job.Text)
	rows, bought := 0, 0
	for _, build := range []string{"arrived", "lower-old", "lower-uprated"} {
		p, err := remedy.For(t.Context(), was.Answer, build)
		if err != nil || p == nil {
			t.Fatal(err)
		}
		ed := &jobfile.Editor{Text: job.Text, System: quantity.Metric, Shelf: shelf}
		edits := was.PlanEdits(p)
		for _, e := range edits {
			ed.Apply(t.Context(), e)
		}
		if len(ed.Faults) > 0 {
			t.Fatal(ed.Faults)
		}
		made := build + "-plan"
		if len(edits) == 0 {
			continue
		}
		now := try(ed.Text)
		for i := range p.Rows {
			r := &p.Rows[i]
			if math.IsNaN(r.After) {
				continue
			}
			rows++
			place := r.PlaceAfter
			place.Build = made
			v := now.Answer.At(r.Judges, place)
			// A drive's step is that of the stiffest build of the job, and the text keeps a
			// thousandth of a millimetre.
			within := 2e-6 + 1e-4*math.Abs(r.After)
			if place.Event != "" || place.Road != "" {
				within = 5e-3 * math.Max(math.Abs(r.After), math.Abs(r.Before))
			}
			if v == nil || math.Abs(v.Value-r.After) > within {
				t.Errorf("%s: the plan promises %s of %.6g at %+v, its edits give %+v", build, r.Judges, r.After, r.PlaceAfter, v)
			}
		}
		for i := range p.Steps {
			r := &p.Steps[i]
			if r.Part == nil || r.Part.Stocked == "" {
				continue
			}
			bought++
			told := was.Teller.Change(r)
			if !strings.Contains(told, "of the catalogue") || !strings.Contains(told, "EUR each") || strings.Contains(told, "not known") != !r.Part.Inside.Known() {
				t.Errorf("%s: %q", build, told)
			}
			if s := r.Part.Called; r.Axle == 1 && s != "long-55" && s != "long-60" && (s != "narrow-62" || r.Part.Inside.Known() && build == "lower-uprated") {
				t.Errorf("%s takes %q, which does not fit", build, s)
			}
			work := was.Teller.Plan(p).Work
			if !strings.Contains(work, "2 × “"+r.Choice+"” at "+r.Part.Price) || !strings.Contains(work, "EUR together") {
				t.Errorf("the price is not said: %q", work)
			}
		}
	}
	if rows < 10 {
		t.Errorf("only %d rows of plans were held against what their edits give", rows)
	}
	if (bought > 0) != (shelf != "") {
		t.Errorf("%d springs of the catalogue were chosen", bought)
	}
}

// A remedy chooses from the catalogue by page and command alike, and another catalogue
// is another question.
func TestRemediesChooseFromTheCatalogue(t *testing.T) {
	job := demo(t, "parts.springs.rear-60.inside", "75 mm")
	few := 60
	d := New("test")
	count := func() (stocked, narrow int) {
		r, err := d.Assess(t.Context(), job, AssessAsk{Settings: Settings{Draws: &few}})
		if err != nil {
			t.Fatal(err)
		}
		tell := wording.New(r.Answer, quantity.Metric)
		for i := range r.Findings {
			for k := range r.Findings[i].Remedies {
				m := &r.Findings[i].Remedies[k]
				if m.Code != "stocked-spring" {
					continue
				}
				stocked++
				if m.Choice == "narrow-62" && m.Axle == 1 && m.Build.ID != "arrived" {
					narrow++
				}
				if m.Kind != finding.Spring || m.Part.Price == "" || m.Side != figure.NoCorner || !strings.Contains(tell.Change(m), m.Part.Price+" each") {
					t.Errorf("%s", tell.Change(m))
				}
			}
		}
		return stocked, narrow
	}
	if n, _ := count(); n != 0 {
		t.Errorf("%d springs of a catalogue that is not there", n)
	}
	d.Buying(catalogueFile(springs))
	if n, narrow := count(); n == 0 || narrow != 0 {
		t.Errorf("%d springs of the catalogue, %d of them too narrow for the seats", n, narrow)
	}
	if n := len(jobfile.ReadStock(jobfile.StockIn([]byte(springs))).Springs); n != 5 {
		t.Errorf("%d springs can be read, want 5", n)
	}
}
