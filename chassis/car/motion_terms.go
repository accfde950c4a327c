package car

import (
	"strconv"

	"trunnion/chassis/figure"
)

// What a motion table says, as laws: its terms are the coefficients of the fit.
var (
	motionTravel = figure.Law{
		Code: "motion-travel", Equation: "s = c_1*w + (c_2 + b/2)*w^2 + c_3*w^3 + c_4*w^4", Unit: "m", Source: figure.Own,
		Note: "The polynomial is the fit of the motion table by least squares.",
	}
	motionRatio = figure.Law{
		Code: "motion-ratio", Equation: "r = c_1 + 2*(c_2 + b/2)*w + 3*c_3*w^2 + 4*c_4*w^3", Unit: "1", Source: figure.Own,
		Note: "The slope of the motion table's fit.",
	}
	motionChange = figure.Law{
		Code: "motion-change", Equation: "c = 2*(c_2 + b/2) + 6*c_3*w + 12*c_4*w^2", Unit: "1/m", Source: figure.Own,
		Note: "How the slope of the motion table's fit changes.",
	}
	motionPlace = figure.Law{
		Code: "motion-place", Equation: "c_1*w + (c_2 + b/2)*w^2 + c_3*w^3 + c_4*w^4 = s", Solves: "w", Unit: "m", Source: figure.Own,
		Note: "Solved for the wheel travel at which the fit of the motion table gives that travel.",
	}
)

// terms are the coefficients of the fit.
func (m *Motion) terms() []figure.Term {
	out := make([]figure.Term, 0, 8)
	for j, unit := range [4]string{"1", "1/m", "1/m^2", "1/m^3"} {
		out = append(out, figure.Term{
			Symbol: [4]string{"c_1", "c_2", "c_3", "c_4"}[j], Name: "of the motion table's fit", Value: m.Fit.C[j], Unit: unit,
			Origin: m.Origin, Path: m.Path, Line: m.Line,
		})
	}
	return append(out, figure.From("b", "change of the ratio that the readings do not show", "1/m", &m.Bend))
}

// What the hardpoints say, as laws: its terms are the piece of the curve there.
var (
	linksShare  = figure.Law{Code: "links-curve-share", Equation: "t = (w - w_1)/h", Unit: "1", Source: figure.Own}
	linksTravel = figure.Law{
		Code: "links-travel", Equation: "s = (1 + o)*(a_0 + a_1*t + a_2*t^2 + a_3*t^3 + a_4*t^4 + a_5*t^5)", Unit: "m", Source: piecesSource,
		Note: linksNote,
	}
	linksRatio = figure.Law{
		Code: "links-ratio", Equation: "r = (1 + o)*(a_1 + 2*a_2*t + 3*a_3*t^2 + 4*a_4*t^3 + 5*a_5*t^4)/h", Unit: "1", Source: piecesSource,
		Note: linksNote,
	}
	linksChange = figure.Law{
		Code: "links-change", Equation: "c = (1 + o)*(2*a_2 + 6*a_3*t + 12*a_4*t^2 + 20*a_5*t^3)/h^2", Unit: "1/m", Source: piecesSource,
		Note: linksNote,
	}
	linksFound = figure.Law{
		Code: "links-share-found", Equation: "(1 + o)*(a_0 + a_1*t + a_2*t^2 + a_3*t^3 + a_4*t^4 + a_5*t^5) = s", Solves: "t", Unit: "1", Source: piecesSource,
		Note: linksNote,
	}
	linksPlace = figure.Law{Code: "links-place", Equation: "w = w_1 + t*h", Unit: "m", Source: figure.Own}
)

const (
	piecesSource = "two-point Hermite interpolation, P. J. Davis, Interpolation and Approximation, 1963"
	linksNote    = "The piece there of the curve along which the links lead spring or damper."
)

// piece are the terms of the curve's piece that holds a wheel travel: its start and
// length, its coefficients, and by how much all of it may be larger.
func (m *Motion) piece(w float64) (start, length figure.Term, rest []figure.Term) {
	low, step, c := m.Curve.PieceAt(w)
	term := func(symbol, name string, v float64) figure.Term {
		return figure.Term{Symbol: symbol, Name: name, Value: v, Unit: "m", Origin: m.Origin, Path: m.Path, Line: m.Line}
	}
	off := figure.Term{Symbol: "o", Name: "share by which all of it may be larger", Unit: "1"}
	if m.Off != nil {
		off = figure.From("o", off.Name, "1", m.Off)
	}
	rest = append(rest, off)
	for i, v := range c {
		rest = append(rest, term("a_"+strconv.Itoa(i), "coefficient of the piece", v))
	}
	return figure.Fixed("w_1", "wheel travel where the piece begins", "m", low, "chosen: even steps of wheel travel"),
		figure.Fixed("h", "length of the piece", "m", step, "chosen: even steps of wheel travel"), rest
}

// along is the law of how far along its piece a wheel travel is.
func along(w, start, length figure.Term) figure.Term {
	w.Symbol = "w"
	return figure.As("t", "how far along the piece", linksShare.Of(w, start, length))
}

// by chooses the law of a measured table or that of the links.
func (m *Motion) by(table, links *figure.Law, w figure.Term, length bool) *figure.Working {
	if m.Curve == nil {
		return table.Of(m.at(w)...)
	}
	start, step, rest := m.piece(w.Value)
	rest = append(rest, along(w, start, step))
	if length {
		rest = append(rest, step)
	}
	return links.Of(rest...)
}

// Travel is the law of a part's travel at a wheel travel [m].
func (m *Motion) Travel(w figure.Term) *figure.Working {
	return m.by(&motionTravel, &linksTravel, w, false)
}

// RatioAt is the law of its travel per wheel travel there [-].
func (m *Motion) RatioAt(w figure.Term) *figure.Working {
	return m.by(&motionRatio, &linksRatio, w, true)
}

// Change is the law of how that ratio changes with wheel travel [1/m].
func (m *Motion) Change(w figure.Term) *figure.Working {
	return m.by(&motionChange, &linksChange, w, true)
}

// Place is the law of the wheel travel [m], which was found, at which the part has a
// travel.
func (m *Motion) Place(found float64, s figure.Term) *figure.Working {
	s.Symbol = "s"
	if m.Curve == nil {
		return motionPlace.Found(found, nil, append(m.terms(), figure.Among("w", "wheel travel there", "m", found), s)...)
	}
	start, step, rest := m.piece(found)
	t := (found - start.Value) / step.Value
	share := linksFound.Found(t, nil, append(rest, figure.Among("t", "how far along the piece", "1", t), s)...)
	return linksPlace.Of(start, step, figure.As("t", "how far along the piece", share))
}

func (m *Motion) at(w figure.Term) []figure.Term {
	w.Symbol = "w"
	return append(m.terms(), w)
}
