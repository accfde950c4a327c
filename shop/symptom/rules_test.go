package symptom

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
)

func TestExpressionsAreReadWithTheirUnits(t *testing.T) {
	for _, tt := range []struct{ text, unit, fault string }{
		{"lowest(travel-to-stop)", "m", ""},
		{"highest(damping-ratio[rebound, 260 mm/s] / damping-ratio[bump, 260 mm/s])", "1", ""},
		{"front-transfer-share - front-share", "1", ""},
		{"(mean(front(arch-height)) - mean(rear(arch-height))) / wheelbase", "1", ""},
		{"highest(stop-hits[over 1000 N])", "1/m", ""},
		{"2 * mean(corner-frequency)", "Hz", ""},
		{"no-such-code", "", "no result is called"},
		{"travel-to-stop - corner-frequency", "", "cannot be put together"},
		{"lowest(travel-to-stop", "", "is not closed"},
		{"damping-ratio[sideways]", "", "chooses nothing"},
		{"travel-to-stop travel-to-open", "", "unexpected"},
		{"", "", "enter a code"},
		{strings.Repeat("(", 100) + "1" + strings.Repeat(")", 100), "", "too deep"},
	} {
		_, unit, err := parseExpression(tt.text)
		switch {
		case tt.fault == "" && (err != nil || unit != tt.unit):
			t.Errorf("%q comes out in %q (%v); want %q", tt.text, unit, err, tt.unit)
		case tt.fault != "" && (err == nil || !strings.Contains(err.Error(), tt.fault)):
			t.Errorf("%q gives %v; want %q", tt.text, err, tt.fault)
		}
	}
}

// Every expression of the table comes out as one figure on the demo, or says what
// is missing: none is of the wrong shape.
func TestEveryEvidenceOfTheTableCanBeLookedAt(t *testing.T) {
	rules, err := Standard()
	if err != nil {
		t.Fatal(err)
	}
	a, _, _ := answerOf(t, demo(t), "kit")
	s := &scene{was: a, now: a, build: "kit", load: "driver", usual: "driver", laden: "holiday", shapes: map[string][2]float64{}}
	there, gone := 0, 0
	for id, c := range rules.causes {
		for i := range c.evidence {
			g, err := s.figureOf(c.evidence[i].of)
			var absent *missing
			switch {
			case err == nil:
				there++
				if f := c.evidence[i].factor(g); f < 1/c.evidence[i].strength-1e-12 || f > c.evidence[i].strength+1e-12 || math.IsNaN(f) {
					t.Errorf("%s: factor %g is beyond its strength %g", id, f, c.evidence[i].strength)
				}
			case errors.As(err, &absent):
				gone++
				t.Logf("%s: %v", id, err)
			default:
				t.Errorf("%s: %v", id, err)
			}
		}
	}
	if there < 55 || gone > 3 {
		t.Errorf("%d figures are there, %d are missing", there, gone)
	}
}

// A figure is worked out by hand from the values it is made of.
func TestFigureAgainstTheAnswersOwnValues(t *testing.T) {
	a, _, _ := answerOf(t, demo(t), "kit")
	s := &scene{was: a, now: a, build: "kit", load: "holiday", usual: "driver", laden: "holiday", shapes: map[string][2]float64{}}
	at := func(code string, corner int) float64 { return a.Get(code, "kit", "holiday", corner).Value }
	ratio := func(direction string) float64 {
		for i := range a.Values {
			v := &a.Values[i]
			p := v.Place
			if v.Code == "damping-ratio" && p.Build == "kit" && p.Load == "holiday" && p.Corner == figure.RearLeft && p.Direction == direction && p.Velocity == 0.26 && p.Click == 7 {
				return v.Value
			}
		}
		t.Fatal("no such ratio")
		return 0
	}
	height := func(c int) float64 { return at("arch-height", c) }
	for text, want := range map[string]float64{
		"lowest(travel-to-stop)":                                                               min(at("travel-to-stop", 0), at("travel-to-stop", 1), at("travel-to-stop", 2), at("travel-to-stop", 3)),
		"mean(front(arch-height)) - mean(rear(arch-height))":                                   0.5*(height(0)+height(1)) - 0.5*(height(2)+height(3)),
		"highest(apart(arch-height))":                                                          max(math.Abs(height(0)-height(1)), math.Abs(height(2)-height(3))),
		"abs(cross-share-front-right-rear-left - 0.5)":                                         math.Abs(at("cross-share-front-right-rear-left", figure.NoCorner) - 0.5),
		"lowest(rear(left(damping-ratio[rebound, 260 mm/s])))":                                 ratio("rebound"),
		"lowest(rear(left(damping-ratio[rebound, 260 mm/s] / damping-ratio[bump, 260 mm/s])))": ratio("rebound") / ratio("bump"),
	} {
		e, _, err := parseExpression(text)
		if err != nil {
			t.Fatal(err)
		}
		g, err := s.figureOf(e)
		if err != nil || math.Abs(g.v-want) > 1e-12 {
			t.Errorf("%s is %g (%v); want %g", text, g.v, err, want)
		}
	}
}

func TestFactorRunsEvenlyBetweenItsLimits(t *testing.T) {
	e := &evidence{speaks: 5e-3, silences: 25e-3, strength: 4} // below 5 mm for, above 25 mm against
	for v, want := range map[float64]float64{0: 4, 5e-3: 4, 15e-3: 1, 10e-3: 2, 20e-3: 0.5, 25e-3: 0.25, 1: 0.25} {
		if got := e.factor(got{v: v}); math.Abs(got-want) > 1e-9 {
			t.Errorf("at %g m the factor is %g; want %g", v, got, want)
		}
	}
	narrow := e.factor(got{v: 0, low: -1e-4, high: 1e-4, banded: true})
	wide := e.factor(got{v: 0, low: -60e-3, high: 60e-3, banded: true})
	if math.Abs(narrow-4) > 1e-9 || !(wide < 3.5) {
		t.Errorf("a narrow band gives %g, a wide one %g", narrow, wide)
	}
}

const ownRules = `
trunnion: symptoms/1
same: [marbles pebbles]
causes:
  roof-box:
    name: the roof box
    silent: it is not computed
    check: take it off
    else: leave it at home
    back: put it on again
symptoms:
  - id: whistles
    say: whistles at speed
    words: [whistles, howls, marbles]
    causes: {roof-box: 0.9, loose-fastener: 0.1}
  - id: rattle
    say: rattles somewhere else
    words: [zzz]
    causes: {roof-box: 1}
`

func TestOwnRulesGoOverTheProgramsOwn(t *testing.T) {
	rules, err := Standard([]byte(ownRules))
	if err != nil {
		t.Fatal(err)
	}
	if len(rules.Symptoms) != 42 {
		t.Errorf("%d symptoms; want the 40 and one", len(rules.Symptoms))
	}
	if h := rules.Hear("it howls on the motorway", ""); len(h) == 0 || h[0].ID != "whistles" {
		t.Errorf("heard %+v", h)
	}
	if h := rules.Hear("like pebbles", ""); len(h) == 0 || h[0].ID != "whistles" {
		t.Errorf("a word taken for another is not heard: %+v", h)
	}
	if h := rules.Hear("clatter", ""); len(h) != 0 {
		t.Errorf("the row that was replaced is still heard: %+v", h)
	}
	for name, text := range map[string]string{
		"version":       strings.Replace(ownRules, "symptoms/1", "symptoms/9", 1),
		"unknown key":   strings.Replace(ownRules, "back:", "forth:", 1),
		"no cause":      strings.Replace(ownRules, "roof-box: 0.9", "roof-bax: 0.9", 1),
		"share":         strings.Replace(ownRules, "0.9", "9", 1),
		"not YAML":      "trunnion: [",
		"silent":        strings.Replace(ownRules, "    silent: it is not computed\n", "", 1),
		"unit":          strings.Replace(ownRules, "silent: it is not computed", "evidence: [{of: lowest(travel-to-stop), say: x, for: below 5 Hz, against: above 6 mm}]", 1),
		"wrong way":     strings.Replace(ownRules, "silent: it is not computed", "evidence: [{of: lowest(travel-to-stop), say: x, for: below 5 mm, against: above 4 mm}]", 1),
		"unknown step":  strings.Replace(ownRules, "silent: it is not computed", "silent: x\n    first: [{do: pray}]", 1),
		"step's size":   strings.Replace(ownRules, "silent: it is not computed", "silent: x\n    first: [{do: raise, by: high}]", 1),
		"step's axle":   strings.Replace(ownRules, "silent: it is not computed", "silent: x\n    first: [{do: raise, by: 5 mm, axle: middle}]", 1),
		"no finding":    strings.Replace(ownRules, "silent: it is not computed", "silent: x\n    first: [{do: remedy}]", 1),
		"strength":      strings.Replace(ownRules, "silent: it is not computed", "evidence: [{of: lowest(travel-to-stop), say: x, for: below 5 mm, against: above 6 mm, strength: 0}]", 1),
		"words missing": strings.Replace(ownRules, "    words: [whistles, howls, marbles]\n", "", 1),
	} {
		if _, err := Standard([]byte(text)); err == nil {
			t.Errorf("%s: it was taken", name)
		}
	}
}

func TestAskSaysWhatItLookedAt(t *testing.T) {
	rules, err := Standard()
	if err != nil {
		t.Fatal(err)
	}
	a, findings, tell := answerOf(t, demo(t), "kit")
	ask := func(q Question) *Asked {
		t.Helper()
		got, err := rules.Ask(t.Context(), a, findings, tell, q)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	if got := ask(Question{Words: "the moon is bright", Build: "kit"}); !got.Open || len(got.Rows) != 41 || len(got.Causes) != 0 {
		t.Errorf("words of no row give %+v", got)
	}
	for _, tt := range []struct{ words, when, want string }{
		{"it dives", "", "driver"},
		{"it crashes", "with everybody in", "holiday"},
		{"it crashes", "four aboard", "four-aboard"},
		{"it rolls", "on a hill climb", "hill-climb"},
		{"it crashes", "two aboard", "driver"},
	} {
		if got := ask(Question{Words: tt.words, When: tt.when, Build: "kit"}); got.Load != tt.want {
			t.Errorf("%q %q is looked at in %s (%s); want %s", tt.words, tt.when, got.Load, got.LoadWhy, tt.want)
		}
	}
	got := ask(Question{Symptom: "jiggly", Build: "kit", Most: 2})
	if len(got.Causes) != 2 || got.Causes[0].Rank != 1 || got.Causes[0].Check == "" || got.Causes[0].Back == "" || got.Causes[0].First.Text == "" || got.Caution == "" {
		t.Errorf("the answer is %+v", got)
	}
	for _, q := range []Question{{Words: "it dives", Build: "none"}, {Words: "it dives", Build: "kit", Load: "none"}, {Symptom: "none", Build: "kit"}} {
		if _, err := rules.Ask(t.Context(), a, findings, tell, q); err == nil {
			t.Errorf("%+v was answered", q)
		}
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := rules.Ask(gone, a, findings, tell, Question{Words: "it dives", Build: "kit"}); !errors.Is(err, context.Canceled) {
		t.Errorf("a question nobody waits for gives %v", err)
	}
	again := ask(Question{Words: "it crashes", When: "full load", Build: "kit"})
	if once := ask(Question{Words: "it crashes", When: "full load", Build: "kit"}); !slices.EqualFunc(once.Causes, again.Causes, func(x, y Proposal) bool { return x.ID == y.ID && x.Weight == y.Weight }) {
		t.Errorf("the same question is answered twice unlike")
	}
}

// A change whose edits are put into the job gives the figure it promised.
func TestEditsDoWhatTheChangePromised(t *testing.T) {
	rules, err := Standard()
	if err != nil {
		t.Fatal(err)
	}
	text := demo(t)
	a, findings, tell := answerOf(t, text, "kit")
	// The scales' move is the desk's to find; here it is one turn of each collar, diagonal against diagonal.
	base := (&mender{scene: &scene{was: a, build: "kit"}}).base()
	toHalf := math.Copysign(1, 0.5-a.Get("cross-share-front-right-rear-left", "kit", "driver", figure.NoCorner).Value)
	scale := func(string) *scales.Plan {
		p := &scales.Plan{}
		for i, way := range [4]float64{-1, 1, 1, -1} {
			p.Collar[i] = scales.Turned(base.Corner[i].Platform, toHalf*way*base.Corner[i].Platform.Pitch.Value)
		}
		return p
	}
	got, err := rules.Ask(t.Context(), a, findings, tell, Question{Symptom: "better-one-way", Build: "kit", Level: scale})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(got.Causes, func(p Proposal) bool { return p.ID == "cross-weight-off" })
	if i < 0 || len(got.Causes[i].First.Edits) != 4 || !got.Causes[i].First.Computed {
		t.Fatalf("the causes are %+v", got.Causes)
	}
	for _, e := range got.Causes[i].First.Edits {
		if text, err = putIn(text, e); err != nil {
			t.Fatal(err)
		}
	}
	after, _, _ := answerOf(t, text, "kit")
	cross := math.Abs(after.Get("cross-share-front-right-rear-left", "kit", "driver", figure.NoCorner).Value - 0.5)
	if promised, is := got.Causes[i].First.Then[0], "to "+tell.Amount("stop-share", "1", cross); !strings.Contains(promised, is) {
		t.Errorf("with the edits cross weight is %s; the promise was %q", is, promised)
	}
}
