package corners

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/study"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// choices are what can be changed of a build that changes how it corners.
func (b *page) choices(o *desk.CorneredBuild) []Choice {
	build := o.Build
	out := []Choice{}
	bars := false
	for a := range 2 {
		if r := &b.Answer.Job.Car.Axle[a].BarRate; r.Known() && r.Value > 0 {
			bars = true
		}
	}
	if bars {
		one := Choice{
			Path: "builds." + build.ID + ".setup.bars", Label: "anti-roll bars", Value: "on",
			Choices: []view.Choice{{Value: "on", Label: "connected"}, {Value: "off", Label: "drop links off"}},
			Hint:    "both axles together",
		}
		if build.Setup.BarsOff {
			one.Value = "off"
		}
		out = append(out, one)
	}
	for a := range 2 {
		if one, ok := b.holes(o, a); ok {
			out = append(out, one)
		}
	}
	return out
}

// holes are the holes of an adjustable bar, with what the build does in each.
func (b *page) holes(o *desk.CorneredBuild, axle int) (Choice, bool) {
	build, list := o.Build, o.Holes[axle]
	if len(list) == 0 {
		return Choice{}, false
	}
	name := car.AxleNames[axle]
	out := Choice{
		Path: "builds." + build.ID + ".setup.bar_hole." + name, Label: name + " bar, hole", Value: study.UsedHole(&b.Answer.Job.Car.Axle[axle], build, axle),
		Title: b.Teller.BarHoles(name) + ".", Choices: []view.Choice{},
	}
	var columns []wording.Column[study.BarHole]
	for _, c := range wording.BarHoleColumns() {
		if c.Head == "" {
			continue
		}
		head := c.Head
		if label := b.Teller.Label(c.SI); label != "" {
			head += " [" + label + "]"
		}
		columns, out.Heads = append(columns, c), append(out.Heads, head)
	}
	for i := range list {
		h := &list[i]
		out.Choices = append(out.Choices, view.Choice{Value: h.ID, Label: view.Spaced(h.ID)})
		row := Row{Name: view.Spaced(h.ID), Used: h.Used, Cells: []string{}}
		for _, c := range columns {
			text := quantity.Nothing
			if v := c.Of(h); h.Err == nil && !math.IsNaN(v) {
				text = b.Teller.Figure(c.SI, v)
			}
			row.Cells = append(row.Cells, text)
		}
		out.Rows = append(out.Rows, row)
	}
	return out, true
}
