package levelling

import (
	"trunnion/chassis/scales"
	"trunnion/shop/answer"
	"trunnion/shop/wording"
)

// Document is the result for programs.
func (l *Result) Document(program string, t *wording.Teller) *answer.Level {
	d := &answer.Level{
		Format: answer.LevelFormat, Program: program, Build: l.Build.ID, Load: l.Load, Diagonal: string(l.Target.Diagonal),
		Rounds: len(l.Rounds), Verdict: string(scales.Pass), Stopped: l.Stopped,
		Checks: []answer.LevelCheck{}, Collars: []answer.LevelCollar{}, Missed: []answer.LevelMissed{}, Refused: []answer.LevelRefused{},
		Prices: []answer.LevelPrice{}, Suspects: []answer.LevelSuspect{}, Learned: []answer.LevelLearned{}, Got: []answer.LevelGot{},
		Order: []answer.LevelStep{}, Reopened: []string{},
	}
	for k, g := range l.Gates {
		d.Verdict = string(g.Verdict)
		for c := range g.Checks {
			check := &g.Checks[c]
			one := answer.LevelCheck{Code: check.Code, Round: k + 1, Verdict: string(check.Verdict), Corner: answer.CornerName(check.Corner), Other: answer.CornerName(check.Other), Figures: []answer.LevelFigure{}, Causes: []answer.LevelCause{}, Text: t.ScalesCheck(check)}
			for k := range check.Causes {
				x := &check.Causes[k]
				one.Causes = append(one.Causes, answer.LevelCause{Code: x.Code, Corner: answer.CornerName(x.Corner), Other: answer.CornerName(x.Other), Height: x.Height, Value: x.Value, Text: t.ScalesCause(x)})
			}
			for _, f := range check.Figures {
				one.Figures = append(one.Figures, answer.LevelFigure{Code: f.Code, Value: answer.Finite(f.Value), Unit: f.Unit, Corner: answer.CornerName(f.Corner)})
			}
			d.Checks = append(d.Checks, one)
		}
	}
	for k := range l.Rounds {
		one := answer.LevelGot{Round: k + 1, Predicted: answer.Forecast(&l.Forecast[k])}
		for i := range 4 {
			one.Load[i], one.Height[i] = answer.Finite(l.Rounds[k].Got.Load[i]), answer.Finite(l.Rounds[k].Got.Height[i])
		}
		d.Got = append(d.Got, one)
	}
	p := l.Plan
	if p == nil {
		return d
	}
	collar := func(i int, c *scales.Collar) answer.LevelCollar {
		way := "none"
		switch {
		case c.Move > 0:
			way = "up"
		case c.Move < 0:
			way = "down"
		}
		return answer.LevelCollar{Corner: *answer.CornerName(i), Turns: c.Turns, Move: c.Move, Way: way, Clockwise: c.Clockwise, At: c.At, RoomUp: c.RoomUp, RoomDown: c.RoomDown, Held: c.Held, Text: t.ScalesTurn(c)}
	}
	if !l.Stopped { // nobody turns what a stopped answer still holds
		for i := range 4 {
			d.Collars = append(d.Collars, collar(i, &p.Collar[i]))
		}
		if p.Single.Corner >= 0 {
			d.Single = &answer.LevelSingle{Collar: collar(p.Single.Corner, &p.Single.Collar), After: answer.Forecast(&p.Single.After), Meets: p.Single.Meets}
		}
	}
	now, scatter := answer.Forecast(&p.Now), answer.Forecast(&p.Scatter)
	d.Now, d.Scatter = &now, &scatter
	d.Met, d.Meets, d.Chosen, d.Twist = p.Met, p.Meets, p.Chosen, p.Twist
	if !l.Stopped {
		after := answer.Forecast(&p.After)
		d.After = &after
	}
	for k := range p.Missed {
		m := &p.Missed[k]
		d.Missed = append(d.Missed, answer.LevelMissed{Code: m.Code, Axle: answer.AxleName(m.Axle), Wanted: m.Wanted, Got: m.Got, Why: m.Why, Corner: answer.CornerName(m.Corner), Text: t.ScalesMissed(m, p)})
	}
	for k := range p.Refused {
		r := &p.Refused[k]
		d.Refused = append(d.Refused, answer.LevelRefused{Code: r.Code, Corner: answer.CornerName(r.Corner), Load: r.Load, Value: r.Value, Limit: r.Limit, Text: t.ScalesRefusal(r)})
	}
	for _, x := range p.Price {
		if l.Stopped {
			break // each is a move
		}
		d.Prices = append(d.Prices, answer.LevelPrice{CrossPerMetre: answer.Finite(x.CrossPerMetre), Move: x.Move, Level: x.Level, Cross: x.Cross})
	}
	for k := range l.Suspects {
		s := &l.Suspects[k]
		d.Suspects = append(d.Suspects, answer.LevelSuspect{Code: s.Code, Axle: s.Axle, Corner: answer.CornerName(s.Corner), Other: answer.CornerName(s.Other), Value: s.Value, Stated: s.Stated, Odds: s.Odds, Same: s.Same, Text: t.ScalesSuspect(s)})
	}
	for _, x := range l.Model.Learned() {
		d.Learned = append(d.Learned, answer.LevelLearned{Code: x.Code, Axle: answer.AxleName(x.Axle), Corner: answer.CornerName(x.Corner), Value: x.Value, SD: x.SD, Before: x.Before})
	}
	order := p
	if l.Stopped {
		order = nil
	}
	for _, s := range scales.Order(order) {
		d.Order = append(d.Order, answer.LevelStep{Code: s.Code, Cautions: append([]string{}, s.Cautions...), Again: s.Again, Now: s.Now})
	}
	d.Reopened = append(d.Reopened, l.Reopened()...)
	return d
}
