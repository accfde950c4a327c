package symptom

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
)

func init() {
	for _, w := range strings.Fields("a an the it its is are was be been i my me we you he she they this that when while if and or but of in on at to by for with from as so then there than very really just only all any some do does did has have had get gets got go goes going car lot bit also too when") {
		dull[w] = true
	}
}

// places are words that say where, and so what is there only with another: "at the back".
var places = stems("front nose rear back tail behind side left right inside outside")

// atSpeed is what a number of a road speed means: "above 120".
var atSpeed = stem("speed")

// speeds are the road speeds that people name when they mean fast, in km/h or miles/h. Chosen.
const slowest, fastest = 60, 300

// fast adds that a speed was named to the stems of a text.
func fast(stems []string) []string {
	for i, w := range stems {
		n, err := strconv.Atoi(w)
		if err != nil || n < slowest || n > fastest {
			continue
		}
		before := i > 0 && slices.Contains(overWords, stems[i-1])
		if after := i+1 < len(stems) && slices.Contains(speedUnits, stems[i+1]); before || after {
			return append(slices.Clone(stems), atSpeed)
		}
	}
	return stems
}

var (
	overWords  = stems("above over past beyond around about")
	speedUnits = stems("kmh km kph mph miles")
)

// endOf is the axle that words name, plus one: 0 where they name none, or both.
func (r *Rules) endOf(words string) int {
	said := r.roots(words)
	found := 0
	for axle, name := range car.AxleNames {
		if slices.Contains(said, r.roots(name)[0]) {
			if found != 0 {
				return 0
			}
			found = axle + 1
		}
	}
	return found
}

// Heard is a symptom that was found in the owner's words.
type Heard struct {
	ID      string   `json:"id"`
	Say     string   `json:"say"`
	Share   float64  `json:"share"`   // of the hearing, 0 to 1 [-]
	Matched []string `json:"matched"` // phrases of the table that were found
	RuleOut string   `json:"rule_out"`
	score   float64
}

// mostHeard is how many symptoms one sentence is taken for, and leastHeard how
// much of the best one's score a further one needs. Chosen.
const (
	mostHeard  = 4
	leastHeard = 0.4
)

// Hear finds the symptoms in the owner's words. A phrase of the table is found
// when all its words are there, in whatever order; one of three or more words
// that lacks one counts half, and so does when it happens.
func (r *Rules) Hear(words, when string) []Heard {
	said := fast(r.roots(words))
	at := append(fast(r.roots(when)), said...)
	var out []Heard
	for i := range r.Symptoms {
		s := &r.Symptoms[i]
		h := Heard{ID: s.ID, Say: s.Say, RuleOut: s.RuleOut}
		counted := map[string]bool{}
		add := func(phrases []phrase, in []string, factor float64) {
			for _, p := range phrases {
				lacks := lacking(p.stems, in)
				share := factor
				switch {
				case lacks == 1 && len(p.stems) >= 3:
					share *= 0.5
				case lacks > 0:
					continue
				}
				fresh := false
				if r.onlyPlaces(p.stems) && len(p.stems) == 1 {
					continue
				}
				for _, w := range p.stems {
					if !counted[w] && slices.Contains(in, w) {
						counted[w], fresh = true, true
						h.score += share * r.weights[w]
					}
				}
				if fresh {
					h.Matched = append(h.Matched, p.text)
				}
			}
		}
		add(s.words, said, 1)
		if h.score > 0 {
			add(s.when, at, 0.5)
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(a, b Heard) int { return cmp.Compare(b.score, a.score) })
	if len(out) > 0 {
		least := leastHeard * out[0].score
		out = slices.DeleteFunc(out, func(h Heard) bool { return h.score < least })
		out = out[:min(len(out), mostHeard)]
	}
	sum := 0.0
	for i := range out {
		sum += out[i].score
	}
	for i := range out {
		out[i].Share = out[i].score / sum
	}
	return out
}

// lacking is how many words of a phrase were not said; one that it has twice must be said twice.
func lacking(phrase, said []string) int {
	left := slices.Clone(said)
	lacks := 0
	for _, w := range phrase {
		at := slices.Index(left, w)
		if at < 0 {
			lacks++
			continue
		}
		left = slices.Delete(left, at, at+1)
	}
	return lacks
}

// onlyPlaces reports whether a phrase says where and nothing else.
func (r *Rules) onlyPlaces(phrase []string) bool {
	return !slices.ContainsFunc(phrase, func(w string) bool {
		return !slices.ContainsFunc(places, func(p string) bool { return w == p || w == r.same[p] })
	})
}
