package corner

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
)

// How a table is read, as laws: monotone cubic pieces between its rows, past the
// outermost row the straight line that begins there.
const tableSource = "F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300"

// tableLaws are the laws of a table of force over travel or speed.
type tableLaws struct{ share, value, slope, end, found, place figure.Law }

// lawsOfTable makes them: along is the unit that the force is over.
func lawsOfTable(code, along, rate string) tableLaws {
	return tableLaws{
		share: figure.Law{Code: code + "-share", Equation: "u = (x - X_1)/(X_2 - X_1)", Unit: "1", Source: figure.Own},
		value: figure.Law{
			Code: code + "-value", Unit: "N", Source: tableSource,
			Equation: "F = F_1*(1 + 2*u)*(1 - u)^2 + F_2*u^2*(3 - 2*u) + (X_2 - X_1)*(m_1*u*(1 - u)^2 - m_2*u^2*(1 - u))",
		},
		slope: figure.Law{
			Code: code + "-slope", Unit: rate, Source: tableSource,
			Equation: "k = 6*u*(1 - u)*(F_2 - F_1)/(X_2 - X_1) + m_1*(1 - u)*(1 - 3*u) + m_2*u*(3*u - 2)",
		},
		end: figure.Law{Code: code + "-end", Equation: "F = F_1 + m_1*(x - X_1)", Unit: "N", Source: tableSource, Note: "At or past the table's outermost row its slope there is carried on."},
		found: figure.Law{
			Code: code + "-found", Solves: "u", Unit: "1", Source: tableSource,
			Equation: "F_1*(1 + 2*u)*(1 - u)^2 + F_2*u^2*(3 - 2*u) + (X_2 - X_1)*(m_1*u*(1 - u)^2 - m_2*u^2*(1 - u)) = F",
		},
		place: figure.Law{Code: code + "-place", Equation: "x = X_1 + u*(X_2 - X_1)", Unit: along, Source: figure.Own},
	}
}

var (
	forceTable = lawsOfTable("table", "m", "N/m")
	speedTable = lawsOfTable("dyno", "m/s", "N s/m")
)

// table is a curve with the words for its terms.
type table struct {
	curve *numeric.Curve
	laws  *tableLaws
	along string        // unit
	rate  string        // unit of the slope
	from  *figure.Input // whose origin and place are those of the rows
	path  string        // of the rows in the job
}

func (t *table) term(symbol, name, unit string, v float64) figure.Term {
	x := figure.From(symbol, name, unit, t.from)
	x.Value, x.Typed, x.Path = v, "", t.path
	if x.Origin == figure.Chosen || x.Origin == "" {
		x.Origin = figure.Measured // its scale is as typed
	}
	return x
}

func (t *table) rows(p *numeric.Piece) []figure.Term {
	return []figure.Term{
		t.term("X_1", "row before", t.along, p.X[0]), t.term("X_2", "row after", t.along, p.X[1]),
		t.term("F_1", "force of the row before", "N", p.Y[0]), t.term("F_2", "force of the row after", "N", p.Y[1]),
		t.term("m_1", "slope of the curve at the row before", t.rate, p.Slope[0]), t.term("m_2", "slope at the row after", t.rate, p.Slope[1]),
	}
}

// value is the law of the table's force [N] at x.
func (t *table) value(x figure.Term) *figure.Working {
	x.Symbol = "x"
	p, inside := t.curve.PieceAt(x.Value)
	rows := t.rows(&p)
	if !inside {
		return t.laws.end.Of(rows[2], rows[4], x, rows[0])
	}
	return t.laws.value.Of(append(rows, t.shareOf(rows, x))...)
}

func (t *table) shareOf(rows []figure.Term, x figure.Term) figure.Term {
	return figure.As("u", "share of the way between the rows", t.laws.share.Of(rows[0], rows[1], x))
}

// slope is the law of the table's slope there.
func (t *table) slope(x figure.Term) figure.Term {
	x.Symbol = "x"
	p, inside := t.curve.PieceAt(x.Value)
	rows := t.rows(&p)
	if !inside {
		rows[4].Symbol, rows[4].Name = "k", "slope of the table at its outermost row"
		return rows[4]
	}
	return figure.As("k", "slope of the table there", t.laws.slope.Of(append(rows, t.shareOf(rows, x))...))
}

// place is the law of where the table, between its rows, has a force.
func (t *table) place(found float64, force figure.Term) *figure.Working {
	force.Symbol = "F"
	p, inside := t.curve.PieceAt(found)
	if !inside {
		return nil
	}
	rows := t.rows(&p)
	u := (found - p.X[0]) / (p.X[1] - p.X[0])
	share := t.laws.found.Found(u, nil, append(rows, figure.Among("u", "share of the way between the rows", "1", u), force)...)
	return t.laws.place.Of(rows[0], rows[1], figure.As("u", "share of the way between the rows", share))
}
