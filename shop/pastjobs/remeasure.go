package pastjobs

import (
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Record is what a build should measure: what was measured at the handover, or
// where it was not, what is computed.
type Record struct {
	Build  string   `json:"build"` // load state the figures are of; empty: as weighed
	State  string   `json:"state"`
	Height [4]Known `json:"height"`
	Load   [4]Known `json:"load"`
}

// Known is a figure of the record with its band.
type Known struct {
	Value float64 `json:"value"` // [m] or [kg]
	Half  float64 `json:"half"`
	There bool    `json:"there"`
	From  string  `json:"from"` // measured after fitting, measured as it arrived, computed
}

// RecordOf is the record of a build: its readings, else the weighing where it was
// the build weighed, else the answer's own figures in the load state of the
// readings. The answer may be nil.
func RecordOf(job *jobfile.Job, build string, a *study.Answer) (*Record, error) {
	b := buildOf(job, build)
	if b == nil {
		return nil, jobfile.NoBuild(job, build)
	}
	r := &Record{Build: build}
	take := func(in figure.Input, from string) Known {
		half := in.Half
		return Known{Value: in.Value, Half: half, There: in.Known(), From: from}
	}
	for i := range 4 {
		switch {
		case b.Readings != nil:
			r.State = b.Readings.State
			r.Height[i], r.Load[i] = take(b.Readings.Height[i], "measured after fitting"), take(b.Readings.Load[i], "measured after fitting")
		case job.Car.Weighed.Build == build:
			r.Height[i], r.Load[i] = take(job.Car.Weighed.Height[i], "measured as it arrived"), take(job.Car.Weighed.Load[i], "measured as it arrived")
		}
	}
	if a == nil {
		return r, nil
	}
	load := r.State
	if load == "" {
		load = emptyLoad(a.Job.Loads)
	}
	for i := range 4 {
		computed := func(k *Known, code string, scale float64) {
			v := a.Get(code, build, load, i)
			if k.There || v == nil || v.State == figure.Unknown || load == "" {
				return
			}
			*k = Known{Value: v.Value * scale, There: true, From: "computed"}
			if v.HasBand {
				k.Half = 0.5 * (v.High - v.Low) * scale
			}
			if r.State == "" {
				r.State = load
			}
		}
		computed(&r.Height[i], "arch-height", 1)
		computed(&r.Load[i], "corner-load", 1/equilibrium.Gravity)
	}
	return r, nil
}

// emptyLoad is the first load state with nothing in it: as the car is weighed.
func emptyLoad(loads []car.Load) string {
	for i := range loads {
		if len(loads[i].Items) == 0 {
			return loads[i].ID
		}
	}
	return ""
}

// Off is one figure that was measured again.
type Off struct {
	Corner int     `json:"corner"`
	What   string  `json:"what"`   // height, load
	Record Known   `json:"record"` // [m] or [kg]
	Now    float64 `json:"now"`    // [m] or [kg]
	Half   float64 `json:"half"`   // of what was measured now [m] or [kg]
	By     float64 `json:"by"`     // now less the record [m] or [kg]
	Over   bool    `json:"over"`   // by more than both bands together
	Text   string  `json:"text"`
}

// heightBand and loadBand are how well a tape and a scale are taken to be read
// where neither side says so: common practice, no source. [m], [kg]
const (
	heightBand = 2e-3
	loadBand   = 2.0
)

// Remeasure compares what was measured at the end of a day with the record. A
// figure is off when it differs by more than both bands, added as squares.
// Figures that are missing on either side are left out.
func Remeasure(r *Record, heights, loads [4]figure.Input, system quantity.System) []Off {
	var out []Off
	look := func(what string, i int, k Known, in figure.Input, kind quantity.Kind, least float64) {
		if !k.There || !in.Known() {
			return
		}
		o := Off{Corner: i, What: what, Record: k, Now: in.Value, Half: in.Half, By: in.Value - k.Value}
		a, b := k.Half, in.Half
		if a == 0 {
			a = least
		}
		if b == 0 {
			b = least
		}
		band := math.Hypot(a, b)
		o.Over = math.Abs(o.By) > band
		show := func(v float64) string { return quantity.Format(v, kind, system, quantity.Auto) }
		o.Text = fmt.Sprintf("%s %s: %s now, %s on the record (%s). Within the bands.", wording.Upper(wording.Corner(i)), what, show(in.Value), show(k.Value), k.From)
		if o.Over {
			o.Text = fmt.Sprintf("%s %s: %s now, %s on the record (%s). Off by %s; the bands together are %s.", wording.Upper(wording.Corner(i)), what, show(in.Value), show(k.Value), k.From, show(o.By), show(band))
		}
		out = append(out, o)
	}
	for i := range 4 {
		look("height", i, r.Height[i], heights[i], quantity.Length, heightBand)
	}
	for i := range 4 {
		look("load", i, r.Load[i], loads[i], quantity.Mass, loadBand)
	}
	return out
}
