package levelling

import (
	"encoding/json"
	"fmt"
	"math"
	"time"

	"trunnion/chassis/car"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
)

// Kind is what rounds from the scales are kept as.
const Kind = "scales"

// Entry is one thing that was kept: a round, or that a round was withdrawn. Of
// what is kept nothing is changed later; the order is that of the numbers.
type Entry struct {
	ID     string
	Number int // the keeper's own, over rounds and withdrawals
	Taken  time.Time
	Saved  time.Time
	Who    string
	Text   string
}

// entry is the text of an entry.
type entry struct {
	Round *intake.RoundTyped `json:"round,omitempty"`
	// Turns are those that were made, counted when the round came in: "as was
	// asked" does not change when the wishes do. Null: as asked, by the plan then.
	Turns [4]*float64 `json:"turns"`
	Load  string      `json:"load,omitempty"`
	Start *origin     `json:"start,omitempty"` // of the first round of a build

	Withdraws string `json:"withdraws,omitempty"` // id of a round
	Why       string `json:"why,omitempty"`
}

// origin is how the car stood in the job before its first round.
type origin struct {
	Collars [4]float64         `json:"collars"` // from their start marks [m]
	Before  *intake.RoundTyped `json:"before,omitempty"`
	Load    string             `json:"load,omitempty"` // of Before
}

// Past is a round that was kept.
type Past struct {
	Entry
	Number    int // among the rounds, from 1
	Round     intake.RoundTyped
	Turns     [4]float64 // NaN: as was asked
	Load      string
	Withdrawn *Withdrawal

	made [4]float64 // turns since the last round that stands, those of withdrawn ones in between added
}

// Withdrawal says who took a round back, when and why.
type Withdrawal struct {
	Who, Why string
	When     time.Time
}

// History is what was kept of a build at the scales.
type History struct {
	Rounds []*Past
	start  *origin
}

// Read reads what was kept, in the order of its numbers. An entry that cannot be
// read is passed over: it was not written by this program.
func Read(list []Entry) *History {
	h := &History{}
	for _, e := range list {
		var x entry
		if json.Unmarshal([]byte(e.Text), &x) != nil {
			continue
		}
		switch {
		case x.Withdraws != "":
			h.withdraw(x.Withdraws, &Withdrawal{Who: e.Who, Why: x.Why, When: e.Saved})
		case x.Round != nil:
			p := &Past{Entry: e, Number: len(h.Rounds) + 1, Round: *x.Round, Load: x.Load}
			for i := range 4 {
				p.Turns[i] = math.NaN()
				if x.Turns[i] != nil {
					p.Turns[i] = *x.Turns[i]
				}
			}
			p.made = p.Turns
			if h.start == nil && x.Start != nil {
				h.start = x.Start
			}
			h.Rounds = append(h.Rounds, p)
		}
	}
	return h
}

// withdraw takes a round back. Of the last one the turns go with it: they are
// said again with the round that takes its place. Those of an earlier one were
// made all the same, and count for the next.
func (h *History) withdraw(id string, w *Withdrawal) {
	for k, p := range h.Rounds {
		if p.ID != id || p.Withdrawn != nil {
			continue
		}
		p.Withdrawn = w
		for _, next := range h.Rounds[k+1:] {
			if next.Withdrawn == nil {
				for i := range 4 {
					next.made[i] += p.made[i]
				}
				return
			}
		}
		return
	}
}

// Round finds a round that was kept.
func (h *History) Round(id string) (*Past, bool) {
	for _, p := range h.Rounds {
		if p.ID == id {
			return p, true
		}
	}
	return nil, false
}

// Standing are the rounds that were not withdrawn.
func (h *History) Standing() (list []*Past) {
	for _, p := range h.Rounds {
		if p.Withdrawn == nil {
			list = append(list, p)
		}
	}
	return list
}

// Load is the load state of the last round that stands; empty without one.
func (h *History) Load() string {
	if list := h.Standing(); len(list) > 0 {
		return list[len(list)-1].Load
	}
	return ""
}

// Weighings are the rounds in a load state, and which ones they are: nil stands
// for what the job held before the first. Rounds in another state give their
// turns to the next.
func (h *History) Weighings(job *jobfile.Job, build *car.Build, load string) (list []intake.Weighing, of []*Past) {
	before, state := h.before(job, build)
	if before != nil && state == load {
		w, _ := before.Weigh()
		w.Turned = [4]float64{}
		list, of = append(list, w), append(of, nil)
	}
	var carried [4]float64
	for _, p := range h.Standing() {
		for i := range 4 {
			carried[i] += p.made[i]
		}
		if p.Load != load {
			continue
		}
		w, _ := p.Round.Weigh()
		w.Turned = carried
		carried = [4]float64{}
		list, of = append(list, w), append(of, p)
	}
	return list, of
}

// before is what the job held of the build when the first round came in; what it
// holds now where none did.
func (h *History) before(job *jobfile.Job, build *car.Build) (*intake.RoundTyped, string) {
	if h.start != nil {
		return h.start.Before, h.start.Load
	}
	return firstRound(job, build)
}

// LeftOut reports whether the job holds readings of the build that were taken in
// another load state, and which one: they are no round of this one.
func (h *History) LeftOut(job *jobfile.Job, build *car.Build, load string) (state string, is bool) {
	before, state := h.before(job, build)
	return state, before != nil && state != load
}

// Collars are where the collars stood before the first round [m]; nil where none
// was kept, and the job's setup holds.
func (h *History) Collars() *[4]float64 {
	if h.start == nil {
		return nil
	}
	at := h.start.Collars
	return &at
}

// RoundText is the text under which a round is kept. Turns that are NaN are kept
// as asked. Collars are where they stood before the first round, from their start
// marks [m].
func (h *History) RoundText(job *jobfile.Job, build *car.Build, load string, round *intake.RoundTyped, turns, collars [4]float64) (string, error) {
	x := entry{Round: round, Load: load}
	for i := range 4 {
		if !math.IsNaN(turns[i]) {
			x.Turns[i] = &turns[i]
		}
	}
	if len(h.Rounds) == 0 {
		before, state := h.before(job, build)
		x.Start = &origin{Collars: collars, Before: before, Load: state}
	}
	return textOf(&x)
}

// WithdrawText is the text under which it is kept that a round was withdrawn.
func WithdrawText(id, why string) (string, error) {
	return textOf(&entry{Withdraws: id, Why: why})
}

func textOf(x *entry) (string, error) {
	text, err := json.Marshal(x)
	if err != nil {
		return "", fmt.Errorf("levelling: a round that cannot be written: %w", err)
	}
	return string(text), nil
}

// Put is a value that goes into the job, at its path; or what is taken out.
type Put struct {
	Path, Value string
	Out         bool
}

// Keep is what writes the last good readings of a build and the places of its
// collars into the job. What stands there already is left out.
func (l *Result) Keep(text []byte, length func(metres float64) string, mass func(kilograms float64) string, typed *intake.RoundTyped) (list []Put) {
	k := l.LastGood()
	if k < 0 {
		return nil
	}
	under := "builds." + l.Build.ID + "."
	put := func(path, value string) {
		if piece, err := jobfile.Piece(text, under+path); err == nil && unquoted(piece) == value {
			return
		}
		list = append(list, Put{Path: under + path, Value: value})
	}
	places := [4]string{"front_left", "front_right", "rear_left", "rear_right"}
	got := &l.Rounds[k].Got
	for i, place := range places {
		load, height := mass(got.Load[i]), length(got.Height[i])
		if typed != nil && len(typed.Again) == 0 && typed.Turned180 == nil && len(typed.Loads) == 4 && len(typed.Heights) == 4 {
			load, height = typed.Loads[i], typed.Heights[i] // read once: as it was typed
		}
		put("readings.load."+place, load)
		put("readings.arch_height."+place, height)
	}
	if l.Load != "" {
		put("readings.state", l.Load)
	}
	put("readings.bars", "off")
	at := l.At()
	heights := wantsHeights(l.Build)
	if heights { // the collars stand where they stand, and no longer where these would put them
		list = append(list, Put{Path: under + "setup.heights", Out: true})
	}
	for i, place := range places {
		if l.Build.Corner[i].Platform == nil {
			continue
		}
		key := "setup.platform."
		if isBody(l.Build, i) {
			key = "setup.body_length."
		}
		const seen = 5e-6 // less is the rounding of what was written [m]
		if now := Collars(l.Build); heights || math.Abs(now[i]-at[i]) > seen {
			put(key+place, length(at[i]))
		}
	}
	return list
}

func unquoted(text string) string {
	if n := len(text); n >= 2 && (text[0] == '"' || text[0] == '\'') && text[n-1] == text[0] {
		return text[1 : n-1]
	}
	return text
}
