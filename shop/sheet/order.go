package sheet

import (
	"trunnion/chassis/valving"
	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

// OfOrder is an order to a damper's builder as a sheet: forces only.
func OfOrder(job *jobfile.Job, o *valving.Order, tell *wording.Teller, program string) *Sheet {
	s := &Sheet{
		Format: Format, Program: program, Number: job.Info.Number, Fingerprint: job.SHA256, Printed: job.Info.Date,
		Build: o.Ask.Build, Load: o.Ask.Load, Units: wording.SystemName(tell.System), Title: "Damper order: forces by click",
		Workshop: Workshop{Name: job.Info.Workshop},
		Head:     []Pair{{"Job", job.Info.Number}, {"Car", job.Car.Name}, {"Build", tell.Build(o.Build.ID)}, {"Load", tell.Load(o.Ask.Load)}},
	}
	s.Find = "job " + s.Number + ", " + s.Fingerprint[:min(16, len(s.Fingerprint))]
	for i := range o.Dampers {
		d := &o.Dampers[i]
		s.Sections = append(s.Sections, Section{ID: "order", Title: wording.OrderDamper(d), Parts: []Part{
			{Table: &Table{Columns: tell.OrderColumns(), Rows: tell.OrderRows(d)}},
			{Words: tell.Cavitation(d)},
		}})
	}
	s.Sections = append(s.Sections, Section{ID: "notes", Title: "Notes", Parts: []Part{{List: tell.OrderNotes(o)}, {Sign: []string{"Ordered", "Confirmed by the builder"}}}})
	return s
}
