package pastjobs

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Turn is one thing to do on the car.
type Turn struct {
	Order  int     `json:"order"` // of the work: 1 is first
	Kind   string  `json:"kind"`  // part, packer, bar-hole, collar, body, links, pressures, click, ballast, heights
	Build  string  `json:"build"`
	Place  string  `json:"place"`  // "rear left", "front"
	Text   string  `json:"text"`   // the whole instruction
	From   string  `json:"from"`   // as it is now
	To     string  `json:"to"`     // as it shall be
	Amount float64 `json:"amount"` // turns, clicks or metres, by Unit; positive: up, or towards open
	Unit   string  `json:"unit"`   // turns, clicks, m; empty where it is not counted
	Refuse string  `json:"refuse"` // why no figure is told
}

// Way is how to bring a car from one state to another.
type Way struct {
	Turns    []Turn   `json:"turns"`
	Cautions []string `json:"cautions"` // before the first turn
	After    []string `json:"after"`    // to be looked at when all is done
	Record   []Line   `json:"record"`   // what differs on paper only: readings, prices, words, a part's own figures
	// Text is the job as it is now with the builds as they were; Edits is what that
	// changes. Empty where nothing differs.
	Text  []byte               `json:"-"`
	Edits []jobfile.Difference `json:"edits"`
	// Fault says why the text could not be made, though the turns stand: a value
	// that is shared by a name (&), say.
	Fault string `json:"fault,omitempty"`
}

// The order of work. Parts are changed with the wheels hanging, collars while the
// car is still up, links and pressures on the ground, clicks last: they are
// counted from closed with nothing else to be done. Common practice, no source.
var workOrder = []string{"part", "packer", "bar-hole", "ballast", "body", "collar", "links", "pressures", "heights", "click"}

// WayBack says what to do so that a car set as one text of a job says comes to
// stand as another says. builds are those that count; all that both texts have
// when none is named.
func WayBack(now, then []byte, system quantity.System, builds ...string) (*Way, error) {
	from, faults := jobfile.ReadBytes(now, "now")
	if from == nil {
		return nil, jobfile.AsError("the job as it is now", faults)
	}
	to, faults := jobfile.ReadBytes(then, "then")
	if to == nil {
		return nil, jobfile.AsError("the job as it was", faults)
	}
	w := &walk{way: &Way{}, system: system, did: map[string]bool{}}
	both := map[string]bool{}
	for _, a := range from.Builds {
		b := buildOf(to, a.ID)
		if b == nil || len(builds) > 0 && !slices.Contains(builds, a.ID) {
			continue
		}
		both[a.ID] = true
		w.build(a, b)
	}
	for _, id := range builds {
		if !both[id] {
			return nil, fmt.Errorf("build %q is not in both states", id)
		}
	}
	differs := jobfile.Differ(now, then)
	onCar := func(path string) bool {
		words := strings.Split(path, ".")
		return words[0] == "builds" && len(words) > 2 && both[words[1]] && (kindOf(path) == "setup" || kindOf(path) == "part")
	}
	for _, d := range differs {
		words := strings.Split(d.Path, ".")
		if onCar(d.Path) {
			// What no turn does is said, so that nothing is lost: a figure of a part, a
			// thread, a tyre.
			if len(words) > 3 && words[2] != "setup" && !w.did[keyPath(words)] {
				w.way.Record = append(w.way.Record, Lines([]jobfile.Difference{d})...)
			}
			continue
		}
		if words[0] != "builds" || len(words) > 1 && (both[words[1]] || len(builds) == 0) {
			w.way.Record = append(w.way.Record, Lines([]jobfile.Difference{d})...)
		}
	}
	if err := w.edits(now, then, onCar); err != nil {
		w.way.Fault = err.Error()
	}
	w.order()
	return w.way, nil
}

// keyPath is where a key of an axle stands, or of one of its sides, of a path in it.
func keyPath(words []string) string {
	n := 4
	if len(words) > 4 && slices.Contains(car.SideNames[:], words[3]) {
		n = 5
	}
	return strings.Join(words[:n], ".")
}

// done keeps that a turn is about a key of an axle, wherever it stands.
func (w *walk) done(build string, x int, key string) {
	axle := "builds." + build + "." + car.AxleNames[x] + "."
	w.did[axle+key] = true
	for _, side := range car.SideNames {
		w.did[axle+side+"."+key] = true
	}
}

// where is a place of turns: both sides of an axle that are alike, or one.
type where struct {
	corner int
	place  string // "front", or "front left"
	both   string // ", both sides", or nothing
}

// sides are the places of an axle's turns: one where its sides are alike now and
// were alike then, else each side.
func sides(x int, alike bool) []where {
	l := 2 * x
	if alike {
		return []where{{l, car.AxleNames[x], ", both sides"}}
	}
	return []where{{l, wording.Corner(l), ""}, {l + 1, wording.Corner(l + 1), ""}}
}

// edits makes the text that says what the turns do. A part that the job has no
// more comes back with it.
func (w *walk) edits(now, then []byte, onCar func(string) bool) error {
	had := map[string]bool{}
	for _, f := range jobfile.Fields(now) {
		had[partPath(f.Path)] = true
	}
	text, edits, err := jobfile.PutBack(now, then, func(path string) bool {
		p := partPath(path)
		return onCar(path) || p != "" && !had[p]
	})
	if err != nil {
		return err
	}
	// Only the builds are put back: a part that the later job has and the earlier
	// has not stays on its list.
	if len(edits) == 0 {
		return nil
	}
	if job, faults := jobfile.ReadBytes(text, "the job put back"); job == nil {
		return jobfile.AsError("the job put back", faults)
	}
	w.way.Text, w.way.Edits = text, edits
	return nil
}

// partPath is "parts.springs.rear-60" of a path in it; empty for others.
func partPath(path string) string {
	words := strings.SplitN(path, ".", 4)
	if words[0] != "parts" || len(words) < 3 {
		return ""
	}
	return strings.Join(words[:3], ".")
}

func buildOf(job *jobfile.Job, id string) *car.Build {
	for _, b := range job.Builds {
		if b.ID == id {
			return b
		}
	}
	return nil
}

type walk struct {
	way    *Way
	system quantity.System
	did    map[string]bool // paths of an axle's keys that a turn is about
}

func (w *walk) add(t Turn) { w.way.Turns = append(w.way.Turns, t) }

func (w *walk) length(v float64) string {
	return quantity.Format(v, quantity.Length, w.system, quantity.Auto)
}

// build compares two states of one build.
func (w *walk) build(a, b *car.Build) {
	for x := range 2 {
		w.parts(a, b, x)
		w.packer(a, b, x)
		w.hole(a, b, x)
		w.clicks(a, b, x)
	}
	for i := range 4 {
		w.thread(a, b, i)
		if h, g := a.Setup.WantedHeight[i], b.Setup.WantedHeight[i]; h.Known() != g.Known() || h.Known() && math.Abs(h.Value-g.Value) > 5e-5 {
			t := Turn{Kind: "heights", Build: a.ID, Place: wording.Corner(i), From: w.typed(h), To: w.typed(g)}
			t.Text = wording.Upper(wording.Corner(i)) + ": level on the scales to " + w.length(g.Value) + " hub to arch; the collar's position is not recorded"
			if !g.Known() {
				t.Text = wording.Upper(wording.Corner(i)) + ": no height was wanted then; set the collar's position"
			}
			w.add(t)
		}
	}
	if a.Setup.BarsOff != b.Setup.BarsOff {
		t := Turn{Kind: "links", Build: a.ID, From: onOff(!a.Setup.BarsOff), To: onOff(!b.Setup.BarsOff)}
		t.Text = "Take one drop link off each bar."
		if !b.Setup.BarsOff {
			t.Text = "Fit the drop links with the driver aboard: the last one goes in by hand."
		}
		w.add(t)
	}
	if a.Setup.Pressures != b.Setup.Pressures {
		t := Turn{Kind: "pressures", Build: a.ID, From: a.Setup.Pressures, To: b.Setup.Pressures, Text: "Tyre pressures, cold: " + b.Setup.Pressures + " (now " + cmp.Or(a.Setup.Pressures, "not recorded") + ")."}
		if b.Setup.Pressures == "" {
			t.Text, t.Refuse = "Tyre pressures: not recorded.", "not recorded"
		}
		w.add(t)
	}
	if mass := massOf(a); mass != massOf(b) {
		w.add(Turn{Kind: "ballast", Build: a.ID, From: mass, To: massOf(b), Text: "Added or removed mass: now " + cmp.Or(mass, "none") + "; then " + cmp.Or(massOf(b), "none") + "."})
	}
}

func (w *walk) typed(in figure.Input) string {
	if !in.Known() {
		return ""
	}
	return w.length(in.Value)
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

func massOf(b *car.Build) string {
	var list []string
	for i := range b.Mass {
		m := &b.Mass[i]
		list = append(list, m.Name+" "+quantity.Format(m.Mass.Value, quantity.Mass, quantity.Metric, quantity.Auto))
	}
	return strings.Join(list, ", ")
}

// named are the parts of a corner that are swapped by name, each with what is said of
// it beside.
var named = []struct {
	key, what, extra string
	id               func(p *car.BuildCorner) string
}{
	{"spring", "spring", " Clock both ends into their seats.", func(p *car.BuildCorner) string { return springID(p.Spring) }},
	{"helper", "helper", "", func(p *car.BuildCorner) string { return springID(p.Helper) }},
	{"damper", "damper", " Left and right by their serial numbers.", func(p *car.BuildCorner) string {
		if p.Damper == nil {
			return ""
		}
		return p.Damper.ID
	}},
	{"stop", "bump stop", "", func(p *car.BuildCorner) string {
		if p.Stop == nil {
			return ""
		}
		return p.Stop.ID
	}},
	{"mount", "top mount", "", func(p *car.BuildCorner) string {
		if p.Mount == nil {
			return ""
		}
		return p.Mount.ID
	}},
}

func springID(s *car.SpringSpec) string {
	if s == nil {
		return ""
	}
	return s.ID
}

// parts compares what is fitted at an axle: another part goes in by its name.
func (w *walk) parts(a, b *car.Build, x int) {
	name, l := car.AxleNames[x], 2*x
	for _, part := range named {
		alike := part.id(&a.Corner[l]) == part.id(&a.Corner[l+1]) && part.id(&b.Corner[l]) == part.id(&b.Corner[l+1])
		for _, at := range sides(x, alike) {
			was, is := part.id(&a.Corner[at.corner]), part.id(&b.Corner[at.corner])
			if was == is {
				continue
			}
			w.done(a.ID, x, part.key)
			t := Turn{Kind: "part", Build: a.ID, Place: at.place, From: was, To: is}
			switch {
			case is == "":
				t.Text = fmt.Sprintf("%s %s: %s out, nothing in its place%s.", wording.Upper(at.place), part.what, was, at.both)
			case was == "":
				t.Text = fmt.Sprintf("%s %s: %s in%s.", wording.Upper(at.place), part.what, is, at.both)
			default:
				t.Text = fmt.Sprintf("%s %s: %s out, %s in%s.", wording.Upper(at.place), part.what, was, is, at.both)
			}
			t.Text += part.extra
			w.add(t)
		}
	}
	for side, word := range car.SideNames {
		was, is := a.Corner[2*x+side].Serial, b.Corner[2*x+side].Serial
		if was != is {
			w.done(a.ID, x, "serials")
			w.add(Turn{
				Kind: "part", Build: a.ID, Place: name + " " + word, From: was, To: is,
				Text: fmt.Sprintf("%s %s damper: serial number %s (now %s).", wording.Upper(name), word, cmp.Or(is, "not recorded"), cmp.Or(was, "not recorded")),
			})
		}
	}
}

func (w *walk) packer(a, b *car.Build, x int) {
	of := func(build *car.Build, i int) float64 { return build.Corner[i].Packer.Value }
	l := 2 * x
	for _, at := range sides(x, of(a, l) == of(a, l+1) && of(b, l) == of(b, l+1)) {
		was, is := of(a, at.corner), of(b, at.corner)
		if math.Abs(was-is) < 5e-5 {
			continue
		}
		w.done(a.ID, x, "packer")
		way := "out"
		if is > was {
			way = "in"
		}
		w.add(Turn{
			Kind: "packer", Build: a.ID, Place: at.place, From: w.length(was), To: w.length(is), Amount: is - was, Unit: "m",
			Text: fmt.Sprintf("%s packers: %s %s, from %s to %s%s.", wording.Upper(at.place), w.length(math.Abs(is-was)), way, w.length(was), w.length(is), at.both),
		})
	}
}

func (w *walk) hole(a, b *car.Build, x int) {
	was, is := a.Setup.BarHole[x], b.Setup.BarHole[x]
	if was == is {
		return
	}
	say := func(id string) string { return cmp.Or(id, "the one in use as the car was weighed") }
	w.add(Turn{
		Kind: "bar-hole", Build: a.ID, Place: car.AxleNames[x], From: was, To: is,
		Text: fmt.Sprintf("%s bar: hole %s, now %s; both sides, the last link in by hand with the driver aboard.", wording.Upper(car.AxleNames[x]), say(is), say(was)),
	})
}

func (w *walk) clicks(a, b *car.Build, x int) {
	alike := func(build *car.Build) bool {
		set, l := &build.Setup, 2*x
		p, q := build.Corner[l].Damper, build.Corner[l+1].Damper
		return set.Click[l] == set.Click[l+1] && set.HasClick[l] == set.HasClick[l+1] && (p == q || p != nil && q != nil && p.ID == q.ID)
	}
	for _, at := range sides(x, alike(a) && alike(b)) {
		w.click(a, b, at)
	}
}

// click brings the adjuster of a corner, or both of an axle, to where it stood.
func (w *walk) click(a, b *car.Build, at where) {
	i := at.corner
	has, had := a.Setup.HasClick[i], b.Setup.HasClick[i]
	name := wording.Upper(at.place)
	most := 0
	if d := b.Corner[i].Damper; d != nil {
		most = d.ClickMost
	}
	was, is := a.Setup.Click[i], b.Setup.Click[i]
	t := Turn{Kind: "click", Build: a.ID, Place: at.place}
	switch {
	case !has && !had:
		return
	case !had:
		t.From, t.Text, t.Refuse = fmt.Sprint(was), name+" clicks: not recorded.", "not recorded"
		w.add(t)
		return
	case most > 0 && is > most:
		t.From, t.Refuse = fmt.Sprint(was), "more clicks than the damper has"
		t.Text = fmt.Sprintf("%s clicks: the record says %d, and the damper has %d.", name, is, most)
		w.add(t)
		return
	}
	close := "close gently"
	if at.both != "" {
		close = "close both sides gently"
	}
	t.To = fmt.Sprint(is)
	if !has {
		t.Text = fmt.Sprintf("%s clicks: %s, then %d open. Counted from closed.", name, close, is)
		w.add(t)
		return
	}
	// Another damper is counted anew, whatever the knob says.
	if pd, qd := a.Corner[i].Damper, b.Corner[i].Damper; was == is && (pd == nil || qd == nil || pd.ID == qd.ID) {
		return
	}
	n, way := is-was, "softer, towards open"
	if n < 0 {
		n, way = -n, "firmer, towards closed"
	}
	t.Text = fmt.Sprintf("%s clicks: %s %s, from %d to %d counted from closed%s. To be sure: close gently, then %d open.", name, plural(n, "click"), way, was, is, at.both, is)
	if n == 0 {
		t.Text = fmt.Sprintf("%s clicks of the other damper: %s, then %d open. Counted from closed.", name, close, is)
	}
	t.From, t.Amount, t.Unit = fmt.Sprint(was), float64(is-was), "clicks"
	w.add(t)
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprint(n, " ", what, "s")
}

// thread moves a collar, or screws a body, by the thread of the earlier state.
func (w *walk) thread(a, b *car.Build, i int) {
	for _, one := range []struct {
		kind, what string
		was, is    figure.Input
	}{
		{"collar", "collar", a.Setup.Platform[i], b.Setup.Platform[i]},
		{"body", "damper body", a.Setup.BodyLength[i], b.Setup.BodyLength[i]},
	} {
		move := one.is.Value - one.was.Value
		if math.Abs(move) < 5e-5 {
			continue
		}
		name := wording.Upper(wording.Corner(i)) + " " + one.what
		t := Turn{Kind: one.kind, Build: a.ID, Place: wording.Corner(i), From: w.length(one.was.Value), To: w.length(one.is.Value), Amount: move, Unit: "m"}
		p := b.Corner[i].Platform
		switch {
		case p == nil:
			t.Text, t.Refuse = fmt.Sprintf("%s: to %s from its start mark; the thread is not recorded.", name, w.length(one.is.Value)), "the thread is not recorded"
		case p.Up.Known() && one.is.Value > p.Up.Value+1e-9 || p.Down.Known() && one.is.Value < -p.Down.Value-1e-9:
			t.Text = fmt.Sprintf("%s: the record says %s from the start mark, beyond the thread's range (%s up, %s down). Measure it.", name, w.length(one.is.Value), w.length(p.Up.Value), w.length(p.Down.Value))
			t.Refuse = "beyond the thread's range"
		default:
			up := move > 0
			way, sense := "up", "anticlockwise"
			if !up {
				way = "down"
			}
			if one.kind == "body" {
				way = map[bool]string{true: "longer", false: "shorter"}[up]
			}
			// A right-hand collar under its spring comes up anticlockwise, seen from above.
			if up == p.LeftHand {
				sense = "clockwise"
			}
			if p.Pitch.Known() && p.Pitch.Value > 0 {
				t.Amount, t.Unit = move/p.Pitch.Value, "turns"
				n := t.Amount
				word := "turns"
				if math.Abs(n) <= 1 {
					word = "turn"
				}
				turned := wording.Turns(eighths(n))
				t.Text = fmt.Sprintf("%s: %s %s %s, %s from above (%s), from %s to %s from its start mark.", name, turned, word, way, sense, w.length(math.Abs(move)), t.From, t.To)
				if one.kind == "body" {
					t.Text = fmt.Sprintf("%s: %s %s %s (%s), from %s to %s.", name, turned, word, way, w.length(math.Abs(move)), t.From, t.To)
				}
			} else {
				t.Text = fmt.Sprintf("%s: %s %s, %s from above, from %s to %s from its start mark; the pitch is not recorded.", name, w.length(math.Abs(move)), way, sense, t.From, t.To)
			}
		}
		w.add(t)
	}
}

// eighths rounds turns to what a hand can set; less than a sixteenth is left as it
// is.
func eighths(n float64) float64 {
	if r := math.Round(n*8) / 8; r != 0 {
		return r
	}
	return math.Round(n*100) / 100
}

// order sorts the turns for the work and says what to mind.
func (w *walk) order() {
	slices.SortStableFunc(w.way.Turns, func(a, b Turn) int {
		return cmp.Or(slices.Index(workOrder, a.Kind)-slices.Index(workOrder, b.Kind), strings.Compare(a.Build, b.Build))
	})
	kinds := map[string]bool{}
	for i := range w.way.Turns {
		w.way.Turns[i].Order = i + 1
		kinds[w.way.Turns[i].Kind] = true
	}
	if len(kinds) == 0 {
		return
	}
	c, after := &w.way.Cautions, &w.way.After
	*c = append(*c, "Count every click and measure every collar before the first turn: the car may not stand as the record says.")
	if kinds["part"] || kinds["packer"] || kinds["body"] {
		*c = append(*c, "On stands at rated points, never under a jack. A compressed spring holds hundreds of joules: use a captive compressor, and nobody stands on its axis.",
			"A gas damper pushes its rod out when it is unbolted; never open or heat it.")
	}
	if kinds["collar"] || kinds["body"] {
		*c = append(*c, "Threads clean and greased, wheels hanging. Never past the maker's mark; where there is none, ask before turning further.")
		*after = append(*after, "Lock rings tight and marked.", "Roll and settle, then heights and corner loads against the record.", "Alignment and headlamp aim: both moved with the height.")
	}
	if kinds["part"] || kinds["packer"] {
		*after = append(*after, "Rubber bushes released and tightened at ride height.", "Hoses, leads and drive shafts free at full droop, full bump and both locks.", "Wheel nuts to their torque, and again after 50 to 100 km.")
	}
	if kinds["click"] {
		*c = append(*c, "Clicks are counted from closed; close them with two fingers, without force.")
	}
	if kinds["bar-hole"] || kinds["links"] {
		*after = append(*after, "The last drop link goes in by hand with the driver aboard.")
	}
}
