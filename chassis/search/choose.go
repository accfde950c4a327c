package search

import "sort"

// item is something to choose from: what it is worth, what it lacks.
type item struct {
	at    []float64
	short []Short
	id    int
}

// mostClasses are how many ways of giving way are followed side by side where nothing
// holds everything. Chosen.
const mostClasses = 4

// choose takes n: where something holds everything, by fronts. Where nothing does, those
// that are short of one thing alone are put beside each other, a share for each thing, with
// how short they are as an aim more: what has to give is found among them.
func choose(list []item, n int) []int {
	holds := false
	sole := map[string][]one{}
	easiest := map[string]float64{}
	all := make([]one, len(list))
	for k := range list {
		it := &list[k]
		all[k] = one{it.at, lack(it.short), it.id}
		holds = holds || len(it.short) == 0
		if code, need, only := only(it.short); only {
			sole[code] = append(sole[code], one{append(append([]float64(nil), it.at...), need), 0, it.id})
			if was, have := easiest[code]; !have || need < was {
				easiest[code] = need
			}
		}
	}
	if holds || len(sole) == 0 {
		return ids(fronts(all, n))
	}
	codes := make([]string, 0, len(sole))
	for c := range sole {
		codes = append(codes, c)
	}
	sort.Slice(codes, func(i, j int) bool {
		if a, b := easiest[codes[i]], easiest[codes[j]]; a != b { //nolint:floateq // an order
			return a < b
		}
		return codes[i] < codes[j]
	})
	codes = codes[:min(len(codes), mostClasses)]
	var out []int
	for k, c := range codes {
		out = append(out, ids(fronts(sole[c], (n-len(out))/(len(codes)-k)))...)
	}
	return out
}

// only is the one thing that something is short of, and by how much in typical amounts.
func only(list []Short) (code string, need float64, ok bool) {
	for i := range list {
		if i > 0 && list[i].Code != code {
			return "", 0, false
		}
		code = list[i].Code
		need = max(need, list[i].weight())
	}
	return code, need, len(list) > 0 && need < 10
}

func ids(list []one) []int {
	out := make([]int, len(list))
	for k := range list {
		out[k] = list[k].id
	}
	return out
}
