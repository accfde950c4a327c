package view

import (
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// EventLine is an obstacle in words: its size, its speed and who is aboard.
func (s *Trial) EventLine(e *brief.Event) string {
	var parts []string
	add := func(in *figure.Input, kind quantity.Kind, word string) {
		if in.Known() {
			decimals := quantity.Auto
			if kind == quantity.Length && in.Value >= 0.0095 && s.System == quantity.Metric {
				decimals = 0
			}
			parts = append(parts, quantity.Format(in.Value, kind, s.System, decimals)+" "+word)
		}
	}
	add(&e.Depth, quantity.Length, "deep")
	add(&e.Height, quantity.Length, "high")
	if e.Length.Value < 1 {
		add(&e.Length, quantity.Length, "long")
	} else {
		add(&e.Length, quantity.Distance, "long")
	}
	parts = append(parts, "at "+quantity.Format(e.Speed.Value, quantity.SpeedRoad, s.System, 0))
	for i := range s.Job.Loads {
		if s.Job.Loads[i].ID == e.Load {
			parts = append(parts, strings.ToLower(s.Job.Loads[i].Name))
		}
	}
	return strings.Join(parts, ", ")
}
