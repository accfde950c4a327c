package view

import (
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// Edits are a remedy as changes of the job that can be tried with one touch;
// none where it takes a part that must be looked for.
func (s *Trial) Edits(f *finding.Finding, r *finding.Remedy) []jobfile.Edit {
	out := []jobfile.Edit{}
	build, corner := f.Value.Place.Build, max(0, f.Value.Place.Corner)
	var ax *car.BuildCorner
	for _, b := range s.Answer.Job.Builds {
		if b.ID == build {
			ax = &b.Corner[corner]
		}
	}
	if ax == nil {
		return out
	}
	prefix := "builds." + build + "." + car.AxleNames[car.AxleOf(corner)] + "."
	if r.Alone {
		prefix += car.SideNames[corner&1] + "."
	}
	put := func(key, value string) []jobfile.Edit {
		var list []jobfile.Edit
		for _, path := range jobfile.BothSides(s.Text, prefix+key) {
			list = append(list, jobfile.Edit{Path: path, Value: Ref(value)})
		}
		return list
	}
	length := func(metres float64) string {
		return quantity.Format(metres, quantity.Length, s.System, quantity.Auto)
	}
	with := func(key, id string, changes ...string) []jobfile.Edit {
		if id == "" {
			return out
		}
		piece := "{use: " + id
		for k := 0; k+1 < len(changes); k += 2 {
			piece += ", " + changes[k] + ": " + changes[k+1]
		}
		return put(key, piece+"}")
	}
	switch r.Code {
	case "stiffer-bar-hole", "softer-bar-hole":
		return []jobfile.Edit{{Path: r.Path, Value: Ref(r.Choice)}}
	case "raise-front", "raise-rear":
		return s.raised(build, r)
	case "packer":
		return put("packer", length(ax.Packer.Value+r.Change))
	case "shorter-stop":
		if ax.Stop != nil && ax.Stop.Length.Value > 0 {
			// The table is squeezed in proportion, as the study did.
			share := (ax.Stop.Length.Value + r.Change) / ax.Stop.Length.Value
			crush, force := make([]float64, len(ax.Stop.Table)), make([]float64, len(ax.Stop.Table))
			for i, p := range ax.Stop.Table {
				crush[i], force[i] = p.X*share, p.F
			}
			return with("stop", ax.Stop.ID, "length", length(ax.Stop.Length.Value+r.Change),
				"crush", typedRow(crush, quantity.Length), "force", typedRow(force, quantity.Force))
		}
	case "shorter-damper":
		if d := ax.Damper; d != nil && d.Open.Known() && d.Closed.Known() {
			return with("damper", d.ID, "open", length(d.Open.Value+r.Change), "closed", length(d.Closed.Value+r.Change))
		}
	case "less-droop", "longer-stroke":
		if d := ax.Damper; d != nil && d.Open.Known() && d.RodOpen.Known() {
			return with("damper", d.ID, "open", length(d.Open.Value+r.Change), "rod_showing_open", length(d.RodOpen.Value+r.Change))
		}
	}
	return out
}

// raised lets an axle stand higher: by the heights that were wanted, else as the
// static line is pulled.
func (s *Trial) raised(build string, r *finding.Remedy) []jobfile.Edit {
	axle := 0
	if r.Code == "raise-rear" {
		axle = 1
	}
	length := func(metres float64) string {
		return quantity.Format(metres, quantity.Length, s.System, quantity.Auto)
	}
	if !strings.HasSuffix(r.Path, ".setup.heights") {
		return []jobfile.Edit{{Path: "builds." + build + "." + car.AxleNames[axle], Move: length(r.Change)}}
	}
	out := []jobfile.Edit{}
	for _, b := range s.Answer.Job.Builds {
		if b.ID != build {
			continue
		}
		for i := 2 * axle; i < 2*axle+2; i++ {
			if h := &b.Setup.WantedHeight[i]; h.Known() {
				out = append(out, jobfile.Edit{Path: r.Path + "." + strings.ReplaceAll(figure.CornerNames[i], "-", "_"), Value: Ref(length(h.Value + r.Change))})
			}
		}
	}
	return out
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
