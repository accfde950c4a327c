package builds

import (
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// kindNames are the kinds of a field, for the page's keyboard.
var kindNames = map[quantity.Kind]string{
	quantity.Length: "length", quantity.Distance: "length", quantity.Mass: "mass", quantity.Stiffness: "rate", quantity.Force: "force",
	quantity.SpeedRoad: "speed", quantity.SpeedDamper: "speed", quantity.Share: "share", quantity.Ratio: "ratio", quantity.Pressure: "pressure",
	quantity.Volume: "volume", quantity.Inertia: "inertia", quantity.Time: "time", quantity.Price: "price", quantity.ThreadPitch: "length",
}

// fields lists every value of the job, and what was filled in for want of one.
func (s *page) fields(v *View) {
	list := jobfile.Fields(s.Text)
	for i := range list {
		v.Fields[list[i].Path] = s.field(&list[i])
	}
	if s.Job == nil {
		return
	}
	for _, f := range s.Job.Filled {
		if _, there := v.Fields[f.Path]; there || f.Input == nil || f.Path == "" {
			continue
		}
		in := f.Input
		kind, ok := jobfile.KindAt(f.Path)
		if !ok {
			continue // a test looks that there is none
		}
		v.Fields[f.Path] = Field{
			Label: wording.Label(f.Path), Shown: quantity.Format(in.Value, kind, s.System, quantity.Auto), Band: s.band(in, kind),
			Origin: "default", Path: f.Path, Kind: nameOfKind(kind), Filled: true, Doubt: f.Basis,
		}
	}
}

func nameOfKind(k quantity.Kind) string {
	if name, ok := kindNames[k]; ok {
		return name
	}
	return "number"
}

// field shows one value as typed and, where it is a figure, in the units asked
// for.
func (s *page) field(f *jobfile.Field) Field {
	out := Field{Label: wording.Label(f.Path), Typed: f.Typed, Shown: f.Typed, Origin: "text", Line: f.Line, Path: f.Path, Kind: "text"}
	switch f.Form {
	case "value":
		out.Kind = nameOfKind(f.Kind)
		if f.Kind == quantity.Price || f.Kind == quantity.Time || !f.In.Known() {
			return out
		}
		if f.In.Value != 0 || f.In.Half == 0 || !strings.HasPrefix(strings.TrimSpace(f.Typed), "±") {
			out.Shown = quantity.Format(f.In.Value, f.Kind, s.System, quantity.Auto)
		}
		if f.To.Known() {
			out.Shown = quantity.Shown(f.Kind, s.System).Number(f.In.Value, quantity.Auto) + " to " + quantity.Format(f.To.Value, f.Kind, s.System, quantity.Auto)
		}
		out.Band, out.Origin = s.band(&f.In, f.Kind), originOf(f.In.Origin)
		if f.In.Basis != "" {
			out.Doubt = f.In.Basis
		}
	case "count":
		out.Kind = "count"
	case "row":
		out.Kind = "row"
	case "choice":
		out.Kind = "choice"
		for _, w := range f.Words {
			out.Choices = append(out.Choices, view.Choice{Value: w, Label: strings.ReplaceAll(w, "-", " ")})
		}
	case "flag":
		out.Kind = "choice"
		for _, w := range f.Words {
			out.Choices = append(out.Choices, view.Choice{Value: w, Label: w})
		}
	case "id", "part":
		out.Kind = "id"
	}
	return out
}

func originOf(o figure.Origin) string {
	switch o {
	case figure.Measured:
		return "measured"
	case figure.Makers:
		return "maker"
	case figure.Estimated:
		return "estimated"
	case figure.Computed, figure.Chosen, figure.Solved, figure.Constant:
		return "text"
	}
	return "text"
}

// band is the half-width of an input's band with its unit.
func (s *page) band(in *figure.Input, kind quantity.Kind) string {
	if in.Half <= 0 || in.Shape == figure.Exact {
		return ""
	}
	sign := "± "
	if in.Shape == figure.Limit {
		sign = "tol ± "
	}
	u := quantity.Shown(kind, s.System)
	if u.Digits() == 0 {
		return sign + quantity.Format(in.Half, kind, s.System, 1)
	}
	return sign + u.Format(in.Half, quantity.Auto)
}
