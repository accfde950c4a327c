package intake

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/roadtest"
	"trunnion/shop/quantity"
)

// ReadLog reads a log of any logger as comma-separated values, row by row: it holds the
// readings, never the text. What the file does not say and the mapping does not either
// comes back as a question.
func ReadLog(name string, r io.Reader, m LogMapping) (*Logged, error) {
	out := &Logged{}
	l := &logReader{name: name, mapping: &m, out: out}
	if err := l.read(r); err != nil {
		return nil, err
	}
	if len(out.Faults) > 0 || len(l.columns) == 0 {
		return out, nil
	}
	l.settle()
	if len(out.Questions) > 0 || len(out.Faults) > 0 {
		out.Log = roadtest.Log{}
	}
	return out, nil
}

// settle gives the channels their roles, units, signs and zero, and asks for those that
// nobody said.
func (l *logReader) settle() {
	if l.mapping.Decimal == "" && l.unsure {
		l.ask(LogQuestion{Code: "decimal", Choices: []string{"point", "comma"}, Points: map[byte]string{'.': "point", ',': "comma"}[l.decimal]})
	}
	seen := map[string]string{}
	var used []*logColumn
	for _, c := range l.columns {
		if c.role == "" {
			continue
		}
		if c.role != roleIgnored && c.role != roleText {
			if other, twice := seen[c.role]; twice {
				l.fault(l.headLine, fmt.Sprintf("gives %q and %q the same role %s", other, c.name, c.role), "give one of them another role, or ignore")
				return
			}
			seen[c.role] = c.name
		}
		if c.role != roleIgnored && c.role != roleText && c.role != roleLogTime {
			used = append(used, c)
		}
	}
	l.askRoles(len(used))
	times := l.times()
	for _, c := range used {
		l.unitOf(c)
	}
	travel, vertical := false, false
	for _, c := range used {
		r, _ := splitRole(c.role)
		travel = travel || r == roadtest.Travel
		vertical = vertical || logKind(c.role) == quantity.Acceleration
	}
	if travel {
		l.askTravel()
	}
	if vertical {
		l.askAcceleration(used)
	}
	if len(l.out.Questions) > 0 || len(l.out.Faults) > 0 {
		return
	}
	if len(used) == 0 {
		l.fault(0, "has no channel that a road test can use", "it needs damper travel, vertical acceleration or speed; give roles to the channels that are not named so")
		return
	}
	l.build(used, times)
}

// askRoles asks what channels are that no heading says, and how many do.
func (l *logReader) askRoles(used int) {
	for _, c := range l.columns {
		switch {
		case c.role != "" || c.count == 0:
		case c.guess != "":
			l.ask(LogQuestion{Code: "role", About: c.name, Choices: LogRoles, Seen: c.span(), Points: c.guess})
		case !c.headed || used == 0:
			l.ask(LogQuestion{Code: "role", About: c.name, Choices: LogRoles, Seen: c.span()})
		default:
			l.note("channel-left-out", c.name, "")
		}
	}
}

// askTravel asks how travel is to be understood.
func (l *logReader) askTravel() {
	m := l.mapping
	check := func(field, value string, choices ...string) bool {
		if value != "" && !slices.Contains(choices, value) {
			l.fault(0, fmt.Sprintf("cannot be read with %s %q", field, value), "it is "+strings.Join(choices, " or "))
		}
		return value == ""
	}
	if check("sign", l.sign("travel", nil), "bump", "rebound") {
		l.ask(LogQuestion{Code: "sign", About: "travel", Choices: []string{"bump", "rebound"}})
	}
	if check("zero", m.Zero, "rest", "hanging", "start") {
		l.ask(LogQuestion{Code: "zero", About: "travel", Choices: []string{"rest", "start", "hanging"}, Seen: l.spans(roadtest.Travel)})
	}
	if m.Zero == "start" {
		if m.Rest == "" {
			l.ask(LogQuestion{Code: "rest", About: "travel", Choices: []string{"5 s"}})
		} else if v, err := quantity.Parse(m.Rest, quantity.Time); err != nil || !(v.Value > 0) {
			l.fault(0, fmt.Sprintf("cannot be read with rest %q", m.Rest), "it is a time such as 5 s")
		}
	}
	if check("along", m.Along, "damper", "wheel") {
		l.ask(LogQuestion{Code: "along", About: "travel", Choices: []string{"damper", "wheel"}})
	}
}

// askAcceleration asks which way accelerometers are positive; those that show gravity
// speak for one of them.
func (l *logReader) askAcceleration(used []*logColumn) {
	for _, c := range used {
		if logKind(c.role) != quantity.Acceleration {
			continue
		}
		r, _ := splitRole(c.role)
		about, choices, points := "acceleration", []string{"up", "down"}, ""
		switch r {
		case roadtest.Lateral:
			about, choices = "lateral", []string{"left", "right"}
		case roadtest.Longitudinal:
			about, choices = "longitudinal", []string{"forward", "backward"}
		default:
			if mean := c.sum / float64(c.count) * c.scale; mean > 5 {
				points = "up"
			} else if mean < -5 {
				points = "down"
			}
		}
		s := l.sign(about, c)
		if s == "" && !slices.ContainsFunc(l.out.Questions, func(q LogQuestion) bool { return q.Code == "sign" && q.About == about }) {
			l.ask(LogQuestion{Code: "sign", About: about, Choices: choices, Points: points, Seen: c.span()})
		} else if s != "" && !slices.Contains(choices, s) {
			l.fault(0, fmt.Sprintf("cannot be read with sign %q of %s", s, about), "it is "+strings.Join(choices, " or "))
			return
		}
	}
}

// unitOf finds a channel's unit and gain: what one of the file is in SI.
func (l *logReader) unitOf(c *logColumn) {
	kind := logKind(c.role)
	unit := answered(l.mapping.Units, c)
	said := unit != ""
	if !said {
		unit = c.unit
	}
	gain := answered(l.mapping.Gains, c)
	c.scale = 1
	switch {
	case unit == "" && gain == "":
		choices := map[quantity.Kind][]string{quantity.Length: {"mm", "in", "m", "V"}, quantity.SpeedRoad: {"km/h", "mph", "m/s"}, quantity.Acceleration: {"g", "m/s²"}}[kind]
		l.ask(LogQuestion{Code: "unit", About: c.name, Choices: choices, Seen: c.span()})
		return
	case strings.EqualFold(unit, "V") || strings.EqualFold(unit, "mV") || strings.EqualFold(unit, "count"):
		if gain == "" {
			l.ask(LogQuestion{Code: "gain", About: c.name, Seen: c.span() + " " + unit})
			return
		}
	case unit != "":
		u, err := quantity.Find(unit, kind)
		if err != nil {
			l.fault(l.headLine, fmt.Sprintf("has %q as the unit of %q, which is none of %s", cutShort(unit), c.name, c.role), "say another unit, or another role")
			return
		}
		c.scale = u.ToSI(1)
		code := "unit"
		if said {
			code = "unit-given"
		}
		l.note(code, c.name, u.Label())
	}
	if gain == "" {
		return
	}
	if f, ok := number(gain, '.'); ok {
		c.scale *= f
	} else if v, err := quantity.Parse(gain, kind); err == nil {
		c.scale = v.Value
	} else {
		l.fault(0, fmt.Sprintf("cannot be read with gain %q of %q", cutShort(gain), c.name), "it is a factor such as 1.02, or what one unit of the file is, such as 15 mm")
		return
	}
	if c.scale == 0 || math.IsInf(c.scale, 0) || math.IsNaN(c.scale) {
		l.fault(0, fmt.Sprintf("cannot be read with gain %q of %q", cutShort(gain), c.name), "it is not nothing")
	}
}
