package builds

import (
	"context"

	"trunnion/chassis/car"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/sheet"
	"trunnion/shop/view"
	"trunnion/shop/view/order"
	"trunnion/shop/view/ride"
	"trunnion/shop/wording"
)

// page is a trial whose builds are set side by side.
type page struct{ *view.Trial }

// Of makes what the pages show.
func Of(ctx context.Context, t *view.Trial) (*View, error) {
	s := &page{t}
	v := &View{
		Key: s.Key, Full: s.Full, Units: wording.SystemName(s.System), Load: s.Load, Loads: []LoadLine{}, Faults: view.Listed(s.Faults), Fields: map[string]Field{},
		Outline: Outline{Springs: []Outlined{}, Dampers: []Outlined{}, Stops: []Outlined{}, Platforms: []Outlined{}},
		Brief:   BriefView{Uses: []UseLine{}, Roads: []BriefRoad{}, Events: []BriefEvent{}, Limits: []LimitLine{}, Known: BriefKnown{Roads: []view.Choice{}, Events: []EventKind{}}},
		Plan:    Plan{Wheels: [][]float64{}, Weights: [][]float64{}, Unit: quantity.Units(quantity.Length, s.System)},
		Builds:  []Build{}, Rows: []Row{}, Tables: []Table{}, Warnings: []Note{}, MeasureNext: []Measure{},
		Cautions: wording.Cautions(), Applied: s.Applied, Order: order.View{Lines: []order.Line{}},
	}
	if v.Applied == nil {
		v.Applied = []jobfile.Applied{}
	}
	s.fields(v)
	if s.Job == nil {
		return v, nil
	}
	v.Unchecked = sheet.Unchecked(s.Job)
	info := s.Job.Info
	v.Title = Title{Car: s.Job.Car.Name, Owner: info.Owner, Number: info.Number, Workshop: info.Workshop, Plate: info.Plate}
	s.outline(v)
	s.brief(v)
	for i := range s.Job.Loads {
		l := &s.Job.Loads[i]
		v.Loads = append(v.Loads, LoadLine{ID: l.ID, Name: l.Name, Note: s.massOf(l)})
	}
	if s.Answer == nil {
		return v, nil
	}
	v.InShort = s.Teller.InShort(s.InShort)
	s.plan(v)
	s.builds(v)
	s.rows(v)
	s.tables(v)
	s.warnings(v)
	s.measureNext(v)
	lines := make([]order.Line, len(v.Builds))
	for i := range v.Builds {
		b := &v.Builds[i]
		lines[i] = order.Line{Build: b.ID, Name: b.Name, Price: b.Price, Hours: b.Hours, Verdict: b.Verdict, Sentence: b.Sentence}
	}
	v.Order = order.Of(t, lines)
	var err error
	v.Ride, err = ride.Of(ctx, t)
	return v, err
}

func (s *page) massOf(l *car.Load) string {
	if len(l.Items) == 0 {
		return "as weighed"
	}
	sum := 0.0
	for i := range l.Items {
		sum += l.Items[i].Mass.Value
	}
	return quantity.Format(sum, quantity.Mass, s.System, 0)
}
