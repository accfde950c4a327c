package web

import (
	"fmt"
	"strconv"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/road"
	"trunnion/chassis/study"
	"trunnion/shop/drawing"
	"trunnion/shop/quantity"
)

// limitKeys are the limits that a brief may choose.
var limitKeys = []LimitLine{
	{"brief.limits.bump_left", "Bump left to the stop, in the usual load state"},
	{"brief.limits.bump_left_laden", "Bump left to the stop, in every other load state"},
	{"brief.limits.firm_left", "Bump left until the stop carries half the corner"},
	{"brief.limits.droop_left", "Droop left"},
	{"brief.limits.spring_loose", "Spring loose at full droop"},
	{"brief.limits.block_left", "Travel between the stop solid and the coils touching"},
	{"brief.limits.stop_force", "Greatest force of a stop over the obstacles"},
}

// brief shows what the car is for.
func (s *sight) brief(v *View) {
	b := &s.job.Brief
	for i := range b.Uses {
		u := &b.Uses[i]
		v.Brief.Uses = append(v.Brief.Uses, UseLine{Name: u.Name, Share: quantity.Format(u.Share.Value, quantity.Share, s.system, 0), Path: u.Share.Path})
	}
	for i := range b.Roads {
		r := &b.Roads[i]
		line := BriefRoad{ID: r.Name, Name: spaced(r.Name), Speeds: []Speed{}, Load: r.Load, Path: fmt.Sprintf("brief.roads[%d]", i)}
		if named, ok := road.FindRoad(spaced(r.Name)); ok {
			line.Klass, line.Line = "ISO 8608 class "+named.Class().String(), named.Basis
		}
		for k := range r.Speeds {
			line.Speeds = append(line.Speeds, s.speed(r.Speeds[k].Value))
		}
		v.Brief.Roads = append(v.Brief.Roads, line)
	}
	for i := range b.Events {
		e := &b.Events[i]
		v.Brief.Events = append(v.Brief.Events, BriefEvent{Index: i, Name: spaced(e.Kind), Line: s.eventLine(e), Path: fmt.Sprintf("brief.events[%d]", i)})
	}
	v.Brief.Limits = append(v.Brief.Limits, limitKeys...)
	for _, l := range limitKeys {
		if _, there := v.Fields[l.Path]; !there {
			v.Fields[l.Path] = Field{Label: l.Label, Origin: "default", Path: l.Path, Kind: "length", Shown: "", Filled: true, Doubt: "not chosen by this job"}
		}
	}
	v.Brief.Sentence = s.briefSentence()
}

func spaced(text string) string { return strings.ReplaceAll(text, "-", " ") }

// speed is a speed to show and to send back.
func (s *sight) speed(v float64) Speed {
	shown := quantity.Format(v, quantity.SpeedRoad, s.system, 0)
	return Speed{Shown: shown, Value: shown}
}

// eventLine is an obstacle in words: its size, its speed and who is aboard.
func (s *sight) eventLine(e *brief.Event) string {
	var parts []string
	add := func(in *figure.Input, kind quantity.Kind, word string) {
		if in.Known() {
			parts = append(parts, quantity.Format(in.Value, kind, s.system, quantity.Auto)+" "+word)
		}
	}
	add(&e.Depth, quantity.Length, "deep")
	add(&e.Height, quantity.Length, "high")
	add(&e.Length, quantity.Distance, "long")
	parts = append(parts, "at "+quantity.Format(e.Speed.Value, quantity.SpeedRoad, s.system, 0))
	for i := range s.job.Loads {
		if s.job.Loads[i].ID == e.Load {
			parts = append(parts, strings.ToLower(s.job.Loads[i].Name))
		}
	}
	return strings.Join(parts, ", ")
}

// briefSentence says what the builds are judged by.
func (s *sight) briefSentence() string {
	b := &s.job.Brief
	load := b.UsualLoad
	for i := range s.job.Loads {
		if s.job.Loads[i].ID == b.UsualLoad {
			load = strings.ToLower(s.job.Loads[i].Name)
		}
	}
	text := "Judged with the load state “" + load + "” as the usual one"
	most := -1
	for i := range b.Uses {
		if most < 0 || b.Uses[i].Share.Value > b.Uses[most].Share.Value {
			most = i
		}
	}
	if most >= 0 {
		text += "; " + quantity.Format(b.Uses[most].Share.Value, quantity.Share, s.system, 0) + " of the driving is " + b.Uses[most].Name
	}
	speeds := 0
	for i := range b.Roads {
		speeds += len(b.Roads[i].Speeds)
	}
	if speeds+len(b.Events) > 0 {
		text += "; driven over " + counted(len(b.Roads), "road") + " at " + counted(speeds, "speed") + " and " + counted(len(b.Events), "obstacle")
	}
	return text + "."
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// plan shows the car from above.
func (s *sight) plan(v *View) {
	p := drawing.PlanOf(s.answer, s.load)
	v.Plan.Wheelbase = s.shownLength(p.Wheelbase)
	for _, w := range p.Wheel {
		v.Plan.Wheels = append(v.Plan.Wheels, []float64{s.shownLength(w[0]), s.shownLength(w[1])})
	}
	for _, w := range p.Weights {
		v.Plan.Weights = append(v.Plan.Weights, []float64{s.shownLength(w[0]), s.shownLength(w[1])})
	}
}

// eventName is the name by which the values of an obstacle are found.
func eventName(e *brief.Event) string { return study.EventName(e) }
