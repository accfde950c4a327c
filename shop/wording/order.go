package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/dyno"
	"trunnion/chassis/valving"
	"trunnion/shop/quantity"
)

// OrderTitle heads an order.
func (t *Teller) OrderTitle(name string, o *valving.Order) string {
	return fmt.Sprintf("%s, “%s”, %s: forces to order. Clicks count from closed; gas and friction are taken off.", name, t.Build(o.Build.ID), lower(t.Load(o.Ask.Load)))
}

// OrderDamper heads one damper's part of an order.
func OrderDamper(d *valving.Damper) string {
	where := car.AxleNames[car.AxleOf(d.Corner)] + ", both sides alike"
	if d.Sided {
		where = Corner(d.Corner)
	}
	return Upper(where) + ", in place of " + d.Part.ID
}

// OrderColumns are the headings of an order's table.
func (t *Teller) OrderColumns() []string {
	out := []string{"click", "ratio", "stroke"}
	for _, v := range valving.Speeds {
		out = append(out, t.Shaft(v))
	}
	return out
}

// OrderRows are the rows of one damper: wanted, and present where it is known, by click
// and stroke.
func (t *Teller) OrderRows(d *valving.Damper) [][]string {
	u := unitOf("", "N", t.System)
	var out [][]string
	for k := range d.Positions {
		p := &d.Positions[k]
		for s, stroke := range dyno.Strokes {
			row := []string{strconv.Itoa(p.Click), fmt.Sprintf("%.2f, %.2f", p.Low, p.High), string(stroke) + " " + u.label}
			change := []string{"", "", "present, change"}
			known := false
			for n := range p.Points {
				q := &p.Points[n]
				row = append(row, u.number(q.Force[s], u.digits)+" ± "+u.number(q.Allowed[s], u.digits))
				if math.IsNaN(q.Present[s]) {
					change = append(change, "–")
					continue
				}
				known = true
				change = append(change, u.number(q.Present[s], u.digits)+", "+signedShare(q.Force[s]/q.Present[s]-1))
			}
			out = append(out, row)
			if known {
				out = append(out, change)
			}
		}
	}
	return out
}

// signedShare is a change in per cent, with its sign.
func signedShare(change float64) string {
	text := quantity.Format(change, quantity.Share, quantity.Metric, 0)
	if change > 0 {
		text = "+" + text
	}
	return text
}

// Cavitation says how near the order's bump forces come to what the gas holds.
func (t *Teller) Cavitation(d *valving.Damper) string {
	pressure := func(v float64) string { return t.Amount("", "Pa", v) }
	switch {
	case math.IsNaN(d.Least):
		return "Cavitation: not known; it needs a single tube's piston and rod. A base valve or a twin tube holds more than its gas: ask the builder."
	case math.IsNaN(d.Bound):
		return fmt.Sprintf("Cavitation: the hardest bump force, %s, needs %s absolute without a base valve; the gas pressure is not known.", t.newton(d.Hardest), pressure(d.Least))
	}
	text := fmt.Sprintf("Cavitation: without a base valve the gas holds %s in bump; the order asks for %s at most", t.newton(d.Bound), t.newton(d.Hardest))
	if d.Bound < d.Hardest {
		text += fmt.Sprintf(", too much: it needs %s absolute, or a base valve.", pressure(d.Least))
	} else {
		text += fmt.Sprintf(", %s left.", t.newton(d.Bound-d.Hardest))
	}
	if !math.IsNaN(d.Reached) {
		text += fmt.Sprintf(" The hardest click reaches the bound at %s of the damper; potholes and kerbs give 1.5 to 3.7 m/s in a quarter-car model.", t.Shaft(d.Reached))
	}
	return text
}

// OrderNotes are what a builder has to know beside the forces.
func (t *Teller) OrderNotes(o *valving.Order) []string {
	a := &o.Ask
	return []string{
		fmt.Sprintf("Ratio: up to the knee at %s, and at %s. Rebound over bump: %.2f. Forces are the mean's, split so; straight lines below, between and above.", t.Shaft(a.Knee), t.Shaft(a.HighAt), a.Split),
		fmt.Sprintf("Accepted within ± %s of each force, or %s where that is more, at one skin temperature, 40 °C without a word; this tolerance and the ratios offered are common practice, no source.", PerCent(a.Tolerance.Share), t.newton(a.Tolerance.Least)),
		"Forces only: how they are made is the builder's. Whether the damper is safe so is for its builder to say.",
		"Ask with it for: gas pressure, open and closed length, rod showing when open, top-out, serial numbers, and the sweep of each damper at each click ordered, full loops and a slow run.",
	}
}

// Accepted says whether a returned damper is what was ordered.
func (t *Teller) Accepted(a *valving.Accepted, name string) string {
	var parts []string
	for _, v := range []valving.Verdict{valving.Within, valving.Close, valving.Doubtful, valving.Over, valving.Unknown} {
		if n := a.Count[v]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, v))
		}
	}
	text := "Returned: " + name + " is not what was ordered"
	if a.Accept {
		text = "Accepted: " + name + " is what was ordered"
	}
	text += fmt.Sprintf("; of %d lines %s.", len(a.Lines), strings.Join(parts, ", "))
	if w := a.Worst; w != nil {
		text += fmt.Sprintf(" Worst: click %d, %s, %s: %s where %s is ordered (%s to %s).", w.Click, w.Stroke, t.Shaft(w.Speed), t.banded(w.Is), t.newton(w.Force), t.newton(w.Least), t.newton(w.Most))
	}
	if a.Count[valving.Doubtful] > 0 {
		text += " Doubtful lines lie outside by less than their band: measure them again before it goes back."
	}
	if a.Count[valving.Unknown] > 0 {
		text += " Unknown lines were not measured at that click or speed: ask for them."
	}
	return text
}

// AcceptedColumns are the headings of the lines.
func (t *Teller) AcceptedColumns() []string {
	f := unitOf("", "N", t.System).label
	return []string{"click", "stroke", "speed", "ordered " + f, "accepted " + f, "is " + f, "off", "verdict"}
}

// AcceptedRow is one line.
func (t *Teller) AcceptedRow(h *valving.Held) []string {
	u := unitOf("", "N", t.System)
	is, off := "–", "–"
	if h.Verdict != valving.Unknown {
		is, off = u.number(h.Is.Value, u.digits)+" ± "+u.number(h.Is.Half, u.digits), PerCent(h.Off/h.Force)
	}
	return []string{strconv.Itoa(h.Click), string(h.Stroke), t.Shaft(h.Speed), u.number(h.Force, u.digits), u.number(h.Least, u.digits) + " to " + u.number(h.Most, u.digits), is, off, string(h.Verdict)}
}

// What an order's drawing says.
const (
	DamperSpeed    = "Damper speed, rebound to the left"
	ForceEitherWay = "Force"
	OrderChartNote = "Straight lines between the speeds ordered; hardest and softest click."
)

// OrderChart heads the drawing of one damper's order.
func OrderChart(d *valving.Damper) string {
	if d.Sided {
		return Upper(Corner(d.Corner)) + ": ordered and fitted"
	}
	return Upper(car.AxleNames[car.AxleOf(d.Corner)]) + ": ordered and fitted"
}

// Ordered and Fitted name the lines of a click.
func Ordered(click int) string { return fmt.Sprintf("ordered, click %d", click) }

// Fitted names the line of the damper that is fitted.
func Fitted(click int) string { return fmt.Sprintf("fitted, click %d", click) }
