package desk

import (
	"slices"
	"strconv"

	"trunnion/chassis/car"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/shop/jobfile"
)

// RemedyEdits are a remedy as changes of the job that can be tried with one touch. The
// build that the car was weighed with is copied first: what is changed in it would
// change what the scales are read by.
func (t *Trial) RemedyEdits(f *finding.Finding, r *finding.Remedy) []jobfile.Edit {
	build := f.Value.Place.Build
	if build == t.Answer.Job.Car.Weighed.Build {
		return t.asCopy(build, r.Build, "tried", ", tried")
	}
	return jobfile.Alter(t.Text, t.build(build), r.Build, build)
}

// PlanEdits are a plan as a build of its own beside the one it is about.
func (t *Trial) PlanEdits(p *remedy.Plan) []jobfile.Edit {
	if len(p.Steps) == 0 {
		return []jobfile.Edit{}
	}
	return t.asCopy(p.Build, p.Made, "plan", ", with its plan")
}

// asCopy are the edits of a copy of a build, made as another.
func (t *Trial) asCopy(build string, made *car.Build, kind, called string) []jobfile.Edit {
	to := build + "-" + kind
	for n := 2; t.build(to) != nil; n++ {
		to = build + "-" + kind + "-" + strconv.Itoa(n)
	}
	out := []jobfile.Edit{{Path: "builds." + to, CopyOf: build, Name: t.Teller.Build(build) + called}}
	return append(out, jobfile.Alter(t.Text, t.build(build), made, to)...)
}

// build is a build of the job by its id; nil for none.
func (t *Trial) build(id string) *car.Build {
	i := slices.IndexFunc(t.Answer.Job.Builds, func(b *car.Build) bool { return b.ID == id })
	if i < 0 {
		return nil
	}
	return t.Answer.Job.Builds[i]
}
