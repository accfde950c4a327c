package scales

import (
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// LiftRequest is a car with one axle raised, its suspension locked, and the
// other axle on the scales. Every figure is typed with its unit, and with its
// band where it has another than the usual one.
type LiftRequest struct {
	Total  string `json:"total" maxLength:"60" doc:"of the car as it is lifted, nobody in it; empty: as the job has it weighed, less what was aboard"`
	Level  string `json:"level" maxLength:"60" doc:"on the axle that stays, all wheels level"`
	Lifted string `json:"lifted" maxLength:"60" doc:"on the same axle, the other one raised"`
	Raised string `json:"raised" maxLength:"60" doc:"by how much the wheel centres of the other axle stand higher"`
	Radius string `json:"radius" maxLength:"60" doc:"wheel centres over the ground, all wheels level"`
	Units  string `json:"units" maxLength:"10"`
}

// Lift is the height of the centre of gravity.
type Lift struct {
	Says     string              `json:"says"`
	Shown    string              `json:"shown" doc:"of the whole car, over the ground"`
	Band     string              `json:"band"`
	Sprung   string              `json:"sprung" doc:"of the sprung mass alone"`
	Cautions []string            `json:"cautions" doc:"what to mind where an axle is raised"`
	Edits    []jobfile.Edit      `json:"edits" doc:"what writes it into the job"`
	Faults   []intake.FieldFault `json:"faults"`
}

// LiftOf shows the height of the centre of gravity from one axle lifted.
func LiftOf(d *desk.Desk, job *jobfile.Job, in *LiftRequest, system quantity.System) (*Lift, error) {
	got, err := d.Lift(job, &desk.LiftAsk{Total: in.Total, Level: in.Level, Lifted: in.Lifted, Raised: in.Raised, Radius: in.Radius}, system)
	if err != nil {
		return nil, err
	}
	out := &Lift{Cautions: wording.LiftCautions(), Edits: []jobfile.Edit{}, Faults: []intake.FieldFault{}, Shown: quantity.Nothing, Sprung: quantity.Nothing}
	if len(got.Faults) > 0 {
		out.Faults = got.Faults
		out.Says = wording.NoLift(got.Faults[0].Field, got.Faults[0].Text)
		return out, nil
	}
	t := wording.New(nil, system)
	length := func(v float64) string { return quantity.Format(v, quantity.Length, system, quantity.Auto) }
	out.Shown, out.Band, out.Sprung = length(got.Height.Value), "± "+length(got.Height.Half), t.LiftBand(got.Sprung)
	out.Says = t.Lifted(got.Height, got.Sprung, got.Unsprung)
	value := out.Sprung
	out.Edits = append(out.Edits, jobfile.Edit{Path: "car.cg_height", Value: &value})
	return out, nil
}
