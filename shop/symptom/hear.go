package symptom

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"
)

// phrase is a phrase of the table with the roots of its words.
type phrase struct {
	text  string
	stems []string
}

// dull are words that every sentence has.
var dull = map[string]bool{}

func init() {
	for _, w := range strings.Fields("a an the it its is are was be been i my me we you he she they this that when while if and or but of in on at to by for with from as so then there than very really just only all any some do does did has have had get gets got go goes going car lot bit also too when") {
		dull[w] = true
	}
}

// stems takes a text apart into the roots of its words: small letters, without
// the endings that a sentence gives them. It knows English endings only.
func stems(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(strings.ReplaceAll(text, "'", "")), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if !dull[w] {
			out = append(out, stem(w))
		}
	}
	return out
}

// roots are the stems of a text, those that are taken for one another made one.
func (r *Rules) roots(text string) []string {
	out := stems(text)
	for i, w := range out {
		if one, ok := r.same[w]; ok {
			out[i] = one
		}
	}
	return out
}

func stem(w string) string {
	for _, end := range []string{"iness", "ness", "ing", "ily", "ies", "ied", "est", "er", "ed", "es", "ly", "y", "s", "e"} {
		if short, ok := strings.CutSuffix(w, end); ok && len([]rune(short)) >= 3 {
			w = short
			break
		}
	}
	if n := len(w); n > 3 && w[n-1] == w[n-2] {
		w = w[:n-1] // hopp, hop
	}
	return w
}

// weigh gives each stem its weight: a word of few symptoms says more than one of
// many.
func (r *Rules) weigh() {
	in := map[string]int{}
	for i := range r.Symptoms {
		seen := map[string]bool{}
		for _, p := range append(slices.Clone(r.Symptoms[i].words), r.Symptoms[i].when...) {
			for _, s := range p.stems {
				if !seen[s] {
					seen[s] = true
					in[s]++
				}
			}
		}
	}
	r.weights = make(map[string]float64, len(in))
	for s, n := range in {
		r.weights[s] = math.Log(1 + float64(len(r.Symptoms))/float64(n))
	}
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
	said := r.roots(words)
	at := append(r.roots(when), said...)
	var out []Heard
	for i := range r.Symptoms {
		s := &r.Symptoms[i]
		h := Heard{ID: s.ID, Say: s.Say, RuleOut: s.RuleOut}
		counted := map[string]bool{}
		add := func(phrases []phrase, in []string, factor float64) {
			for _, p := range phrases {
				lacks := 0
				for _, w := range p.stems {
					if !slices.Contains(in, w) {
						lacks++
					}
				}
				share := factor
				switch {
				case lacks == 1 && len(p.stems) >= 3:
					share *= 0.5
				case lacks > 0:
					continue
				}
				fresh := false
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
