package proof

import (
	"errors"
	"flag"
	"fmt"
	"hash/fnv"
	"maps"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"trunnion/shop/jobfile"
)

var (
	update  = flag.Bool("update", false, "write the golden files anew")
	onlyJob = flag.String("job", "", "look at the inputs of this job alone, and with -update write its keys' lines alone")
)

const golden = "testdata/inputs.golden"

// full reports that long studies are asked for; a tenth of the keys serves
// otherwise.
func full() bool { return os.Getenv("TRUNNION_STUDIES") != "" || *update }

const words = "words that say what the figures beside them are; the page shows them where they are typed"

// testJobs are the jobs of these tests: between them they have every key.
var testJobs = []string{"strut.yaml", "table.yaml", "bare.yaml", "swapped.yaml", "corners.yaml"}

// still are the values that move nothing, each by its path, of one job or of all, with the reason. One that moves something after all is taken off this list: the test
// says so.
var still = map[string]string{
	"builds.arrived.front.bushes":    "the build that was weighed rests where it was weighed, and its bushes with it",
	"builds.arrived.rear.bushes":     "the build that was weighed rests where it was weighed, and its bushes with it",
	"strut.yaml job.by":              "the handover says who measured",
	"builds.arrived.note":            words,
	"builds.kit.note":                words,
	"builds.kit.mass[0].name":        words,
	"car.weighed.aboard[0].name":     words,
	"car.weighed.aboard[1].name":     words,
	"loads.driver.items[0].name":     words,
	"loads.luggage.items[0].name":    words,
	"loads.luggage.items[1].name":    words,
	"car.overall_height":             "the car's outline on the page of corners is drawn by it, and nothing else",
	"parts.dampers.kit-front.piston": "an inverted strut is held by its bushes and not by its piston",
	"parts.dampers.kit-rear.piston":  "a damper that guides no wheel: the piston holds nothing sideways",
	"parts.dampers.old-rear.rod":     "its gas is given as a force, and it guides no wheel",
	"parts.dampers.kit-front.swept":  words,
	"parts.springs.old-rear.inside":  "says which springs of a catalogue fit its seats; remedies are not asked for here",
	"parts.springs.old-rear.price":   "is said of a spring that a remedy buys; remedies are not asked for here",
	"parts.dampers.short-rear.price": "is counted where a search sets parts against each other; none is asked for here",
	"parts.stops.kit.price":          "is counted where a search sets parts against each other; none is asked for here",
	"parts.stops.old.origin":         "the origin sets the band of a table, and this one has a band typed",
}

// further are changes of more than a little, for what is only compared with
// something else, or drawn up to a bound: a little of it moves nothing.
var further = map[string]string{
	"parts.tyres.*.size":                  "195/60 R15 88H",
	"car.kerb_mass":                       "maker 1010 kg",
	"car.front_share":                     "maker 46 %",
	"car.tank":                            "20 l",
	"brief.uses.*":                        "90 %",  // the sheet names the greatest
	"parts.platforms.*.least_engaged":     "47 mm", // so that the thread ends before the turns do
	"car.weighed.rod_showing.front_left":  "95 mm",
	"car.weighed.rod_showing.front_right": "91 mm",
	"car.weighed.rod_showing.rear_left":   "83 mm",
	"car.weighed.rod_showing.rear_right":  "80 mm",
}

// refuses are the keys that take nothing else, each with its reason.
var refuses = map[string]string{
	"trunnion":                "another version is another format",
	"parts.wheels.*.diameter": "a tyre goes on a rim of its own diameter alone",
}

// TestEveryInputMovesSomething changes each number of a few jobs by a little and
// each choice to another, and lists by key what moved. A key that moves nothing
// is a fault, or stands above with its reason. Between them the jobs hold every
// key of the reader's table, so that a new one without a line fails.
func TestEveryInputMovesSomething(t *testing.T) {
	lines := map[string]*line{}
	look := openPage(t)
	for _, name := range testJobs {
		if *onlyJob != "" && name != *onlyJob {
			continue
		}
		c := newChanges(t, readText(t, "testdata/"+name))
		c.name = name
		c.page = look
		if name == "corners.yaml" { // what an axle says is looked at in the others
			c.list = slices.DeleteFunc(c.list, func(one *change) bool { return !ofOneSide.MatchString(one.key) })
		}
		c.run(t)
		for _, one := range c.list {
			if lines[one.key] == nil {
				lines[one.key] = &line{moved: map[string]bool{}, all: map[string]bool{}, stirs: map[string][]string{}}
			}
			lines[one.key].take(c, one)
		}
	}
	for _, key := range jobfile.Keys() {
		if lines[key] == nil && lines[otherAxle(key)] == nil && *onlyJob == "" {
			t.Errorf("%s: no job of this test has this key: give it to one", key)
		}
	}
	keys := slices.Sorted(maps.Keys(lines))
	for _, key := range keys {
		lines[key].judge(t, key)
	}
	compareLines(t, keys, lines)
}

// ofOneSide are the keys that one side of an axle has of its own, and others that no
// other job has.
var ofOneSide = regexp.MustCompile(`\.(front|rear)\.(left|right)\.|(click|pressure)\.(front|rear)_|unsprung_height|(items|mass|aboard)\[\]\.height|gas\.(exponent|read_at|pressure_is)`)

// otherAxle is where points stand that only one axle of the jobs has: one piece of
// the program reads and uses those of both.
func otherAxle(key string) string {
	if after, ok := strings.CutPrefix(key, "car.front.hardpoints."); ok {
		return "car.rear.hardpoints." + after
	}
	if after, ok := strings.CutPrefix(key, "car.rear.hardpoints."); ok {
		return "car.front.hardpoints." + after
	}
	return key
}

// line is what is known of a key.
type line struct {
	moved, all map[string]bool
	nothing    []string            // paths that moved nothing
	refused    []string            // paths that were not taken
	stirs      map[string][]string // paths that are said to move nothing and were looked at, and what they moved
	ran        bool
}

func (l *line) take(c *changes, one *change) {
	if !one.ran {
		return
	}
	l.ran = true
	for _, path := range []string{one.path, c.name + " " + one.path} {
		if still[path] != "" {
			l.stirs[path] = append(l.stirs[path], slices.Sorted(maps.Keys(one.moved))...)
		}
	}
	maps.Copy(l.moved, one.moved)
	maps.Copy(l.all, c.codes)
	switch {
	case one.refused:
		l.refused = append(l.refused, one.path)
	case len(one.moved) == 0 && len(one.to) > 0:
		l.nothing = append(l.nothing, c.name+" "+one.path)
	}
}

// judge says whether a key did what it should.
func (l *line) judge(t *testing.T, key string) {
	t.Helper()
	if !l.ran {
		return
	}
	for _, one := range l.nothing {
		_, path, _ := strings.Cut(one, " ")
		if still[one] != "" {
			path = one
		}
		if still[path] == "" {
			t.Errorf("%s moves nothing: no figure, finding or word", one)
		}
		delete(l.stirs, path)
	}
	for path, moved := range l.stirs {
		t.Errorf("%s moves %s: take it off the list of those that do not (%s)", path, strings.Join(moved, ", "), still[path])
	}
	_, may := refuses[key]
	switch {
	case len(l.moved) == 0 && len(l.refused) > 0 && !may:
		t.Errorf("%s takes no other value: %s", key, strings.Join(l.refused, ", "))
	case may && len(l.refused) == 0:
		t.Errorf("%s takes other values: take it off the list of those that do not", key)
	}
}

// text is a line of the golden file: what moved or, where that is shorter, what
// did not.
func (l *line) text(key string) string {
	list := slices.Sorted(maps.Keys(l.moved))
	if len(list) == 0 && len(l.nothing) > 0 {
		_, path, _ := strings.Cut(l.nothing[0], " ")
		return key + ": nothing: " + still[path]
	}
	if why, there := refuses[key]; there {
		return key + ": not taken: " + why
	}
	var not []string
	for _, code := range slices.Sorted(maps.Keys(l.all)) {
		if !l.moved[code] {
			not = append(not, code)
		}
	}
	if len(not) < len(list) {
		if len(not) == 0 {
			return key + ": everything"
		}
		return key + ": everything but " + strings.Join(not, ", ")
	}
	return key + ": " + strings.Join(list, ", ")
}

// compareLines compares the keys that were looked at with the golden file.
func compareLines(t *testing.T, keys []string, lines map[string]*line) {
	t.Helper()
	if *update && *onlyJob != "" {
		keys = withGolden(t, keys, lines)
	}
	if *update {
		var text strings.Builder
		text.WriteString("# What moves when an input is changed, by its key in the job: codes of figures, findings and\n# warnings, and what else was asked: level (scales), strut, linkage, sheet and page by their parts.\n# Written by the test: go test ./proof -run EveryInput -update.\n")
		for _, key := range keys {
			if lines[key] == nil {
				text.WriteString(key + "\n") // as it stood
				continue
			}
			text.WriteString(lines[key].text(key) + "\n")
		}
		if err := os.WriteFile(golden, []byte(text.String()), 0o644); err != nil { //nolint:gosec // it is read by everybody
			t.Fatal(err)
		}
		return
	}
	want := map[string]string{}
	for one := range strings.Lines(string(readText(t, golden))) {
		key, _, _ := strings.Cut(one, ": ")
		want[key] = strings.TrimSpace(one)
	}
	for _, key := range keys {
		if got := lines[key].text(key); lines[key].ran && got != want[key] {
			t.Errorf("what moves is another:\n got %s\nwant %s", got, want[key])
		}
	}
}

// withGolden are the keys that were looked at among the lines of the golden file that
// stay, in the order of keys.
func withGolden(t *testing.T, keys []string, lines map[string]*line) []string {
	t.Helper()
	for one := range strings.Lines(string(readText(t, golden))) {
		if key, _, ok := strings.Cut(one, ": "); ok && !strings.HasPrefix(one, "#") && lines[key] == nil {
			keys = append(keys, strings.TrimSpace(one))
		}
	}
	slices.SortFunc(keys, func(a, b string) int {
		a, _, _ = strings.Cut(a, ": ")
		b, _, _ = strings.Cut(b, ": ")
		return strings.Compare(a, b)
	})
	return keys
}

// change is one change of one value.
type change struct {
	path, key string
	to        []string // what it may be changed to, the first that is taken counts; a choice: all
	all       bool
	ran       bool
	refused   bool // nothing of to was taken
	moved     map[string]bool
}

type changes struct {
	name   string // of the job's file
	text   []byte
	before *asked
	codes  map[string]bool
	page   *page

	once   sync.Once
	bands  *asked
	failed error
	list   []*change
	ids    map[string][]string // by the path they stand under
}

func newChanges(t *testing.T, text []byte) *changes {
	t.Helper()
	before, err := ask(t.Context(), text, questions{drive: true, all: true})
	if err != nil {
		t.Fatal(err)
	}
	c := &changes{text: text, before: before, ids: map[string][]string{}, codes: map[string]bool{}}
	for key := range before.figures {
		code, _ := split(key)
		c.codes[code] = true
	}
	for key := range before.words {
		code, _ := split(key)
		c.codes[code] = true
	}
	fields := jobfile.Fields(text)
	for i := range fields {
		c.know(fields[i].Path)
	}
	for i := range fields {
		c.add(&fields[i])
	}
	return c
}

// know keeps the ids that a path runs through.
func (c *changes) know(path string) {
	words := strings.Split(path, ".")
	for i := range words {
		under := strings.Join(words[:i], ".")
		if !slices.Contains(c.ids[under], words[i]) {
			c.ids[under] = append(c.ids[under], words[i])
		}
	}
}

var number = regexp.MustCompile(`\d+(?:\.\d+)?`)

var day = regexp.MustCompile(`^\d{4}-\d\d-\d\d$`)

// keyOf is a path as it stands in the table of keys.
func keyOf(path string) string {
	path = regexp.MustCompile(`\[\d+\]`).ReplaceAllString(path, "[]")
	words := strings.Split(path, ".")
	star := func(i int) {
		if i < len(words) {
			words[i] = "*"
		}
	}
	switch words[0] {
	case "parts":
		star(2)
		if len(words) > 4 && words[3] == "curves" {
			star(4)
		}
	case "builds", "loads":
		star(1)
	case "brief":
		if words[1] == "uses" {
			star(2)
		}
	case "handover":
		if words[1] == "presets" {
			star(2)
		}
	}
	for i, w := range words {
		if w == "holes" || w == "arms" || w == "rods" {
			star(i + 1)
		}
	}
	return strings.Join(words, ".")
}

func (c *changes) add(f *jobfile.Field) {
	one := &change{path: f.Path, key: keyOf(f.Path)}
	switch f.Form {
	case "row":
		items := strings.Split(f.Typed, ", ")
		for i := range items {
			c.list = append(c.list, &change{path: fmt.Sprintf("%s[%d]", f.Path, i), key: one.key, to: bumps(items[i], f.Path)})
		}
		return
	case "value", "count":
		one.to = bumps(f.Typed, f.Path)
		if low, high, ok := strings.Cut(f.Typed, "-"); ok && strings.Contains(high, " ") && number.MatchString(low) {
			c.list = append(c.list, &change{path: f.Path, key: one.key, to: []string{low + "-" + bumps(high, f.Path)[0]}})
		}
	case "choice", "flag":
		one.all = true
		for _, w := range f.Words {
			if w != f.Typed {
				one.to = append(one.to, w)
			}
		}
	case "id", "part":
		one.to = c.others(f)
	default:
		one.to = []string{f.Typed + " x"}
		switch {
		case day.MatchString(f.Typed):
			one.to = []string{f.Typed[:8] + "23"}
		case strings.HasSuffix(f.Path, ".road"):
			one.to = []string{"town-street"}
		case strings.Contains(f.Path, "setup.bar_hole."):
			one.to = c.others(f)
		case strings.HasSuffix(f.Path, ".least") || strings.HasSuffix(f.Path, ".most"):
			one.to = bumps(f.Typed, f.Path)
		}
	}
	if far, there := further[one.key]; there {
		one.to = []string{far}
	}
	c.list = append(c.list, one)
}

// bumps are a typed number a little larger and a little smaller.
func bumps(typed, path string) []string {
	at := number.FindStringIndex(typed)
	if at == nil {
		return nil
	}
	v, err := strconv.ParseFloat(typed[at[0]:at[1]], 64)
	if err != nil {
		return nil
	}
	step := 0.02 * v
	whole := strings.HasSuffix(path, "click") || strings.HasSuffix(path, "clicks") || strings.HasSuffix(path, "flats") || strings.Contains(path, "click.") || strings.HasSuffix(path, "tyres")
	switch {
	case whole:
		step = 1
	case strings.Contains(path, "hardpoints.") && strings.Contains(typed+"mm", "mm") && !strings.Contains(typed, "deg"):
		step = 2
	case v == 0:
		step = 0.5
	}
	out := make([]string, 0, 2)
	for _, w := range []float64{v + step, v - step} {
		if w >= 0 {
			out = append(out, typed[:at[0]]+strconv.FormatFloat(w, 'f', -1, 64)+typed[at[1]:])
		}
	}
	return out
}

// others are the ids that may stand in the place of one.
func (c *changes) others(f *jobfile.Field) []string {
	words := strings.Split(f.Path, ".")
	last := words[len(words)-1]
	under := ""
	switch {
	case last == "use":
		under = strings.Join(words[:2], ".")
		if words[0] == "builds" {
			under = "parts." + words[3] + "s"
		}
	case last == "helper":
		under = "parts.springs"
	case f.Form == "part":
		under = "parts." + last + "s"
	case last == "build" || last == "reference":
		under = "builds"
	case last == "load" || last == "state" || last == "with" || last == "usual_load":
		under = "loads"
	case last == "hole":
		under = strings.Join(words[:len(words)-1], ".") + ".holes"
	case strings.Contains(f.Path, "bar_hole."):
		under = "car." + last + ".bar.holes"
	case last == "on" || last == "inner_on":
		under = strings.Join(words[:3], ".") + ".arms"
	}
	var out []string
	for _, id := range c.ids[under] {
		if id != f.Typed && id != words[1] && (last != "use" || id != words[2]) {
			out = append(out, id)
		}
	}
	if last == "on" || last == "inner_on" {
		for _, id := range c.ids[strings.Join(words[:3], ".")+".rods"] {
			if id != words[len(words)-2] {
				out = append(out, id)
			}
		}
	}
	return out
}

// run makes the changes, as many at once as the machine has cores.
func (c *changes) run(t *testing.T) {
	t.Helper()
	work := make(chan *change)
	var all sync.WaitGroup
	for range runtime.NumCPU() {
		all.Go(func() {
			for one := range work {
				c.make(t, one)
			}
		})
	}
	for _, one := range c.list {
		if full() || tenth(one.key) {
			work <- one
		}
	}
	close(work)
	all.Wait()
}

func tenth(key string) bool {
	h := fnv.New32a()
	h.Write([]byte(key))
	return h.Sum32()%10 == 0
}

func (c *changes) make(t *testing.T, one *change) {
	one.moved, one.ran = map[string]bool{}, true
	refused := 0
	for _, to := range one.to {
		text, err := jobfile.Set(c.text, one.path, to)
		if err != nil {
			t.Errorf("%s: %v", one.path, err)
			return
		}
		after, err := ask(t.Context(), text, questions{drive: true, all: true, speedy: c.before.answer})
		var no *refusedError
		switch {
		case errors.As(err, &no):
			refused++
			continue
		case err != nil:
			t.Errorf("%s, %s: %v", one.path, to, err)
			return
		}
		maps.Copy(one.moved, moved(c.before, after))
		if len(one.moved) == 0 {
			c.again(t, one, text)
		}
		if !one.all {
			return
		}
	}
	one.refused = refused > 0 && refused == len(one.to)
}

// again looks for what moved where figures and sheet did not: first in the bands,
// then in what the page shows.
func (c *changes) again(t *testing.T, one *change, text []byte) {
	was, err := c.drawn(t)
	if err != nil {
		t.Error(err)
		return
	}
	after, err := ask(t.Context(), text, questions{draws: draws})
	if err != nil {
		t.Errorf("%s: %v", one.path, err)
		return
	}
	if maps.Copy(one.moved, moved(was, after)); len(one.moved) > 0 {
		return
	}
	maps.Copy(one.moved, moved(shown(c.page.try(c.text)), shown(c.page.try(text))))
}

// draws behind the bands, where they are looked at: any number shows whether a
// band hangs on an input.
const draws = 24

// drawn is the job as it stands with bands.
func (c *changes) drawn(t *testing.T) (*asked, error) {
	c.once.Do(func() { c.bands, c.failed = ask(t.Context(), c.text, questions{draws: draws}) })
	return c.bands, c.failed
}
