package corners

import (
	"slices"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/desk"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// figures are the figures of a build in a bend, in the order shown; the
// mode tells two of one code apart.
var figures = []struct{ code, mode string }{
	{"roll-gradient", ""},
	{"front-transfer-share", ""},
	{"front-roll-share", ""},
	{"bar-roll-share", "front"},
	{"bar-roll-share", "rear"},
}

func (b *page) figures(out *Build, o *desk.CorneredBuild) {
	for _, f := range figures {
		b.figure(&out.Figures, b.carValue(f.code, out.Build, f.mode, 0), f.mode)
	}
	for _, i := range []int{0, 1, 2, 3} {
		if slices.Contains(b.outer(), i) {
			continue
		}
		b.figure(&out.Figures, b.Answer.Get("inside-droop-left", out.Build, b.Load, i), wording.Corner(i))
	}
	for _, i := range b.outer() {
		if v := b.Answer.Get("camber-to-road", out.Build, b.Load, i); view.State(v) != "unknown" {
			b.figure(&out.Figures, v, wording.Corner(i))
		}
	}
	for i := range b.Answer.Values {
		v := &b.Answer.Values[i]
		if v.Code == "mode-damping" && v.Place.Build == out.Build && v.Place.Load == b.Load && v.Place.Mode == "roll" {
			b.figure(&out.Figures, v, "roll")
		}
	}
}

// figure adds a value, where there is one, under its name and a word more.
func (b *page) figure(list *[]Figure, v *figure.Value, more string) {
	if v == nil {
		return
	}
	label := wording.Name(v.Code)
	label = strings.ToUpper(label[:1]) + label[1:]
	if more != "" {
		label += ", " + view.Spaced(more)
	}
	*list = append(*list, Figure{Label: label, Cell: b.Cell(v, b.Verdict(v))})
}

// carValue is a value of the whole car; speed 0 for any.
func (b *page) carValue(code, build, mode string, speed float64) *figure.Value {
	for i := range b.Answer.Values {
		v := &b.Answer.Values[i]
		q := &v.Place
		if v.Code == code && q.Build == build && q.Load == b.Load && q.Corner == figure.NoCorner && q.Mode == mode && (speed == 0 || desk.SameSpeed(q.Speed, speed)) {
			return v
		}
	}
	return nil
}
