package finding

import "slices"

// hardness orders the findings by what they do to the car and to whoever sits in
// it, hardest first: a remedy may not break a finding as hard as the one it
// mends, or harder. Each group has its reason. The order is common practice, no
// source.
var hardness = []struct {
	reason string
	codes  []string
}{
	{
		"the car cannot be driven like that, or cannot be steered",
		[]string{"rests-on-metal", "coils-touch-at-rest", "wheel-hangs", "rests-past-stop-table", "unstable-at-speed", "unstable-with-trailer", "leaves-the-ground", "tyre-overloaded"},
	},
	{
		"a hose, shaft or joint that ends the travel breaks, and with it the brake or the steering",
		[]string{"limit-met-first"},
	},
	{
		"a spring that leaves its seat can come down beside it",
		[]string{"spring-loose-at-droop"},
	},
	{
		"metal meets metal at full bump: the seat, the mount or the rod gives way",
		[]string{"coils-touch-first", "strut-binds-in-bend"},
	},
	{
		"the tyre is cut at full bump or lock",
		[]string{"tyre-meets-arch-first", "tyre-near-strut", "tyre-outside-lip", "tyre-near-liner"},
	},
	{
		"the bump stop is part of the spring at rest: every bump is felt and the stop wears out",
		[]string{"stop-carries-load", "rests-on-bump-stop", "stop-firm-too-soon"},
	},
	{
		"blows wear the stop and the mount, and the tyre loses the road",
		[]string{"hits-stops-hard", "stop-blow", "mount-wears", "wheel-leaves-ground", "tyre-goes-light", "catches-less-than-before", "trailer-swings", "rod-bends-more", "strut-side-load-up"},
	},
	{
		"the balance changes in a corner or at speed, the car stands crooked, or a wanted travel is short",
		[]string{"meets-stop-in-corner", "lifts-wheel-in-corner", "less-understeer-than-before", "slow-to-settle-at-speed", "nervous-at-speed", "droop-short", "scrub-radius-up", "cross-weight-off", "stands-crooked", "stands-nose-up", "stands-nose-down"},
	},
	{
		"it is felt, and nothing is harmed",
		[]string{"damping-low", "damping-high", "keeps-bouncing", "rear-slower-than-front", "speedometer-reads-low"},
	},
}

// Hardness is the place of a finding in the order of how hard it is, 0 the
// hardest; what stands in no group is as hard as a blow.
func Hardness(code string) int {
	blow := 0
	for i := range hardness {
		if slices.Contains(hardness[i].codes, code) {
			return i
		}
		if slices.Contains(hardness[i].codes, "stop-blow") {
			blow = i
		}
	}
	return blow
}

// AtLeastAsHard reports whether a finding is as hard as another, or harder.
func AtLeastAsHard(code, other string) bool { return Hardness(code) <= Hardness(other) }

// Codes are those of all findings, hardest first.
func Codes() []string {
	var out []string
	for i := range hardness {
		out = append(out, hardness[i].codes...)
	}
	return out
}

// OnlyFelt reports a finding that is felt and harms nothing.
func OnlyFelt(code string) bool { return Hardness(code) == len(hardness)-1 }
