package scales

import (
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
)

// Show shows it.
func (st *Session) Show() *View {
	if st.Result != nil {
		st.Result.FindSuspects()
	}
	v := &View{
		Builds: []Build{}, Build: st.Build.ID, Load: st.Load, Loads: []Load{}, Settings: st.settings, Presets: []Preset{},
		Verdict: string(scales.Caution), Checks: []Check{}, Corners: []Corner{}, Totals: []Total{}, Axles: []Axle{},
		Price: Price{Points: []PricePoint{}, Chosen: -1}, Missed: []string{}, Refused: []string{}, Suspects: []Suspect{},
		Learned: []Learned{}, Predicted: []Predicted{}, Order: []Step{}, Reopened: []string{}, Opened: []string{}, Cautions: []string{},
		Rounds: []Round{}, Keep: Keep{Edits: []jobfile.Edit{}}, Faults: st.faults,
	}
	if v.Faults == nil {
		v.Faults = []intake.FieldFault{}
	}
	for _, b := range st.Job.Builds {
		v.Builds = append(v.Builds, Build{ID: b.ID, Name: b.Name, Collars: levelling.HasCollars(b), Rounds: st.Rounds[b.ID]})
	}
	for i := range st.Job.Loads {
		l := &st.Job.Loads[i]
		name := l.Name
		if name == "" {
			name = l.ID
		}
		v.Loads = append(v.Loads, Load{ID: l.ID, Name: name})
	}
	for _, p := range scales.Presets() {
		name, says := st.teller.ScalesPreset(p)
		v.Presets = append(v.Presets, Preset{ID: string(p), Name: name, Says: says})
	}
	st.kept(v)
	st.drawing(v)
	if st.Result == nil {
		v.Stopped, v.Verdict, v.Now, v.Says = true, string(scales.Stop), "Turn nothing", "Turn nothing: "+st.None.Error()+"."
		return v
	}
	st.gate(v)
	st.corners(v)
	st.whole(v)
	st.move(v)
	st.learned(v)
	st.work(v)
	st.keep(v)
	return v
}

// shown is a figure of a reading, or that it was not read.
func (st *Session) shown(code, si string, value float64) string {
	if math.IsNaN(value) {
		return quantity.Nothing
	}
	return st.teller.Amount(code, si, value)
}

func (st *Session) drawing(v *View) {
	c := st.Job.Car
	wheelbase := c.Wheelbase.Value
	v.Plan = Plan{Unit: "m", Wheelbase: wheelbase, Wheels: [][]float64{}}
	for i := range 4 {
		left := 0.5 * c.Track[car.AxleOf(i)].Value
		if i&1 == 1 {
			left = -left
		}
		v.Plan.Wheels = append(v.Plan.Wheels, []float64{float64(car.AxleOf(i)) * wheelbase, left})
	}
	for i := range st.Job.Loads {
		if st.Job.Loads[i].ID != st.Load {
			continue
		}
		for _, item := range st.Job.Loads[i].Items {
			if strings.Contains(strings.ToLower(item.Name), "driver") {
				v.Plan.Seat = &Seat{Behind: item.Behind.Value, Left: item.Left.Value}
				return
			}
		}
	}
}
