package linkage

import "trunnion/chassis/geom"

// Place is where a joint is.
type Place struct {
	Name  string   // of the link, with "inner" or "outer" for its ends
	Moves bool     // with the wheel; else it is fixed to the car
	At    geom.Vec // [m]
}

// Places returns every joint, wheel centre and contact point at a travel of each
// wheel and a rack travel [m], to be drawn or to be cut free.
func (l *Linkage) Places(travel [2]float64, rack float64) ([]Place, error) {
	at, err := l.at(travel, rack)
	if err != nil {
		return nil, err
	}
	var out []Place
	for i := range l.wheels {
		w := &l.wheels[i]
		q := &at.q[w.body]
		hub := add(q.p, q.r.Apply(w.centre))
		out = append(out, Place{"wheel centre", true, hub}, Place{"contact", true, add(hub, scale(w.radius, down(q.r.Apply(w.spin))))})
	}
	ends := func(name string, r *row) {
		out = append(out, Place{name + " inner", r.b.on != onBody, l.far(r, &at.q, rack)}, Place{name + " outer", true, l.place(&r.a, &at.q)})
	}
	for i := range l.rows {
		if l.rows[i].rule == apart {
			ends(l.rows[i].name, &l.rows[i])
		}
	}
	for i := range l.sides {
		for _, r := range []*row{l.sides[i].spring, l.sides[i].damper} {
			if r != nil && r.rule == apart {
				ends(r.name, r)
			}
		}
	}
	if s := l.strut; s != nil {
		q := &at.q[s.body]
		low := s.low
		out = append(out, Place{"top mount", false, s.top}, Place{"strut low", true, add(q.p, q.r.Apply(low))})
	}
	return out, nil
}
