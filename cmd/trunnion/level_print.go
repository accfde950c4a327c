package main

import (
	"io"
	"math"

	"trunnion/chassis/scales"
	"trunnion/shop/levelling"
	"trunnion/shop/wording"
)

// printLevel prints what to turn for people.
func printLevel(w io.Writer, l *levelling.Result, t *wording.Teller) {
	printWrapped(w, "", wording.ScalesTitle(l.Build.Name, l.Load, l.Target.Diagonal))
	say(w, "\n")
	printWrapped(w, "", l.Says(t))
	for k, g := range l.Gates {
		if len(l.Rounds) > 0 {
			printGate(w, l, t, k, g)
		}
	}
	if l.Plan != nil {
		printPlan(w, l, t)
	}
}

func printWrapped(w io.Writer, indent, text string) {
	say(w, "%s%s\n", indent, wrapped(text, lineWidth-len(indent), indent))
}

func printGate(w io.Writer, l *levelling.Result, t *wording.Teller, k int, g *scales.Gate) {
	say(w, "\nRound %d: %s\n", k+1, g.Verdict)
	tab := table{gap: 2}
	for c := range g.Checks {
		if g.Checks[c].Verdict != scales.Pass {
			tab.row("  "+string(g.Checks[c].Verdict), t.ScalesCheck(&g.Checks[c]))
			for x := range g.Checks[c].Causes {
				tab.row("    perhaps", t.ScalesCause(&g.Checks[c].Causes[x]))
			}
		}
	}
	if len(tab.rows) > 0 {
		tab.write(w, lineWidth)
	}
	got := &l.Rounds[k].Got
	if !got.Complete() {
		return
	}
	say(w, "  Predicted, and read:\n")
	tab = table{gap: 2}
	f := &l.Forecast[k]
	for i := range 4 {
		tab.row("  "+wording.Corner(i),
			t.ScalesBand("", "m", f.Height[i]), t.Amount("", "m", got.Height[i]),
			t.ScalesBand("", "kg", f.Load[i]), t.Amount("", "kg", got.Load[i]))
	}
	tab.row("  cross", t.ScalesBand("front-share", "1", f.Cross), t.Amount("front-share", "1", got.Cross(l.Target.Diagonal)), "", "")
	tab.write(w, lineWidth)
}

func printPlan(w io.Writer, l *levelling.Result, t *wording.Teller) {
	p := l.Plan
	for k := range l.Suspects {
		s := &l.Suspects[k]
		if k > 0 && !s.Same {
			break
		}
		say(w, "\n")
		printWrapped(w, "", t.ScalesCheckFirst(s, k > 0))
	}
	if !l.Stopped {
		say(w, "\nTurn\n")
		tab := table{gap: 2}
		for i := range 4 {
			tab.row("  "+wording.Corner(i), t.ScalesTurn(&p.Collar[i]))
		}
		tab.write(w, lineWidth)
		if p.Single.Corner >= 0 && p.Single.Meets && p.Turn {
			printWrapped(w, "", t.ScalesSingle(&p.Single))
		}
	}
	printStand(w, l, t)
	worst := math.Max(p.Scatter.Level[0].Half, p.Scatter.Level[1].Half)
	printWrapped(w, "", t.ScalesScatter(worst, p.Scatter.Cross.Half))
	if !l.Stopped {
		say(w, "\n")
		printWrapped(w, "", t.ScalesPrice(p))
	}
	for k := range p.Missed {
		printWrapped(w, "", t.ScalesMissed(&p.Missed[k], p))
	}
	for k := range p.Refused {
		printWrapped(w, "", t.ScalesRefusal(&p.Refused[k]))
	}
	if l.Stopped {
		p = nil
	}
	printOrder(w, p)
}

// printStand prints how the car stands, and how it will after the move where there is one.
func printStand(w io.Writer, l *levelling.Result, t *wording.Teller) {
	p := l.Plan
	after := func(b scales.Band, code, si string) string {
		if l.Stopped {
			return ""
		}
		return t.ScalesBand(code, si, b)
	}
	switch {
	case l.Unread:
		say(w, "\nAs the parts have it\n")
	case l.Stopped:
		say(w, "\nAs read\n")
	default:
		say(w, "\nAs read, and after that move\n")
	}
	tab := table{gap: 2}
	for i := range 4 {
		tab.row("  "+wording.Corner(i), t.ScalesBand("", "m", p.Now.Height[i]), after(p.After.Height[i], "", "m"), t.ScalesBand("", "kg", p.Now.Load[i]), after(p.After.Load[i], "", "kg"))
	}
	for a, name := range [2]string{"front", "rear"} {
		tab.row("  left over right, "+name, t.ScalesBand("", "m", p.Now.Level[a]), after(p.After.Level[a], "", "m"), "", "")
	}
	tab.row("  cross", t.ScalesBand("front-share", "1", p.Now.Cross), after(p.After.Cross, "front-share", "1"), "", "")
	tab.write(w, lineWidth)
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
