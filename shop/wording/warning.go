package wording

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"trunnion/chassis/drives"
	"trunnion/chassis/study"
)

// warnings are the sentences of the warning codes; {} takes the figure.
var warnings = map[string]string{
	"wheel-hangs":                  "the wheel hangs: the tyre carries nothing at rest.",
	"coils-touch-at-rest":          "the spring's coils touch at rest[; wheel travel there is {}].",
	"rests-on-metal":               "the damper is closed metal to metal at rest[, with {} on it].",
	"rests-past-stop-table":        "at rest the stop is crushed[ {},] past the end of its table: its force is not known there.",
	"rests-on-stop":                "rests on the bump stop[, crushed {}].",
	"spring-loose-at-rest":         "the spring is loose in its seats[ by {}] at rest.",
	"links-lock":                   "by the hardpoints the links lock[ at {} of wheel travel,] before damper and stop end it: look at the points and the damper's lengths again.",
	"one-weighing-rate-or-preload": "One weighing fixes what each corner carries, not how: spring rate against preload, and gas, bushes and stop beside them, show only as a sum. A second weighing with known ballast over the axle tells the rate.",
	"one-weighing-friction":        "One weighing cannot show friction: the corner may hang anywhere within its friction. Weigh once after pressing the car down and once after lifting it; half the difference is the friction.",
	"one-weighing-bars-on":         "Weighed with the anti-roll bars on: their preload hides in the corner loads. Take one drop link off each bar and weigh again.",
	drives.MountRatingAssumed:      "a rated range was assumed for an upper mount: enter what each bears a million times.",
	"not-settled":                  "The car was not settled before it was read: roll it, bounce it, and read again.",
	"seat-length-inferred":         "the installed spring length was not measured and is inferred from the load[, as {}]: the height of every new spring hangs on it. Lay a ruler from seat to seat.",
	"damper-curve-estimated":       "the damper has no dyno curve; its damping is an estimate until one is run.",
	"draws-without-rest":           "some of the draws[, {} of them,] find no rest position: the car is near an end of its travel.",
	"between-clicks":               "The click was not on the dyno; its curve lies between its neighbours.",
	"real-poles":                   "The mode does not swing: it creeps back, as two real poles.",
	"same-name-twice":              "Two drives of the brief have one name and different figures; the first is kept. Tell them apart by size.",
	"step-not-settled":             "Halving the time step still moves this figure: take it as rough.",
	"roads-not-driven":             "The roads and obstacles of the brief were not driven.",
}

// Warning is a warning as a sentence, with where it applies.
func (t *Teller) Warning(w *study.Warning) string {
	at, text := t.WarningAt(w)
	if at == "" {
		return upper(text)
	}
	return at + ": " + text
}

// WarningAt is a warning in two parts: where it applies, empty for the whole
// job, and what it says.
func (t *Teller) WarningAt(w *study.Warning) (at, text string) {
	text, ok := warnings[w.Code]
	if !ok {
		text = spaced(w.Code) + "."
	}
	figure := ""
	if w.Unit != "" && !math.IsNaN(w.Value) {
		code := ""
		if w.Code == "draws-without-rest" {
			code = "stop-share" // a share, said in per cent
		}
		figure = t.Amount(code, w.Unit, w.Value)
	}
	text = filled(text, figure)
	var where []string
	if w.Build != "" {
		where = append(where, t.Build(w.Build))
	}
	if w.Load != "" {
		where = append(where, lower(t.Load(w.Load)))
	}
	if c := Corner(w.Corner); c != "" {
		if w.Code == "damper-curve-estimated" {
			c = axle(w.Corner)
		}
		where = append(where, c)
	}
	return strings.Join(where, ", "), text
}

// filled puts a figure where a sentence holds a place for one, and leaves the
// part in square brackets out when there is none.
func filled(text, figure string) string {
	from, to := strings.IndexByte(text, '['), strings.IndexByte(text, ']')
	if from < 0 || to < from {
		return text
	}
	middle := ""
	if figure != "" {
		middle = strings.ReplaceAll(text[from+1:to], "{}", figure)
	}
	return text[:from] + middle + text[to+1:]
}

// Note is a warning that hangs on a value, by its code.
func Note(code string) string {
	if text, ok := warnings[code]; ok {
		return upper(filled(text, ""))
	}
	return upper(spaced(code)) + "."
}

// WarningCodes lists the codes that have a sentence, sorted.
func WarningCodes() []string {
	out := make([]string, 0, len(warnings))
	for code := range warnings {
		out = append(out, code)
	}
	sort.Strings(out)
	return out
}

// Failure says that a case has no answer and what to look at.
func (t *Teller) Failure(f *study.Failure) string {
	return fmt.Sprintf("%s, %s: no answer. %s", t.Build(f.Build), lower(t.Load(f.Load)), t.failed(f.Err))
}
