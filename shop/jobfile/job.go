package jobfile

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"sort"
	"strconv"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/shop/quantity"
)

// Job is one job as read.
type Job struct {
	Text    []byte // as it was given
	Name    string // of the file
	SHA256  string // of Text, in hexadecimal
	Version string
	Info    Info

	Car    *car.Car
	Builds []*car.Build // in the order of the job
	Loads  []car.Load   // in the order of the job
	Brief  brief.Brief

	Handover *Handover // nil: nothing is said of it yet

	// Filled lists what was missing and had to be estimated.
	Filled []car.Filled
	// Open lists what stays unanswered because a length is missing that cannot
	// be estimated. It is no fault: the rest is answered.
	Open []car.Problem
}

// Info is what is said of a job and not computed with.
type Info struct {
	Number, Date, Workshop, By, Owner string
	Words                             string // what the owner wants
	Plate                             string
}

// Read reads a job, fills what is missing with estimates marked as such, and
// checks it. It returns every fault of the text at once, in the order of the
// lines; the job is nil when one of them refuses it.
//
// Anything that cannot be read from r is a fault as well.
func Read(r io.Reader, name string) (*Job, []Fault) {
	data, err := Text(r)
	if err != nil {
		return nil, []Fault{{Got: "cannot be read: " + err.Error(), Kind: Refuse}}
	}
	return ReadBytes(data, name)
}

// Text is what stands in a job, and no more of it than shows that it is too long.
func Text(r io.Reader) ([]byte, error) { return io.ReadAll(io.LimitReader(r, mostBytes+1)) }

// ReadBytes is Read of a text at hand. It keeps the text.
func ReadBytes(data []byte, name string) (*Job, []Fault) {
	root, fault := shared(data)
	if fault != nil {
		return nil, []Fault{*fault}
	}
	if fault := versionOf(root); fault != nil {
		return nil, []Fault{*fault}
	}
	w := &walker{}
	top := w.walk(root, jobShape, "")
	job := &Job{Text: data, Name: name, Version: Version}
	sum := sha256.Sum256(data)
	job.SHA256 = hex.EncodeToString(sum[:])
	if top != nil {
		job.fill(w, top)
	}
	if !w.refused() {
		job.Filled = append(car.Fill(job.Car, job.Builds), car.FillTrailers(job.Loads)...)
	}
	if job.Car != nil {
		problems := car.Check(job.Car, job.Builds, job.Loads)
		if w.refused() {
			problems = slices.DeleteFunc(problems, estimable)
		}
		w.problems(problems, top)
	}
	w.problems(brief.Check(&job.Brief), top)
	if !w.refused() {
		job.Open = car.Unknown(job.Car, job.Builds)
	}
	faults := w.sorted()
	if w.refused() {
		return nil, faults
	}
	return job, faults
}

// estimable reports a problem that is none where estimates are filled in: a job
// that was refused before has not got any, and the fault to mend is another.
func estimable(p car.Problem) bool {
	return strings.Contains(p.Path, ".motion.") && p.Got.Text == "is missing"
}

func (w *walker) refused() bool {
	for _, f := range w.faults {
		if f.Kind == Refuse {
			return true
		}
	}
	return false
}

// sorted is the faults by line, the same fault once.
func (w *walker) sorted() []Fault {
	sort.SliceStable(w.faults, func(i, j int) bool { return w.faults[i].Line < w.faults[j].Line })
	var out []Fault
	seen := map[Fault]bool{}
	for _, f := range w.faults {
		if !seen[f] {
			seen[f] = true
			out = append(out, f)
		}
	}
	if w.cut {
		out = append(out, Fault{Got: fmt.Sprintf("has more faults than the %d shown", mostFaults), Want: "mend these first", Kind: Refuse})
	}
	return out
}

// versionOf looks at the version before anything else is judged: a newer
// format may mean other things by the same keys.
func versionOf(root *node) *Fault {
	for _, p := range root.pairs {
		if p.key != "trunnion" {
			continue
		}
		if p.value.text == Version {
			return nil
		}
		f := &Fault{Line: p.line, Path: p.key, Got: p.value.about(), Want: "it must be " + Version, Kind: Refuse}
		if number, ok := strings.CutPrefix(p.value.text, "job/"); ok {
			if n, err := strconv.Atoi(number); err == nil && n > 1 {
				f.Want = "this program reads " + Version + "; the job was written for a newer one"
			}
		}
		return f
	}
	return &Fault{Path: "trunnion", Got: "is missing", Want: "a job starts with trunnion: " + Version, Kind: Refuse}
}

func (job *Job) fill(w *walker, top *entry) {
	info, carEntry := top.at("job"), top.at("car")
	b := newBuilder(w, top.at("parts"))
	job.Info = Info{
		Number: info.word("number"), Date: b.roughDate(info.at("date")), Workshop: info.word("workshop"), By: info.word("by"),
		Owner: info.word("owner"), Words: info.word("words"), Plate: carEntry.word("plate"),
	}
	b.allParts()
	builds, loads := top.at("builds"), top.at("loads")
	var fitted *car.Build
	for _, id := range builds.ids() {
		job.Builds = append(job.Builds, b.build(id, builds.at(id)))
	}
	if !b.rings(loads) {
		job.Loads = b.loads(loads)
	}
	job.Brief = b.brief(top.at("brief"))
	if carEntry == nil {
		return
	}
	c := b.car(carEntry)
	if loads == nil {
		job.Loads = car.UsualLoads(c)
	}
	for _, build := range job.Builds {
		if build.ID == c.Weighed.Build {
			fitted = build
		}
		if r := build.Readings; r != nil {
			if r.State == "" {
				r.Aboard = c.Weighed.Aboard // as weighed
			}
			for i := range job.Loads {
				if job.Loads[i].ID == r.State {
					r.Aboard = job.Loads[i].Items
				}
			}
		}
	}
	if builds != nil && len(job.Builds) == 0 && len(builds.names) == 0 && !w.refused() {
		w.refuse(builds.line, builds.path, "has no build", "enter at least the build that was on the car")
	}
	b.references(job, c, top)
	job.Handover = b.handover(top.at("handover"), job.Builds)
	if fitted != nil {
		b.stays(job.Builds, builds, c, fitted)
	}
	if w.refused() {
		// Half a car would only give faults that follow from the first ones.
		if fitted == nil || builds == nil || carEntry.at("weighed") == nil {
			return
		}
	}
	job.Car = c
}

// references finds ids that name nothing.
func (b *builder) references(job *Job, c *car.Car, top *entry) {
	builds, loads := top.at("builds").ids(), make([]string, len(job.Loads))
	for i, l := range job.Loads {
		loads[i] = l.ID
	}
	look := func(e *entry, ids []string, what string) {
		if e != nil && !has(ids, e.text) {
			b.refuse(e.line, e.path, "is "+short(e.text), "no "+what+" has this id; "+suggest(e.text, ids))
		}
	}
	b.barHoles(c, top, look)
	brief := top.at("brief")
	look(top.at("car").at("weighed").at("build"), builds, "build")
	look(brief.at("reference"), builds, "build")
	look(brief.at("usual_load"), loads, "load state")
	for _, list := range []string{"roads", "events"} {
		for _, e := range brief.at(list).each() {
			look(e.at("load"), loads, "load state")
		}
	}
	for _, id := range builds {
		look(top.at("builds").at(id).at("readings").at("state"), loads, "load state")
	}
	if job.Brief.Reference == "" && len(job.Builds) > 0 {
		job.Brief.Reference = top.at("car").at("weighed").word("build")
	}
	if job.Brief.UsualLoad == "" {
		job.Brief.UsualLoad = usual(job.Loads)
	}
	sum := 0.0
	for _, u := range job.Brief.Uses {
		sum += u.Share.Value
	}
	if uses := brief.at("uses"); uses != nil && len(job.Brief.Uses) > 0 && (sum < 0.99 || sum > 1.01) {
		b.warn(uses.line, uses.path, fmt.Sprintf("adds up to %.0f %%", sum/quantity.Percent), "the shares of a car's life add up to 100 %")
	}
}

// usual is the first load state with somebody in it, or the first.
func usual(loads []car.Load) string {
	for _, l := range loads {
		if len(l.Items) > 0 {
			return l.ID
		}
	}
	if len(loads) == 0 {
		return ""
	}
	return loads[0].ID
}
