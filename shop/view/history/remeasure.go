package history

import (
	"cmp"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
)

// RemeasureRequest is what was measured at the end of a day.
type RemeasureRequest struct {
	view.TryRequest
	Build   string   `json:"build" maxLength:"100"`
	Heights []string `json:"heights" maxItems:"4" doc:"hub to arch, front left first, as typed"`
	Loads   []string `json:"loads" maxItems:"4" doc:"at the tyres"`
}

// Remeasured is that against the record.
type Remeasured struct {
	BuildName string          `json:"buildName"`
	State     string          `json:"state" doc:"what the record is of"`
	Record    []RecordLine    `json:"record"`
	Off       []RemeasureLine `json:"off"`
	Faults    []jobfile.Fault `json:"faults"`
}

// RecordLine is what a corner should measure.
type RecordLine struct {
	Corner string `json:"corner"`
	Height string `json:"height"`
	Load   string `json:"load"`
	From   string `json:"from"`
}

// RemeasureLine is one figure that was measured again.
type RemeasureLine struct {
	Corner string `json:"corner"`
	What   string `json:"what" enum:"height,load"`
	Over   bool   `json:"over" doc:"off by more than both bands together"`
	Text   string `json:"text"`
}

// RemeasuredOf sets what was measured against the record of a build.
func RemeasuredOf(seen *view.Trial, b *RemeasureRequest, record *pastjobs.Record) *Remeasured {
	out := &Remeasured{BuildName: cmp.Or(buildNames(seen.Text)[b.Build], b.Build), State: "as it was weighed", Record: []RecordLine{}, Off: []RemeasureLine{}, Faults: []jobfile.Fault{}}
	if record.State != "" {
		out.State = seen.Teller.Load(record.State)
	}
	known := func(k pastjobs.Known, kind quantity.Kind) string {
		if !k.There {
			return quantity.Nothing
		}
		return quantity.Format(k.Value, kind, seen.System, quantity.Auto)
	}
	for i := range 4 {
		h, l := record.Height[i], record.Load[i]
		out.Record = append(out.Record, RecordLine{
			Corner: figure.CornerNames[i], Height: known(h, quantity.Length), Load: known(l, quantity.Mass), From: cmp.Or(h.From, l.From, "not on record"),
		})
	}
	read := func(list []string, kind quantity.Kind, what string) (four [4]figure.Input) {
		for i, typed := range list {
			typed = strings.TrimSpace(typed)
			if typed == "" {
				continue
			}
			t, err := quantity.Parse(typed, kind)
			if err != nil && !strings.ContainsFunc(typed, func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '"' }) {
				// A bare figure is in the unit that stands beside the field.
				t, err = quantity.Parse(typed+" "+quantity.Units(kind, seen.System), kind)
			}
			if err != nil {
				out.Faults = append(out.Faults, jobfile.Fault{
					Path: what + "." + figure.CornerNames[i], Got: typed, Want: "enter a " + what + " with its unit, such as " + map[string]string{"height": "352 mm", "load": "318 kg"}[what],
					Kind: jobfile.Warn,
				})
				continue
			}
			four[i] = figure.Input{Value: t.Value, Half: t.Half, Origin: figure.Measured, Typed: typed}
		}
		return four
	}
	heights, loads := read(b.Heights, quantity.Length, "height"), read(b.Loads, quantity.Mass, "load")
	for _, o := range pastjobs.Remeasure(record, heights, loads, seen.System) {
		out.Off = append(out.Off, RemeasureLine{Corner: figure.CornerNames[o.Corner], What: o.What, Over: o.Over, Text: o.Text})
	}
	return out
}
