package jobfile

import (
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// Alter are the edits that make the build of an id in a job's text, which stands as was,
// what another is: where both sides of an axle change alike at the axle, else at each
// side. to is the id that the build has when they are made: a copy's.
func Alter(text []byte, was, made *car.Build, to string) []Edit {
	out := []Edit{}
	if was == nil || made == nil {
		return out
	}
	put := func(path, value string) {
		out = append(out, Edit{Path: "builds." + to + "." + path, Value: &value})
	}
	fit := func(path string, e partEdit) {
		if e.stocked {
			out = append(out, Edit{Path: "builds." + to + "." + path, Part: e.value})
			return
		}
		put(path, e.value)
	}
	for axle := range 2 {
		l, r := 2*axle, 2*axle+1
		left, right := partEdits(&was.Corner[l], &made.Corner[l]), partEdits(&was.Corner[r], &made.Corner[r])
		name := car.AxleNames[axle]
		if slices.Equal(left, right) && was.Corner[l].Spring == was.Corner[r].Spring && was.Corner[l].Damper == was.Corner[r].Damper && was.Corner[l].Stop == was.Corner[r].Stop {
			for _, e := range left {
				for _, path := range BothSides(text, "builds."+was.ID+"."+name+"."+e.key) {
					fit(strings.TrimPrefix(path, "builds."+was.ID+"."), e)
				}
			}
		} else {
			for side, list := range [][]partEdit{left, right} {
				for _, e := range list {
					fit(name+"."+car.SideNames[side]+"."+e.key, e)
				}
			}
		}
		for _, e := range bushEdits(text, was, made, axle, to != was.ID) {
			put(e.key, e.value)
		}
		if hole := made.Setup.BarHole[axle]; hole != was.Setup.BarHole[axle] {
			put("setup.bar_hole."+name, hole)
		}
		a, b := &made.Setup, &was.Setup
		turned := func(i int) bool { return a.Click[i] != b.Click[i] || a.HasClick[i] && !b.HasClick[i] }
		if a.Click[l] == a.Click[r] && b.Click[l] == b.Click[r] {
			if turned(l) || turned(r) {
				put("setup.click."+name, strconv.Itoa(a.Click[l]))
			}
			continue
		}
		for k := l; k <= r; k++ {
			if turned(k) {
				put("setup.click."+cornerKeys[k], strconv.Itoa(a.Click[k]))
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
				put("setup."+set.key+"."+cornerKeys[k], typedLength(set.is.Value))
			}
		}
	}
	return out
}

// bushEdits say where the bushes of an axle are tightened, where the text does not: a
// copy of the build that was weighed is a build whose bushes are tightened where it rests.
func bushEdits(text []byte, was, made *car.Build, axle int, copied bool) []partEdit {
	var out []partEdit
	name := car.AxleNames[axle]
	l, r := 2*axle, 2*axle+1
	for i := l; i <= r; i++ {
		side := name + "." + car.SideNames[i&1] + ".bushes"
		have := was.Corner[i].BushTightened
		if _, none := Piece(text, "builds."+was.ID+"."+name+".bushes"); copied && none != nil {
			if _, none := Piece(text, "builds."+was.ID+"."+side); none != nil {
				have = "rest"
			}
		}
		if want := made.Corner[i].BushTightened; want != "" && want != have {
			out = append(out, partEdit{key: side, value: want})
		}
	}
	if len(out) == 2 && out[0].value == out[1].value {
		for _, path := range BothSides(text, "builds."+was.ID+"."+name+".bushes") {
			out = append(out, partEdit{key: strings.TrimPrefix(path, "builds."+was.ID+"."), value: out[0].value})
		}
		out = out[2:]
	}
	return out
}

// partEdit is a value under a corner of a build; stocked, the id of a part of the
// catalogue.
type partEdit struct {
	key, value string
	stocked    bool
}

// partEdits are the edits of a corner's parts.
func partEdits(was, is *car.BuildCorner) []partEdit {
	var out []partEdit
	// A part of the list is named; one that was written in its place is changed there.
	part := func(key, id, old string, changes []partEdit) {
		switch {
		case id != old:
			out = append(out, partEdit{key: key, value: id})
		case strings.Contains(id, "."):
			for _, c := range changes {
				out = append(out, partEdit{key: key + "." + c.key, value: c.value})
			}
		case len(changes) > 0:
			piece := "{use: " + id
			for _, c := range changes {
				piece += ", " + c.key + ": " + c.value
			}
			out = append(out, partEdit{key: key, value: piece + "}"})
		}
	}
	if a, b := was.Spring, is.Spring; b != nil && b.Stocked != "" && (a == nil || a.Stocked != b.Stocked) {
		out = append(out, partEdit{key: "spring", value: b.Stocked, stocked: true})
	} else if a != b && a != nil && b != nil {
		var c []partEdit
		if a.Rate.Value != b.Rate.Value { //nolint:floateq // changed or not
			c = append(c, partEdit{key: "rate", value: originWord(&b.Rate) + typedRate(b.Rate.Value)})
		}
		if a.Free.Value != b.Free.Value { //nolint:floateq // changed or not
			c = append(c, partEdit{key: "free", value: originWord(&b.Free) + typedLength(b.Free.Value)})
		}
		part("spring", b.ID, a.ID, c)
	}
	if b := is.Helper; was.Helper == nil && b != nil {
		out = append(out, partEdit{key: "helper", value: "{rate: " + typedRate(b.Rate.Value) + " ± 0 %, free: " +
			typedLength(b.Free.Value) + " ± 0 mm, block: " + typedLength(b.Block.Value) + " ± 0 mm}"})
	}
	if a, b := was.Damper, is.Damper; b != nil && b.Stocked != "" && (a == nil || a.Stocked != b.Stocked) {
		out = append(out, partEdit{key: "damper", value: b.Stocked, stocked: true})
	} else if a != b && a != nil && b != nil {
		var c []partEdit
		for _, x := range []struct {
			key     string
			was, is *figure.Input
		}{{"open", &a.Open, &b.Open}, {"closed", &a.Closed, &b.Closed}, {"rod_showing_open", &a.RodOpen, &b.RodOpen}} {
			if x.was.Value != x.is.Value { //nolint:floateq // changed or not
				c = append(c, partEdit{key: x.key, value: originWord(x.is) + typedLength(x.is.Value)})
			}
		}
		if a.Scale.Value != b.Scale.Value { //nolint:floateq // changed or not
			c = append(c, partEdit{key: "scale", value: strconv.FormatFloat(b.Scale.Value, 'f', 3, 64)})
		}
		part("damper", b.ID, a.ID, c)
	}
	if a, b := was.Stop, is.Stop; b != nil && b.Stocked != "" && (a == nil || a.Stocked != b.Stocked) {
		out = append(out, partEdit{key: "stop", value: b.Stocked, stocked: true})
	} else if a != b && a != nil && b != nil {
		var c []partEdit
		if a.Length.Value != b.Length.Value { //nolint:floateq // changed or not
			crush, force := make([]float64, len(b.Table)), make([]float64, len(b.Table))
			for i, p := range b.Table {
				crush[i], force[i] = p.X, p.F
			}
			c = []partEdit{{key: "length", value: originWord(&b.Length) + typedLength(b.Length.Value)}, {key: "crush", value: typedRow(crush, quantity.Length)}, {key: "force", value: typedRow(force, quantity.Force)}}
		}
		part("stop", b.ID, a.ID, c)
	}
	if was.Packer.Value != is.Packer.Value { //nolint:floateq // changed or not
		out = append(out, partEdit{key: "packer", value: typedLength(is.Packer.Value)})
	}
	if was.Friction != is.Friction && is.Friction.Typed != "" {
		out = append(out, partEdit{key: "friction", value: is.Friction.Typed})
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
	return quantity.Shown(quantity.Length, quantity.Metric).Short(metres, 3) + " mm"
}

// typedRate is a spring rate [N/m] as a job holds it, to the thousandth.
func typedRate(rate float64) string {
	return quantity.Shown(quantity.Stiffness, quantity.Metric).Short(rate, 3) + " N/mm"
}

// typedRow writes a row of a table as a job holds it, in metric units, to the
// hundredth: a row is no figure for people.
func typedRow(list []float64, kind quantity.Kind) string {
	u := quantity.Shown(kind, quantity.Metric)
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = u.Short(v, 2)
	}
	if len(words) > 0 {
		words[len(words)-1] += " " + u.Label()
	}
	return "[" + strings.Join(words, ", ") + "]"
}
