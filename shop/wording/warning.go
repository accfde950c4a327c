package wording

import (
	"fmt"
	"sort"
	"strings"

	"trunnion/chassis/study"
)

// warnings are the sentences of the warning codes; {} takes the figure.
var warnings = map[string]string{
	"wheel-hangs":                  "the wheel hangs: the tyre carries nothing at rest.",
	"coils-touch-at-rest":          "the spring's coils touch at rest; wheel travel there is {}.",
	"rests-on-metal":               "the damper is closed metal to metal at rest, with {} on it.",
	"rests-past-stop-table":        "at rest the stop is crushed {}, past the end of its table: its force is not known there.",
	"rests-on-stop":                "rests on the bump stop, crushed {}.",
	"spring-loose-at-rest":         "the spring is loose in its seats by {} at rest.",
	"one-weighing-rate-or-preload": "One weighing fixes what each corner carries, not how: spring rate against preload, and gas, bushes and stop beside them, show only as a sum. A second weighing with known ballast over the axle tells the rate.",
	"one-weighing-friction":        "One weighing cannot show friction: the corner may hang anywhere within its friction. Weigh once after pressing the car down and once after lifting it; half the difference is the friction.",
	"one-weighing-bars-on":         "Weighed with the anti-roll bars on: their preload hides in the corner loads. Take one drop link off each bar and weigh again.",
	"not-settled":                  "The car was not settled before it was read: roll it, bounce it, and read again.",
	"seat-length-inferred":         "the installed spring length was not measured and is inferred from the load, as {}: the height of every new spring hangs on it. Lay a ruler from seat to seat.",
	"damper-curve-estimated":       "the damper has no dyno curve; its damping is an estimate until one is run.",
	"draws-without-rest":           "{} of the draws within the bands find no rest position: the car is near an end of its travel.",
	"between-clicks":               "The click was not on the dyno; its curve lies between its neighbours.",
	"real-poles":                   "The mode does not swing: it creeps back, as two real poles.",
	"step-not-settled":             "Halving the time step still moves this figure: take it as rough.",
	"roads-not-driven":             "The roads and obstacles of the brief were not driven.",
}

// Warning is a warning as a sentence, with where it applies.
func (t *Teller) Warning(w *study.Warning) string {
	text, ok := warnings[w.Code]
	if !ok {
		text = spaced(w.Code) + "."
	}
	if strings.Contains(text, "{}") {
		figure := "not known"
		if w.Unit != "" {
			code := ""
			if w.Code == "draws-without-rest" {
				code = "stop-share" // a share, said in per cent
			}
			figure = t.Amount(code, w.Unit, w.Value)
		}
		text = strings.Replace(text, "{}", figure, 1)
	}
	var at []string
	if w.Build != "" {
		at = append(at, t.Build(w.Build))
	}
	if w.Load != "" {
		at = append(at, lower(t.Load(w.Load)))
	}
	if c := Corner(w.Corner); c != "" {
		if w.Code == "damper-curve-estimated" {
			c = axle(w.Corner)
		}
		at = append(at, c)
	}
	if len(at) == 0 {
		return upper(text)
	}
	return strings.Join(at, ", ") + ": " + text
}

// Note is a warning that hangs on a value, by its code.
func Note(code string) string {
	if text, ok := warnings[code]; ok {
		return upper(strings.ReplaceAll(text, ", as {}", ""))
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
