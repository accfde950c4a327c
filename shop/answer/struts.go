package answer

import (
	"io"

	"trunnion/chassis/axles"

	"trunnion/chassis/car"
	"trunnion/chassis/strut"
	"trunnion/shop/wording"
)

// StrutsFormat names the contract of struts under load.
const StrutsFormat = "trunnion.struts/1"

// Struts is trunnion.struts/1: what the struts of an axle carry, on the side that carries
// more, or on each where they are not alike.
type Struts struct {
	Format    string       `json:"format"`
	Program   string       `json:"program"`
	JobSHA256 string       `json:"job_sha256"`
	Axle      string       `json:"axle"`
	Load      string       `json:"load"`
	Loaded    string       `json:"loaded_side"` // left or right: whose figures stand for a build with two struts alike
	Builds    []StrutBuild `json:"builds"`
	Unguided  []string     `json:"unguided"`         // builds left out: nothing is known of their guide
	NoPower   bool         `json:"drive_is_unknown"` // the case under power is missing for it
}

// StrutBuild is one build's strut.
type StrutBuild struct {
	Build    string        `json:"build"`
	Side     *string       `json:"side"` // left or right where the two are not alike; null: loaded_side's for both
	Cases    []StrutCase   `json:"cases"`
	Moments  Table         `json:"moments"`      // a row for each case that has an answer, in order
	Low      Table         `json:"moments_low"`  // lower ends of their 95 % bands; null where there is none
	High     Table         `json:"moments_high"` // upper ends
	Over     Table         `json:"over_travel"`
	Hardest  *string       `json:"hardest"`  // case with the greatest force along the strut
	Buckling *float64      `json:"buckling"` // that force over what buckles rod or body [-]
	Straight *float64      `json:"straight"` // angle of a spring that leaves no side load [rad]
	Against  []StrutRatio  `json:"against_reference"`
	Changes  []StrutChange `json:"changes"`
	Changed  Table         `json:"changed"` // a row for each change that has an answer, in order
}

// StrutCase is a strut under one load.
type StrutCase struct {
	Code         string  `json:"code"`
	Event        *int    `json:"event"`        // of the brief
	Lateral      float64 `json:"lateral"`      // [m/s2]
	Longitudinal float64 `json:"longitudinal"` // [m/s2]
	Failed       *string `json:"failed"`
	Factor       float64 `json:"factor"` // load of the wheel over its load at rest [-]
}

// StrutRatio is a strut against the reference build's in the same case.
type StrutRatio struct {
	Case      string   `json:"case"`
	Side      *float64 `json:"side"`       // [-]
	Guide     *float64 `json:"guide"`      // [-]
	Lower     *float64 `json:"lower"`      // [-]
	Stress    *float64 `json:"stress"`     // [-]
	BreakAway *float64 `json:"break_away"` // [-]
}

// StrutChange is what a change of the car does to a strut.
type StrutChange struct {
	Code   string  `json:"code"`
	By     float64 `json:"by"` // [SI]
	Case   string  `json:"case"`
	Failed *string `json:"failed"`
}

// WriteJSON writes the document.
func (d *Struts) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

func failed(err error) *string {
	if err == nil {
		return nil
	}
	text := err.Error()
	return &text
}

// strutBands are the ends of the bands of a case's figures, null where there is none.
func strutBands(drawn []axles.StrutFound) (low, high []*float64) {
	for _, c := range wording.LoadColumns() {
		a, b, ok := axles.StrutBand(drawn, func(_ *axles.BuildStrut, m *strut.Moment) float64 { return c.Of(m) })
		if !ok {
			low, high = append(low, nil), append(high, nil)
			continue
		}
		low, high = append(low, Finite(a)), append(high, Finite(b))
	}
	return low, high
}

// NewStruts makes the document; drawn are a build's struts of the draws, case by case.
func NewStruts(program, sha256 string, all *axles.Struts, noPower bool, drawn func(*axles.BuildStrut) [][]axles.StrutFound) *Struts {
	d := &Struts{Format: StrutsFormat, Program: program, JobSHA256: sha256, Axle: *AxleName(all.Ask.Axle), Load: all.Ask.Load, Loaded: car.SideNames[all.Loaded()], Builds: []StrutBuild{}, Unguided: []string{}, NoPower: noPower}
	for _, b := range all.Unguided {
		d.Unguided = append(d.Unguided, b.ID)
	}
	for n := range all.Builds {
		one := &all.Builds[n]
		b := StrutBuild{Build: one.Build.ID, Cases: []StrutCase{}, Against: []StrutRatio{}, Changes: []StrutChange{}, Buckling: Finite(one.Buckling), Straight: Finite(one.Straight)}
		if one.Sided {
			b.Side = &car.SideNames[one.Side]
		}
		var rows, over, changed []strut.Moment
		b.Low, b.High = TableOf(wording.LoadColumns(), nil), TableOf(wording.LoadColumns(), nil)
		draws := drawn(one)
		for i := range one.Cases {
			k := &one.Cases[i]
			c := StrutCase{Code: k.Code, Lateral: k.Lateral, Longitudinal: k.Longitudinal, Failed: failed(k.Err), Factor: k.Factor}
			if k.Event >= 0 {
				c.Event = &k.Event
			}
			b.Cases = append(b.Cases, c)
			if k.Err == nil {
				rows = append(rows, k.Moment)
				low, high := strutBands(draws[i])
				b.Low.Rows, b.High.Rows = append(b.Low.Rows, low), append(b.High.Rows, high)
			}
		}
		for i := range one.Over {
			if one.OverErrs[i] == nil {
				over = append(over, one.Over[i])
			}
		}
		if one.Hardest >= 0 && one.Hardest < len(one.Cases) {
			b.Hardest = &one.Cases[one.Hardest].Code
		}
		for i := range one.Against {
			r := &one.Against[i]
			b.Against = append(b.Against, StrutRatio{one.Cases[r.Case].Code, Finite(r.Side), Finite(r.Guide), Finite(r.Lower), Finite(r.Stress), Finite(r.Away)})
		}
		for i := range one.Changes {
			c := &one.Changes[i]
			b.Changes = append(b.Changes, StrutChange{c.Code, c.By, one.Cases[c.Case].Code, failed(c.Err)})
			if c.Err == nil {
				changed = append(changed, c.Moment)
			}
		}
		columns := wording.LoadColumns()
		b.Moments, b.Over, b.Changed = TableOf(columns, rows), TableOf(columns, over), TableOf(columns, changed)
		d.Builds = append(d.Builds, b)
	}
	return d
}
