package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

// limitValues reports every other limit of travel that was measured (ground,
// hose, shaft, joint): how far it is from rest, and whether the stop or the
// damper's open end comes first. The arch has codes of its own.
func (s *setup) limitValues(a *Answer, w *worker, place figure.Place, scratch []float64) {
	axle := car.AxleOf(w.i)
	s.lockWarning(a, w, place)
	for k := range w.car().Axle[axle].Limits {
		lim := &w.car().Axle[axle].Limits[k]
		if lim.Name == "arch" {
			continue
		}
		place.Mode, place.At = lim.Name, "wheel"
		rest := w.st.Travel[w.i]
		end, sign := w.bud.Limits.Solid, 1.0
		if lim.Droop {
			end, sign = w.bud.Limits.Open, -1
		}
		v := figure.Value{Code: "travel-to-limit", Place: place, Tier: figure.Static, Value: sign * (lim.Travel.Value - rest), State: figure.OK}
		e := figure.Value{Code: "end-before-limit", Place: place, Tier: figure.Static, Value: sign * (lim.Travel.Value - end), State: figure.OK}
		if math.IsNaN(end) {
			e.State, e.Reason = figure.Unknown, unknownReason("travel-to-stop")
		}
		if !s.opt.NoWorkings {
			limitWorkings(w, lim, &v, &e)
		}
		s.limitBand(a, w, lim, &v, &e, scratch)
		a.Values = append(a.Values, v, e)
	}
}

// limitWorkings write the workings of how far a limit is, and of whether the stop or
// the damper's open end comes first.
func limitWorkings(w *worker, lim *car.Limit, v, e *figure.Value) {
	way := figure.Fixed("n", "1 for a limit in bump, -1 for one in droop", "1", 1, "bump positive")
	if lim.Droop {
		way.Value = -1
	}
	limit := figure.From("w_limit", "wheel travel at the "+lim.Name, "m", &lim.Travel)
	v.Working = result(v.Code, way, limit, w.rest())
	if e.State == figure.Unknown {
		return
	}
	var end figure.Term
	if lim.Droop {
		end = w.at().Open(&w.bud.Limits)
	} else {
		end = w.at().Solid(&w.bud.Limits)
	}
	end.Symbol = "w_end"
	e.Working = result(e.Code, way, limit, end)
}

// lockWarning says where the links lock before the damper is open or the stop
// solid: the points, or the damper, are then not those of this car. Once a build
// and corner.
func (s *setup) lockWarning(a *Answer, w *worker, place figure.Place) {
	p := s.paths[car.AxleOf(w.i)]
	if p == nil || w.l != 0 {
		return
	}
	low, high := p.Locks()
	for _, at := range []struct {
		locks  float64
		within bool
	}{{low, w.bud.Limits.Open < low}, {high, w.bud.Limits.Solid > high}} {
		if at.within {
			a.Warnings = append(a.Warnings, Warning{
				Code: "links-lock", Build: place.Build, Load: place.Load, Corner: place.Corner, Value: at.locks, Unit: "m",
				Path: "car." + car.AxleNames[car.AxleOf(w.i)] + ".hardpoints",
			})
		}
	}
}

// makersShare reports how much of the bump travel that the car's maker gave it
// is left, where that is known: what the codes of some countries ask for. The
// program names no code and decides nothing.
func (s *setup) makersShare(a *Answer, w *worker, place figure.Place, scratch []float64) {
	ax := &w.car().Axle[car.AxleOf(w.i)]
	place.At = "wheel"
	for _, m := range []struct {
		code, name string
		maker      *figure.Input
		left       float64
		column     int
	}{
		{"makers-bump-kept", "bump travel left to the first touch of the stop", &ax.MakerBump, w.bud.ToStop, qToStop},
		{"makers-solid-kept", "bump travel left until the stop is solid", &ax.MakerSolid, w.bud.ToSolid, qToSolid},
	} {
		if !m.maker.Known() || m.maker.Value <= 0 || math.IsNaN(m.left) {
			continue
		}
		v := figure.Value{Code: m.code, Place: place, Tier: figure.Static, Value: m.left / m.maker.Value, State: figure.OK}
		if !s.opt.NoWorkings {
			v.Working = result(m.code, w.again("s", m.name, m.column), figure.From("s_maker", "the same on the car as its maker built it", "m", m.maker))
		}
		if a.columns != nil {
			left := a.columns.of(w.b, w.l, w.i*perCorner+m.column)
			share := make([]float64, len(left))
			for k := range left {
				share[k] = left[k] / m.maker.At(figure.DrawOf(a.columns.table.Draw(k)))
			}
			v.Low, v.High, v.HasBand = spread.Band(share, band, scratch)
		}
		a.Values = append(a.Values, v)
	}
}

// limitBand gives both values their bands from the draws of the heights and
// margins that were kept.
func (s *setup) limitBand(a *Answer, w *worker, lim *car.Limit, v, e *figure.Value, scratch []float64) {
	if a.columns == nil {
		return
	}
	axle := car.AxleOf(w.i)
	heights := a.columns.of(w.b, w.l, w.i*perCorner+qHeight)
	margin, sign := a.columns.of(w.b, w.l, w.i*perCorner+qToSolid), 1.0
	if lim.Droop {
		margin, sign = a.columns.of(w.b, w.l, w.i*perCorner+qToOpen), -1
	}
	to, before := make([]float64, a.columns.samples), make([]float64, a.columns.samples)
	for k := range to {
		d := figure.DrawOf(a.columns.table.Draw(k))
		rest := w.car().ZeroHeight[axle].At(d) - heights[k]
		to[k] = sign * (lim.Travel.At(d) - rest)
		before[k] = to[k] - margin[k]
	}
	v.Low, v.High, v.HasBand = spread.Band(to, band, scratch)
	if e.State != figure.Unknown {
		e.Low, e.High, e.HasBand = spread.Band(before, band, scratch)
	}
}
