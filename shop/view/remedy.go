package view

import (
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// Edits are a remedy as changes of the job that can be tried with one touch. The
// build that the car was weighed with is copied first: what is changed in it would
// change what the scales are read by.
func (s *Trial) Edits(f *finding.Finding, r *finding.Remedy) []jobfile.Edit {
	build := f.Value.Place.Build
	if build == s.Answer.Job.Car.Weighed.Build {
		return s.asCopy(build, r.Build, "tried")
	}
	return s.changes(build, build, r.Build)
}

// PlanEdits are a plan as a build of its own beside the one it is about.
func (s *Trial) PlanEdits(p *remedy.Plan) []jobfile.Edit {
	if len(p.Steps) == 0 {
		return []jobfile.Edit{}
	}
	return s.asCopy(p.Build, p.Made, "plan")
}

// asCopy are the edits of a copy of a build, made as another.
func (s *Trial) asCopy(build string, made *car.Build, kind string) []jobfile.Edit {
	to := build + "-" + kind
	for n := 2; slices.ContainsFunc(s.Answer.Job.Builds, func(b *car.Build) bool { return b.ID == to }); n++ {
		to = build + "-" + kind + "-" + strconv.Itoa(n)
	}
	name := s.Teller.Build(build) + map[string]string{"plan": ", with its plan", "tried": ", tried"}[kind]
	out := []jobfile.Edit{{Path: "builds." + to, CopyOf: build, Name: name}}
	return append(out, s.changes(build, to, made)...)
}

// changes are the edits that make one build of a job another: where both sides of an
// axle change alike at the axle, else at each side.
func (s *Trial) changes(build, to string, made *car.Build) []jobfile.Edit {
	out := []jobfile.Edit{}
	i := slices.IndexFunc(s.Answer.Job.Builds, func(b *car.Build) bool { return b.ID == build })
	if i < 0 || made == nil {
		return out
	}
	was := s.Answer.Job.Builds[i]
	put := func(path, value string) {
		out = append(out, jobfile.Edit{Path: "builds." + to + "." + path, Value: Ref(value)})
	}
	for axle := range 2 {
		l, r := 2*axle, 2*axle+1
		left, right := partEdits(&was.Corner[l], &made.Corner[l]), partEdits(&was.Corner[r], &made.Corner[r])
		name := car.AxleNames[axle]
		if slices.Equal(left, right) && was.Corner[l].Spring == was.Corner[r].Spring && was.Corner[l].Damper == was.Corner[r].Damper && was.Corner[l].Stop == was.Corner[r].Stop {
			for _, e := range left {
				for _, path := range jobfile.BothSides(s.Text, "builds."+build+"."+name+"."+e.key) {
					put(strings.TrimPrefix(path, "builds."+build+"."), e.value)
				}
			}
		} else {
			for side, list := range [][]partEdit{left, right} {
				for _, e := range list {
					put(name+"."+car.SideNames[side]+"."+e.key, e.value)
				}
			}
		}
		if hole := made.Setup.BarHole[axle]; hole != was.Setup.BarHole[axle] {
			put("setup.bar_hole."+name, hole)
		}
		a, b := &made.Setup, &was.Setup
		if a.Click[l] == a.Click[r] && b.Click[l] == b.Click[r] {
			if a.Click[l] != b.Click[l] {
				put("setup.click."+name, strconv.Itoa(a.Click[l]))
			}
			continue
		}
		for k := l; k <= r; k++ {
			if a.Click[k] != b.Click[k] {
				put("setup.click."+cornerKey(k), strconv.Itoa(a.Click[k]))
			}
		}
	}
	for k := range 4 {
		for _, set := range []struct {
			key     string
			was, is *figure.Input
		}{
			{"platform", &was.Setup.Platform[k], &made.Setup.Platform[k]},
			{"body_length", &was.Setup.BodyLength[k], &made.Setup.BodyLength[k]},
			{"heights", &was.Setup.WantedHeight[k], &made.Setup.WantedHeight[k]},
		} {
			if set.was.Value != set.is.Value { //nolint:floateq // changed or not
				put("setup."+set.key+"."+cornerKey(k), typedLength(set.is.Value))
			}
		}
	}
	return out
}

func cornerKey(i int) string { return strings.ReplaceAll(figure.CornerNames[i], "-", "_") }

// partEdit is a value under a corner of a build.
type partEdit struct{ key, value string }

// partEdits are the edits of a corner's parts.
func partEdits(was, is *car.BuildCorner) []partEdit {
	var out []partEdit
	// A part of the list is named; one that was written in its place is changed there.
	part := func(key, id, old string, changes []partEdit) {
		switch {
		case id != old:
			out = append(out, partEdit{key, id})
		case strings.Contains(id, "."):
			for _, c := range changes {
				out = append(out, partEdit{key + "." + c.key, c.value})
			}
		case len(changes) > 0:
			piece := "{use: " + id
			for _, c := range changes {
				piece += ", " + c.key + ": " + c.value
			}
			out = append(out, partEdit{key, piece + "}"})
		}
	}
	if a, b := was.Spring, is.Spring; a != b && a != nil && b != nil {
		var c []partEdit
		if a.Rate.Value != b.Rate.Value { //nolint:floateq // changed or not
			c = append(c, partEdit{"rate", originWord(&b.Rate) + TrimZeros(quantity.Shown(quantity.Stiffness, quantity.Metric).Number(b.Rate.Value, 3)) + " N/mm"})
		}
		if a.Free.Value != b.Free.Value { //nolint:floateq // changed or not
			c = append(c, partEdit{"free", originWord(&b.Free) + typedLength(b.Free.Value)})
		}
		part("spring", b.ID, a.ID, c)
	}
	if b := is.Helper; was.Helper == nil && b != nil {
		out = append(out, partEdit{"helper", "{rate: " + TrimZeros(quantity.Shown(quantity.Stiffness, quantity.Metric).Number(b.Rate.Value, 3)) + " N/mm ± 0 %, free: " +
			typedLength(b.Free.Value) + " ± 0 mm, block: " + typedLength(b.Block.Value) + " ± 0 mm}"})
	}
	if a, b := was.Damper, is.Damper; a != b && a != nil && b != nil {
		var c []partEdit
		for _, x := range []struct {
			key     string
			was, is *figure.Input
		}{{"open", &a.Open, &b.Open}, {"closed", &a.Closed, &b.Closed}, {"rod_showing_open", &a.RodOpen, &b.RodOpen}} {
			if x.was.Value != x.is.Value { //nolint:floateq // changed or not
				c = append(c, partEdit{x.key, originWord(x.is) + typedLength(x.is.Value)})
			}
		}
		if a.Scale.Value != b.Scale.Value { //nolint:floateq // changed or not
			c = append(c, partEdit{"scale", strconv.FormatFloat(b.Scale.Value, 'f', 3, 64)})
		}
		part("damper", b.ID, a.ID, c)
	}
	if a, b := was.Stop, is.Stop; a != b && a != nil && b != nil {
		var c []partEdit
		if a.Length.Value != b.Length.Value { //nolint:floateq // changed or not
			crush, force := make([]float64, len(b.Table)), make([]float64, len(b.Table))
			for i, p := range b.Table {
				crush[i], force[i] = p.X, p.F
			}
			c = []partEdit{{"length", originWord(&b.Length) + typedLength(b.Length.Value)}, {"crush", typedRow(crush, quantity.Length)}, {"force", typedRow(force, quantity.Force)}}
		}
		part("stop", b.ID, a.ID, c)
	}
	if was.Packer.Value != is.Packer.Value { //nolint:floateq // changed or not
		out = append(out, partEdit{"packer", typedLength(is.Packer.Value)})
	}
	if was.Friction != is.Friction && is.Friction.Typed != "" {
		out = append(out, partEdit{"friction", is.Friction.Typed})
	}
	return out
}

// originWord is the word before a value that says whose it is.
func originWord(in *figure.Input) string {
	switch in.Origin {
	case figure.Makers:
		return "maker "
	case figure.Estimated:
		return "est "
	case figure.Measured, figure.Chosen, figure.Computed, figure.Solved, figure.Constant:
	}
	return ""
}

// typedLength is a length as a job holds it, to the thousandth: what was computed
// with is what is typed.
func typedLength(metres float64) string {
	return TrimZeros(quantity.Shown(quantity.Length, quantity.Metric).Number(metres, 3)) + " mm"
}

// typedRow writes a row of a table as a job holds it, in metric units, to the
// hundredth: a row is no figure for people.
func typedRow(list []float64, kind quantity.Kind) string {
	u := quantity.Shown(kind, quantity.Metric)
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = TrimZeros(u.Number(v, 2))
	}
	if len(words) > 0 {
		words[len(words)-1] += " " + u.Label()
	}
	return "[" + strings.Join(words, ", ") + "]"
}

func Ref(text string) *string { return &text }
