package desk

import (
	"cmp"
	"context"
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/symptom"
	"trunnion/shop/wording"
)

// symptomDrives is how many samples of a road stand behind a symptom's drives:
// enough to rank by, and quick. Chosen.
const symptomDrives = 2

// SymptomAsk is what an owner says of the build that is on the car.
type SymptomAsk struct {
	When    string `help:"When it happens, in words: full load, braking, motorway." json:"when,omitempty" maxLength:"1000" placeholder:"WORDS"`
	Build   string `help:"The build that is on the car, by id; needed where there are several." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Load    string `help:"Load state, by id; else what the words say, else the usual one." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Symptom string `help:"A row of the table, by its id, instead of words." json:"symptom,omitempty" maxLength:"100" placeholder:"ID"`
	Most    *int   `help:"How many causes; 3 without it." json:"most,omitempty" maximum:"20" minimum:"1" placeholder:"N"`
	Settings
}

// mostCauses is how many causes may be asked for.
const mostCauses = 20

// Symptomatic is what may be behind what an owner says.
type Symptomatic struct {
	*Result
	Asked *symptom.Asked
}

// Symptom proposes what may be behind an owner's words, by the rules.
func (d *Desk) Symptom(ctx context.Context, job *jobfile.Job, rules *symptom.Rules, words string, system quantity.System, ask SymptomAsk) (*Symptomatic, error) {
	s := &ask.Settings
	if ask.Most != nil && (*ask.Most < 1 || *ask.Most > mostCauses) {
		return nil, bad("most", "is 1 to %d", mostCauses)
	}
	if strings.TrimSpace(words) == "" && ask.Symptom == "" {
		return nil, absent("enter the owner's words, or --symptom")
	}
	if err := cmp.Or(s.check(), known(job, nil, []string{ask.Load})); err != nil {
		return nil, err
	}
	build, err := onCar(job, ask.Build)
	if err != nil {
		return nil, err
	}
	r, err := d.answer(ctx, symptomAsked(job, s))
	if err != nil {
		return nil, err
	}
	got, err := d.Proposals(ctx, r, rules, wording.New(r.Answer, system), symptom.Question{
		Words: words, When: ask.When, Build: build, Load: ask.Load, Symptom: ask.Symptom, Most: or(ask.Most, 0),
	})
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, absent("%w", err)
	}
	return &Symptomatic{Result: r, Asked: got}, nil
}

// Proposals looks a question up in a result: collars are levelled as Level has it.
func (d *Desk) Proposals(ctx context.Context, r *Result, rules *symptom.Rules, tell *wording.Teller, q symptom.Question) (*symptom.Asked, error) {
	q.BothSides = func(path string) []string { return jobfile.BothSides(r.Job.Text, path) }
	q.Level = func(build string) *scales.Plan {
		got, err := d.Level(ctx, r.Job, LevelAsk{Build: build}, nil)
		if err != nil || got.Stopped {
			return nil
		}
		return got.Plan
	}
	return rules.Ask(ctx, r.Answer, r.Findings, tell, q)
}

// onCar is the build that is on the car: the one named, or the only one.
func onCar(job *jobfile.Job, id string) (string, error) {
	if id != "" {
		return id, known(job, []string{id}, nil)
	}
	if len(job.Builds) == 1 {
		return job.Builds[0].ID, nil
	}
	var ids []string
	for _, b := range job.Builds {
		ids = append(ids, b.ID)
	}
	return "", absent("which build is on the car? --build is one of %s", strings.Join(ids, ", "))
}

// symptomAsked is what a symptom is looked up in: corners and short drives.
func symptomAsked(job *jobfile.Job, s *Settings) *asked {
	q := &asked{job: job, opt: s.options(Draws), shown: s.Progress}
	q.opt.NoWorkings, q.opt.NoRemedies = true, true
	ride := s.drive()
	ride.Samples, ride.Unchecked = symptomDrives, true
	q.drive = &ride
	return q
}
