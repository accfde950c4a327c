package search

import (
	"math"
	"slices"
	"sort"
)

// worth is the share by which an aim has to differ to be worth a word. Chosen.
const worth = 0.02

// plans are the best of comfort, of control and of money among the builds that went
// through the whole study and hold everything, by what 95 draws in 100 keep to; where none
// holds everything, among those that are short of nothing but what has to give.
func plans(f *Found, sought []int) []Plan {
	money := LeastMoney
	if !slices.Contains(sought, Price) {
		money = LeastWork
	}
	var given []string
	if len(f.Gives) > 0 {
		given = f.Gives[0].Codes()
	}
	var able []int
	for k := range f.Builds {
		if b := &f.Builds[k]; b.Drawn && holdsBut(b.Short, given) {
			able = append(able, k)
		}
	}
	var out []Plan
	for _, p := range []struct {
		kind string
		aim  int
	}{{MostComfort, Comfort}, {MostControl, Control}, {money, Price}} {
		if p.aim == Price && !slices.Contains(sought, Price) && !slices.ContainsFunc(able, func(k int) bool { return f.Builds[k].Figures[Hours] > 0 }) {
			continue
		}
		best := -1
		for _, k := range able {
			if best < 0 || less(&f.Builds[k].High, &f.Builds[best].High, p.aim) {
				best = k
			}
		}
		if best < 0 {
			continue
		}
		if at := slices.IndexFunc(out, func(o Plan) bool { return o.Build == best }); at >= 0 {
			out[at].Kinds = append(out[at].Kinds, p.kind)
			continue
		}
		out = append(out, Plan{Kinds: []string{p.kind}, Build: best})
	}
	for i := range out {
		for j := range out {
			if i == j {
				continue
			}
			a, b := &f.Builds[out[i].Build].Figures, &f.Builds[out[j].Build].Figures
			for _, aim := range []int{Comfort, Control, Grip, Price, Hours} {
				if a[aim]-b[aim] > worth*math.Abs(b[aim]) {
					out[i].GiveUp = append(out[i].GiveUp, GiveUp{j, aim, a[aim], b[aim]})
				}
			}
		}
	}
	return out
}

func holdsBut(list []Short, given []string) bool {
	return !slices.ContainsFunc(list, func(s Short) bool { return !slices.Contains(given, s.Code) })
}

// Codes are those of what has to give.
func (g *Give) Codes() []string {
	var out []string
	for i := range g.Shorts {
		if !slices.Contains(out, g.Shorts[i].Code) {
			out = append(out, g.Shorts[i].Code)
		}
	}
	return out
}

// weight is how much has to give, in typical amounts [-].
func (g *Give) weight() float64 {
	sum := 0.0
	for i := range g.Shorts {
		sum += g.Shorts[i].weight()
	}
	return sum
}

// gives are what could be given up, the least first; none where a build that was drawn
// holds everything.
func gives(list []Build) []Give {
	bySet := map[string]*Give{}
	var order []string
	for k := range list {
		b := &list[k]
		if len(b.Short) == 0 {
			if b.Drawn {
				return nil
			}
			continue
		}
		g := Give{Shorts: b.Short, Builds: 1, Build: k}
		codes := g.Codes()
		sort.Strings(codes)
		id := ""
		for _, c := range codes {
			id += c + " "
		}
		was := bySet[id]
		if was == nil {
			bySet[id] = &g
			order = append(order, id)
			continue
		}
		was.Builds++
		// One that was drawn says it more surely than one that was not.
		if old := &list[was.Build]; b.Drawn && !old.Drawn || b.Drawn == old.Drawn && g.weight() < was.weight() {
			was.Shorts, was.Build = g.Shorts, k
		}
	}
	out := make([]Give, 0, len(order))
	for _, id := range order {
		out = append(out, *bySet[id])
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := &out[i], &out[j]
		if x, y := list[a.Build].Drawn, list[b.Build].Drawn; x != y {
			return x
		}
		if x, y := len(a.Codes()), len(b.Codes()); x != y {
			return x < y // one wish given up before two
		}
		return a.weight() < b.weight()
	})
	return out[:min(len(out), mostGives)]
}

// mostGives are how many ways of giving way are said. Chosen.
const mostGives = 4
