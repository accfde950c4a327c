package pastjobs

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
)

// Traits are what cars are compared by.
type Traits struct {
	Build   string             `json:"build"`   // that left the workshop, or the last one
	Mass    float64            `json:"mass"`    // as weighed [kg]
	Front   float64            `json:"front"`   // share of the weight on the front [-]
	Rate    [2]float64         `json:"rate"`    // at the wheel, front and rear [N/m]
	Hertz   [2]float64         `json:"hertz"`   // on the springs, front and rear [Hz]
	Damping [2]float64         `json:"damping"` // ratio at the study's main speed; 0: not known [-]
	Uses    map[string]float64 `json:"uses"`    // share of each use [-]
	Left    bool               `json:"left"`    // the handover is signed
}

// traitsKind is under what they are kept.
const traitsKind = "traits/1"

var errNoTraits = errors.New("the job cannot be computed")

// Plain studies a build alone in load states of its own, without bands.
type Plain func(ctx context.Context, job *jobfile.Job, build *car.Build, loads []car.Load) (*study.Answer, error)

// TraitsOf finds them in a job's text: of the build that is handed over, else of
// the last one with readings, else of the last one.
func TraitsOf(ctx context.Context, text []byte, plain Plain) (*Traits, error) {
	job, _ := jobfile.ReadBytes(text, "job")
	if job == nil || len(job.Builds) == 0 {
		return nil, errNoTraits
	}
	b := job.Builds[len(job.Builds)-1]
	for _, one := range job.Builds {
		if one.Readings != nil {
			b = one
		}
	}
	t := &Traits{Uses: map[string]float64{}}
	if h := job.Handover; h != nil {
		if one := buildOf(job, h.Build); one != nil {
			b = one
		}
		t.Left = h.Signed != "" || h.SignedBy != ""
	}
	t.Build = b.ID
	for _, u := range job.Brief.Uses {
		t.Uses[strings.ToLower(u.Name)] += u.Share.Value
	}
	load := car.Load{ID: "as-weighed", Items: nil}
	a, err := plain(ctx, job, b, []car.Load{load})
	if err != nil {
		return nil, err
	}
	total := 0.0
	for _, load := range job.Car.EmptyLoads() {
		total += load
	}
	t.Mass = total
	get := func(code string, corner int) float64 {
		v := a.Get(code, b.ID, load.ID, corner)
		if v == nil || v.State == figure.Unknown {
			return 0
		}
		return v.Value
	}
	t.Front = get("front-share", figure.NoCorner)
	for x := range 2 {
		t.Rate[x] = 0.5 * (get("wheel-rate", 2*x) + get("wheel-rate", 2*x+1))
		t.Hertz[x] = 0.5 * (get("corner-frequency", 2*x) + get("corner-frequency", 2*x+1))
		t.Damping[x] = 0.5 * (get("damping-ratio", 2*x) + get("damping-ratio", 2*x+1))
	}
	if t.Mass <= 0 || t.Rate[0] <= 0 || t.Rate[1] <= 0 {
		return nil, errNoTraits
	}
	return t, nil
}

// Near is a past job that is like the one asked about.
type Near struct {
	Job      store.Head `json:"-"`
	ID       string     `json:"id"`    // of the job
	Title    string     `json:"title"` // car, owner and plate
	Build    string     `json:"build"`
	Distance float64    `json:"distance"` // in standard deviations of the workshop's own cars [-]
	Why      []string   `json:"why"`      // each trait of both, the nearest first
	Became   []string   `json:"became"`   // come-backs, re-checks, what was kept or reverted
	Left     bool       `json:"left"`     // it was handed over
}

// mostNear is how many are shown when nobody says, and fewestJobs how many a
// workshop needs on record before their spread says anything. Chosen.
const (
	mostNear   = 5
	fewestJobs = 10
)

// Nearest is what was found.
type Nearest struct {
	Near  []Near `json:"near"`
	Of    int    `json:"of"`    // jobs on record that could be compared
	Doubt string `json:"doubt"` // fewer than ten: the spread is not worth much
}

// FindNearest finds the past jobs that are nearest to a text of a job, from this
// workshop's own records only; the job itself is left out. Each trait counts in
// standard deviations of all jobs on record.
func FindNearest(ctx context.Context, s *store.Store, text []byte, self string, most int, system quantity.System, plain Plain) (*Nearest, error) {
	mine, err := TraitsOf(ctx, text, plain)
	if err != nil {
		return nil, err
	}
	if most <= 0 {
		most = mostNear
	}
	list, err := derivedOf(ctx, s, traitsKind, func(_ store.Head, text []byte) (any, error) { return TraitsOf(ctx, text, plain) })
	if err != nil {
		return nil, err
	}
	type other struct {
		head store.Head
		t    Traits
	}
	var all []other
	for _, d := range list {
		var t *Traits
		if d.head.ID == self || !d.into(&t) || t == nil {
			continue
		}
		all = append(all, other{d.head, *t})
	}
	out := &Nearest{Of: len(all)}
	if len(all) == 0 {
		return out, nil
	}
	if len(all) < fewestJobs {
		out.Doubt = fmt.Sprintf("%s to compare with; with fewer than %d the order says little.", plural(len(all), "job"), fewestJobs)
	}
	sd := make([]float64, len(measures))
	for i := range measures {
		sd[i] = spreadOf(measures[i].least, len(all), func(k int) float64 { return measures[i].of(&all[k].t) })
	}
	for _, o := range all {
		out.Near = append(out.Near, near(mine, &o.t, o.head, sd, system))
	}
	slices.SortStableFunc(out.Near, func(a, b Near) int {
		return cmp.Or(cmp.Compare(a.Distance, b.Distance), b.Job.SavedAt.Compare(a.Job.SavedAt), strings.Compare(a.Job.ID, b.Job.ID))
	})
	out.Near = out.Near[:min(len(out.Near), most)]
	for i := range out.Near {
		notes, err := s.FindNotes(ctx, store.NoteQuery{Job: out.Near[i].Job.ID})
		if err != nil {
			return nil, err
		}
		out.Near[i].Became = became(notes, out.Near[i].Left)
	}
	return out, nil
}

// measures are the traits, with the least standard deviation they are taken to
// have: what makes no difference to a hand. Chosen.
var measures = []struct {
	name  string
	kind  quantity.Kind
	least float64 // [SI]
	of    func(*Traits) float64
}{
	{"mass", quantity.Mass, 40, func(t *Traits) float64 { return t.Mass }},
	{"weight on the front", quantity.Share, 0.02, func(t *Traits) float64 { return t.Front }},
	{"front wheel rate", quantity.Stiffness, 3e3, func(t *Traits) float64 { return t.Rate[0] }},
	{"rear wheel rate", quantity.Stiffness, 3e3, func(t *Traits) float64 { return t.Rate[1] }},
	{"front frequency", quantity.Frequency, 0.1, func(t *Traits) float64 { return t.Hertz[0] }},
	{"rear frequency", quantity.Frequency, 0.1, func(t *Traits) float64 { return t.Hertz[1] }},
}

// leastUses is how unlike two cars' uses are to count as one standard deviation,
// a half being wholly unlike for half of the time. Chosen.
const leastUses = 0.25

func spreadOf(least float64, n int, of func(int) float64) float64 {
	mean, sum := 0.0, 0.0
	for i := range n {
		mean += of(i) / float64(n)
	}
	for i := range n {
		d := of(i) - mean
		sum += d * d
	}
	if n < 2 {
		return least
	}
	return max(least, math.Sqrt(sum/float64(n-1)))
}

// near compares two cars: d² = Σ(Δ/sd)²/n.
func near(mine, other *Traits, head store.Head, sd []float64, system quantity.System) Near {
	n := Near{Job: head, ID: head.ID, Title: joined(head.Car, head.Owner, head.Plate), Build: other.Build, Left: other.Left}
	type term struct {
		d    float64
		text string
	}
	var terms []term
	for i, m := range measures {
		a, b := m.of(mine), m.of(other)
		terms = append(terms, term{math.Abs(a-b) / sd[i], fmt.Sprintf("%s %s, here %s", m.name, quantity.Format(b, m.kind, system, quantity.Auto), quantity.Format(a, m.kind, system, quantity.Auto))})
	}
	if len(mine.Uses) > 0 && len(other.Uses) > 0 {
		apart, same := unlike(mine.Uses, other.Uses)
		terms = append(terms, term{apart / leastUses, fmt.Sprintf("uses alike for %s of the time", quantity.Format(same, quantity.Share, system, 0))})
	}
	sum := 0.0
	for _, t := range terms {
		sum += t.d * t.d
	}
	n.Distance = math.Sqrt(sum / float64(len(terms)))
	slices.SortStableFunc(terms, func(a, b term) int { return cmp.Compare(a.d, b.d) })
	for _, t := range terms {
		n.Why = append(n.Why, t.text)
	}
	return n
}

// joined puts what is not empty behind one another.
func joined(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
}

// unlike is the share of the time that two cars are used unlike, and alike.
func unlike(a, b map[string]float64) (apart, same float64) {
	for use, share := range a {
		same += min(share, b[use])
	}
	same = min(1, same)
	return 1 - same, same
}

// became tells what is on record after the work.
func became(notes []store.Note, left bool) []string {
	var out []string
	kept, reverted := 0, 0
	last := ""
	for i := range notes {
		n := &notes[i]
		switch {
		case n.ComeBack != nil:
			text := "came back: " + n.ComeBack.Cause
			if n.ComeBack.Cost != "" {
				text += ", " + n.ComeBack.Cost
			}
			out = append(out, text)
		case n.Recheck != nil:
			text := "follow-up check"
			if n.Recheck.Km > 0 {
				text += fmt.Sprintf(" after %.0f km", n.Recheck.Km)
			}
			if n.Recheck.Found != "" {
				text += ": " + n.Recheck.Found
			}
			out = append(out, text)
		case n.Change != nil && n.Change.Verdict == "keep":
			kept++
			if n.Change.Words != "" {
				last = n.Change.Words
			}
		case n.Change != nil && n.Change.Verdict == "revert":
			reverted++
		}
	}
	if kept+reverted > 0 {
		out = append(out, fmt.Sprintf("%s kept, %d reverted", plural(kept, "change"), reverted))
	}
	if last != "" {
		out = append(out, "in the owner's words: “"+last+"”")
	}
	switch {
	case len(out) == 0 && left:
		out = append(out, "handed over; nothing was noted since")
	case len(out) == 0:
		out = append(out, "nothing was noted since")
	}
	return out
}
