package main

import (
	"fmt"
	"io"
	"math"

	"trunnion/chassis/scales"
	"trunnion/shop/answer"
	"trunnion/shop/wording"
)

// printLevel prints what to turn for people.
func printLevel(w io.Writer, l *levelled) {
	t := l.tell
	head := l.build.Name + " on the scales"
	if l.load != "" {
		head += ", load state " + l.load
	}
	printWrapped(w, "", fmt.Sprintf("%s. Cross weight is %s over the total. Left is the driver's left, seated.", head, wording.Diagonal(l.target.Diagonal)))
	if len(l.rounds) == 0 {
		say(w, "\n")
		printWrapped(w, "", t.ScalesCheck(&scales.Check{Code: "not-read", Verdict: scales.Caution, Corner: -1, Other: -1}))
	}
	for k, g := range l.gates {
		if len(l.rounds) > 0 {
			printGate(w, l, k, g)
		}
	}
	if l.plan != nil {
		printPlan(w, l)
	}
	if l.stopped {
		say(w, "\nNothing is to be turned.\n")
		for _, g := range l.gates {
			for k := range g.Checks {
				if g.Checks[k].Verdict == scales.Stop {
					printWrapped(w, "  ", t.ScalesCheck(&g.Checks[k]))
				}
			}
		}
	}
}

func printWrapped(w io.Writer, indent, text string) {
	say(w, "%s%s\n", indent, wrapped(text, lineWidth-len(indent), indent))
}

func printGate(w io.Writer, l *levelled, k int, g *scales.Gate) {
	say(w, "\nRound %d: %s\n", k+1, g.Verdict)
	tab := table{gap: 2}
	for c := range g.Checks {
		if g.Checks[c].Verdict != scales.Pass {
			tab.row("  "+string(g.Checks[c].Verdict), l.tell.ScalesCheck(&g.Checks[c]))
		}
	}
	if len(tab.rows) > 0 {
		tab.write(w, lineWidth)
	}
	got := &l.rounds[k].Got
	if !got.Complete() {
		return
	}
	say(w, "  Predicted against got:\n")
	tab = table{gap: 2}
	f := &l.forecast[k]
	for i := range 4 {
		tab.row("  "+wording.Corner(i),
			l.tell.ScalesBand("", "m", f.Height[i]), l.tell.Amount("", "m", got.Height[i]),
			l.tell.ScalesBand("", "kg", f.Load[i]), l.tell.Amount("", "kg", got.Load[i]))
	}
	tab.row("  cross", l.tell.ScalesBand("front-share", "1", f.Cross), l.tell.Amount("front-share", "1", got.Cross(l.target.Diagonal)), "", "")
	tab.write(w, lineWidth)
}

func printPlan(w io.Writer, l *levelled) {
	t, p := l.tell, l.plan
	for k := range l.suspects {
		s := &l.suspects[k]
		head := "Look here first: "
		if k > 0 {
			if !s.Same {
				break
			}
			head = "Or, which the readings cannot tell apart: "
		}
		say(w, "\n")
		printWrapped(w, "", head+t.ScalesSuspect(s))
	}
	if !l.stopped {
		say(w, "\nTurn\n")
		tab := table{gap: 2}
		for i := range 4 {
			tab.row("  "+wording.Corner(i), t.ScalesTurn(&p.Collar[i]))
		}
		tab.write(w, lineWidth)
		if p.Single.Corner >= 0 && p.Single.Meets && p.Turn {
			printWrapped(w, "", fmt.Sprintf("One collar alone would do: %s, %s; cross then %s.", wording.Corner(p.Single.Corner), t.ScalesTurn(&p.Single.Collar), t.ScalesBand("front-share", "1", p.Single.After.Cross)))
		}
	}
	say(w, "\nIt stands, and after that move\n")
	tab := table{gap: 2}
	for i := range 4 {
		tab.row("  "+wording.Corner(i), t.ScalesBand("", "m", p.Now.Height[i]), t.ScalesBand("", "m", p.After.Height[i]), t.ScalesBand("", "kg", p.Now.Load[i]), t.ScalesBand("", "kg", p.After.Load[i]))
	}
	for a, name := range [2]string{"front", "rear"} {
		tab.row("  left over right, "+name, t.ScalesBand("", "m", p.Now.Level[a]), t.ScalesBand("", "m", p.After.Level[a]), "", "")
	}
	tab.row("  cross", t.ScalesBand("front-share", "1", p.Now.Cross), t.ScalesBand("front-share", "1", p.After.Cross), "", "")
	tab.write(w, lineWidth)
	worst := math.Max(p.Scatter.Level[0].Half, p.Scatter.Level[1].Half)
	printWrapped(w, "", fmt.Sprintf("One settled reading scatters by ± %s side to side and ± %s of cross, by friction and instruments: nothing is level to less.", t.Amount("", "m", worst), t.Amount("front-share", "1", p.Scatter.Cross.Half)))
	say(w, "\n")
	printWrapped(w, "", t.ScalesPrice(p))
	for k := range p.Missed {
		printWrapped(w, "", t.ScalesMissed(&p.Missed[k], p))
	}
	for k := range p.Refused {
		printWrapped(w, "", t.ScalesRefusal(&p.Refused[k]))
	}
	if p.Met && p.Turn {
		printWrapped(w, "", "As it stands, every wish already lies within its tolerance.")
	}
	printOrder(w, p)
}

func printOrder(w io.Writer, p *scales.Plan) {
	say(w, "\nOrder of work\n")
	tab := table{gap: 2}
	for _, s := range scales.Order(p) {
		mark, mind := "  ", ""
		if s.Now {
			mark = "> "
		}
		for _, c := range s.Cautions {
			if mind != "" {
				mind += "; "
			}
			mind += wording.ScalesMind(c)
		}
		name := wording.ScalesStep(s.Code)
		if s.Again {
			name += " (again)"
		}
		tab.row(mark+name, mind)
	}
	tab.write(w, lineWidth)
}

// document is the same for programs.
func (c *levelCommand) document(l *levelled) *answer.Level {
	t := l.tell
	d := &answer.Level{
		Format: answer.LevelFormat, Program: version, Build: l.build.ID, Load: l.load, Diagonal: string(l.target.Diagonal),
		Rounds: len(l.rounds), Verdict: string(scales.Pass), Stopped: l.stopped,
		Checks: []answer.LevelCheck{}, Collars: []answer.LevelCollar{}, Missed: []answer.LevelMissed{}, Refused: []answer.LevelRefused{},
		Prices: []answer.LevelPrice{}, Suspects: []answer.LevelSuspect{}, Learned: []answer.LevelLearned{}, Got: []answer.LevelGot{},
		Order: []answer.LevelStep{}, Reopened: []string{},
	}
	for k, g := range l.gates {
		d.Verdict = string(g.Verdict)
		for c := range g.Checks {
			check := &g.Checks[c]
			one := answer.LevelCheck{Code: check.Code, Round: k + 1, Verdict: string(check.Verdict), Corner: answer.CornerName(check.Corner), Other: answer.CornerName(check.Other), Figures: []answer.LevelFigure{}, Text: t.ScalesCheck(check)}
			for _, f := range check.Figures {
				one.Figures = append(one.Figures, answer.LevelFigure{Code: f.Code, Value: answer.Finite(f.Value), Unit: f.Unit, Corner: answer.CornerName(f.Corner)})
			}
			d.Checks = append(d.Checks, one)
		}
	}
	for k := range l.rounds {
		one := answer.LevelGot{Round: k + 1, Predicted: answer.Forecast(&l.forecast[k])}
		for i := range 4 {
			one.Load[i], one.Height[i] = answer.Finite(l.rounds[k].Got.Load[i]), answer.Finite(l.rounds[k].Got.Height[i])
		}
		d.Got = append(d.Got, one)
	}
	p := l.plan
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
	if !l.stopped { // nobody turns what a stopped answer still holds
		for i := range 4 {
			d.Collars = append(d.Collars, collar(i, &p.Collar[i]))
		}
		if p.Single.Corner >= 0 {
			d.Single = &answer.LevelSingle{Collar: collar(p.Single.Corner, &p.Single.Collar), After: answer.Forecast(&p.Single.After), Meets: p.Single.Meets}
		}
	}
	now, after, scatter := answer.Forecast(&p.Now), answer.Forecast(&p.After), answer.Forecast(&p.Scatter)
	d.Now, d.After, d.Scatter = &now, &after, &scatter
	d.Met, d.Meets, d.Chosen, d.Twist = p.Met, p.Meets, p.Chosen, p.Twist
	for k := range p.Missed {
		m := &p.Missed[k]
		d.Missed = append(d.Missed, answer.LevelMissed{Code: m.Code, Axle: answer.AxleName(m.Axle), Wanted: m.Wanted, Got: m.Got, Why: m.Why, Corner: answer.CornerName(m.Corner), Text: t.ScalesMissed(m, p)})
	}
	for k := range p.Refused {
		r := &p.Refused[k]
		d.Refused = append(d.Refused, answer.LevelRefused{Code: r.Code, Corner: answer.CornerName(r.Corner), Load: r.Load, Value: r.Value, Limit: r.Limit, Text: t.ScalesRefusal(r)})
	}
	for _, x := range p.Price {
		d.Prices = append(d.Prices, answer.LevelPrice{CrossPerMetre: answer.Finite(x.CrossPerMetre), Move: x.Move, Level: x.Level, Cross: x.Cross})
	}
	for k := range l.suspects {
		s := &l.suspects[k]
		d.Suspects = append(d.Suspects, answer.LevelSuspect{Code: s.Code, Axle: s.Axle, Corner: answer.CornerName(s.Corner), Other: answer.CornerName(s.Other), Value: s.Value, Stated: s.Stated, Odds: s.Odds, Same: s.Same, Text: t.ScalesSuspect(s)})
	}
	for _, x := range l.model.Learned() {
		d.Learned = append(d.Learned, answer.LevelLearned{Code: x.Code, Axle: answer.AxleName(x.Axle), Corner: answer.CornerName(x.Corner), Value: x.Value, SD: x.SD, Before: x.Before})
	}
	for _, s := range scales.Order(p) {
		d.Order = append(d.Order, answer.LevelStep{Code: s.Code, Cautions: append([]string{}, s.Cautions...), Again: s.Again, Now: s.Now})
	}
	d.Reopened = append(d.Reopened, scales.Reopened(p)...)
	return d
}
