package builds

import (
	"fmt"
	"strconv"
	"strings"

	"trunnion/chassis/road"
	"trunnion/shop/drawing"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// brief shows what the car is for.
func (s *page) brief(v *View) {
	b := &s.Job.Brief
	for i := range b.Uses {
		u := &b.Uses[i]
		v.Brief.Uses = append(v.Brief.Uses, UseLine{Name: u.Name, Share: quantity.Format(u.Share.Value, quantity.Share, s.System, 0), Path: u.Share.Path})
	}
	for i := range b.Roads {
		r := &b.Roads[i]
		line := BriefRoad{ID: r.Name, Name: view.Spaced(r.Name), Speeds: []view.Speed{}, Load: r.Load, Path: fmt.Sprintf("brief.roads[%d]", i)}
		if named, ok := road.FindRoad(view.Spaced(r.Name)); ok {
			line.Klass, line.Line = "ISO 8608 class "+named.Class().String(), named.Basis
		}
		for k := range r.Speeds {
			line.Speeds = append(line.Speeds, s.Speed(r.Speeds[k].Value))
		}
		v.Brief.Roads = append(v.Brief.Roads, line)
	}
	for i := range b.Events {
		e := &b.Events[i]
		v.Brief.Events = append(v.Brief.Events, BriefEvent{Index: i, Name: view.Spaced(e.Kind), Line: s.EventLine(e), Path: fmt.Sprintf("brief.events[%d]", i)})
	}
	v.Brief.Known = s.briefKnown()
	for _, l := range wording.Limits {
		v.Brief.Limits = append(v.Brief.Limits, LimitLine{Path: l.Path, Label: l.Label})
		if _, there := v.Fields[l.Path]; !there {
			kind, _ := jobfile.KindAt(l.Path)
			v.Fields[l.Path] = Field{Label: l.Label, Origin: "default", Path: l.Path, Kind: nameOfKind(kind), Shown: "", Filled: true, Doubt: "not chosen by this job"}
		}
	}
	v.Brief.Sentence = s.briefSentence()
}

// usualEvents are the obstacles that a brief may name, at sizes to begin with.
// Sizes: TRL 377 and 186 for the humps, FHWA-RD-03-031 for the pothole, the
// others common practice, no source.
var usualEvents = []struct {
	kind, label, size   string
	usual, long, speeds float64 // [m], [m], [m/s]
}{
	{"pothole", "pothole, on one side", "depth", 0.05, 0.6, 50 * quantity.KilometrePerHour},
	{"round-hump", "round hump", "height", 0.075, 3.7, 30 * quantity.KilometrePerHour},
	{"flat-hump", "flat-topped hump", "height", 0.075, 6, 30 * quantity.KilometrePerHour},
	{"kerb", "kerb, on one side", "height", 0.04, 0.4, 60 * quantity.KilometrePerHour},
	{"joint", "joint, proud", "height", 0.01, 0.3, 80 * quantity.KilometrePerHour},
	{"joint", "joint, open", "depth", 0.03, 0.06, 80 * quantity.KilometrePerHour},
	{"crest", "crest", "height", 0.08, 12, 100 * quantity.KilometrePerHour},
	{"dip", "dip", "depth", 0.06, 1.2, 50 * quantity.KilometrePerHour},
}

// briefKnown is what may be added to the brief.
func (s *page) briefKnown() BriefKnown {
	k := BriefKnown{Roads: []view.Choice{}, Events: []EventKind{}}
	for _, n := range road.NamedRoads() {
		k.Roads = append(k.Roads, view.Choice{Value: strings.ReplaceAll(n.Name, " ", "-"), Label: n.Name + ", class " + n.Class().String()})
	}
	for _, e := range usualEvents {
		k.Events = append(k.Events, EventKind{
			Kind: e.kind, Label: e.label, Size: e.size,
			Usual:  quantity.Format(e.usual, quantity.Length, s.System, 0),
			Length: quantity.Format(e.long, quantity.Distance, s.System, 2),
			Speed:  quantity.Format(e.speeds, quantity.SpeedRoad, s.System, 0),
		})
	}
	return k
}

// briefSentence says what the builds are judged by.
func (s *page) briefSentence() string {
	b := &s.Job.Brief
	load := b.UsualLoad
	for i := range s.Job.Loads {
		if s.Job.Loads[i].ID == b.UsualLoad {
			load = strings.ToLower(s.Job.Loads[i].Name)
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
		text += "; " + quantity.Format(b.Uses[most].Share.Value, quantity.Share, s.System, 0) + " of the driving is " + b.Uses[most].Name
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
func (s *page) plan(v *View) {
	p := drawing.PlanOf(s.Answer, s.Load)
	v.Plan.Wheelbase = s.Length(p.Wheelbase)
	for _, w := range p.Wheel {
		v.Plan.Wheels = append(v.Plan.Wheels, []float64{s.Length(w[0]), s.Length(w[1])})
	}
	for _, w := range p.Weights {
		v.Plan.Weights = append(v.Plan.Weights, []float64{s.Length(w[0]), s.Length(w[1])})
	}
}
