package proof

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"trunnion/chassis/axles"
	"trunnion/chassis/drives"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/scales"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/sheet"
	"trunnion/shop/wording"
)

// asked is all that a job was answered with: figures and words by a key that
// begins with their code.
type asked struct {
	job     *jobfile.Job
	answer  *study.Answer
	figures map[string]float64 // [SI]
	words   map[string]string
}

// split takes the code off a key.
func split(key string) (code, place string) {
	code, place, _ = strings.Cut(key, "|")
	return code, place
}

// questions says what is asked beside the study.
type questions struct {
	drive  bool // roads and obstacles, in time
	all    bool // scales, struts, linkages, sheet
	draws  int
	speedy *study.Answer // unchanged builds are taken over from it
}

// errRefused says that the job was not taken.
type refusedError struct{ faults []jobfile.Fault }

func (e *refusedError) Error() string { return fmt.Sprint(e.faults) }

// ask answers a job as command line and page do.
func ask(ctx context.Context, text []byte, q questions) (*asked, error) {
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		return nil, &refusedError{faults}
	}
	a := &asked{job: job, figures: map[string]float64{}, words: map[string]string{}}
	for _, f := range faults {
		a.words["fault|"+f.Path] += f.Got + f.Want
	}
	for i := range job.Filled {
		f := &job.Filled[i]
		a.words["estimate|"+f.Path] = f.Basis
	}
	for i := range job.Open {
		a.words["open|"+job.Open[i].Path] = jobfile.Phrase(job.Open[i].Got) + jobfile.Phrase(job.Open[i].Want)
	}
	opt := study.Defaults()
	opt.Samples, opt.Workers, opt.NoWorkings, opt.NoRemedies = q.draws, 1, true, true
	var err error
	a.answer, err = study.Rerun(ctx, q.speedy, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		return nil, err
	}
	if q.drive {
		ride := drives.Defaults()
		ride.Samples, ride.Duration, ride.Settle, ride.Unchecked = 1, 4, 1, true
		if err := drives.Ride(ctx, a.answer, ride, nil); err != nil {
			return nil, err
		}
	}
	for i := range a.answer.Values {
		a.value(&a.answer.Values[i])
	}
	for i := range a.answer.Warnings {
		w := &a.answer.Warnings[i]
		a.figures["warning:"+w.Code+"|"+fmt.Sprint(w.Build, "/", w.Load, "/", w.Corner, "/", w.Path)] = w.Value
	}
	for i := range a.answer.Failures {
		f := &a.answer.Failures[i]
		a.words["failure|"+f.Build+"/"+f.Load] += f.Err.Error()
	}
	found := finding.Judge(a.answer)
	for i := range found {
		f := &found[i]
		key := "finding:" + f.Code + "|" + placeOf(&f.Value.Place)
		a.words[key] = string(f.Verdict)
		if f.Limit != nil {
			a.figures[key+" limit"] = f.Limit.Value
		}
	}
	if q.all {
		return a, a.rest(found)
	}
	return a, nil
}

func placeOf(p *figure.Place) string {
	c := ""
	if p.Corner != figure.NoCorner {
		c = figure.CornerNames[p.Corner]
	}
	out := fmt.Sprint(p.Build, "/", p.Load, "/", c, "/", p.At, "/", p.Direction, "/", p.Velocity, "/", p.Road, p.Event, "/", p.Mode, "/", p.Threshold)
	if p.HasClick {
		out += fmt.Sprint("/click ", p.Click)
	}
	if p.Speed > 0 {
		out += fmt.Sprintf("/at %.6g", p.Speed)
	}
	return out
}

func (a *asked) value(v *figure.Value) {
	key := v.Code + "|" + placeOf(&v.Place)
	for n := 2; ; n++ { // a road that stands twice
		if _, there := a.words[key]; !there {
			break
		}
		key = fmt.Sprint(v.Code, "|", placeOf(&v.Place), "#", n)
	}
	a.figures[key] = v.Value
	a.words[key] = fmt.Sprint(v.State, v.Reason)
	if v.HasBand {
		a.figures[v.Code+" band|low "+key], a.figures[v.Code+" band|high "+key] = v.Low, v.High
	}
}

// rest asks the other questions: scales, struts, linkages, the sheet.
func (a *asked) rest(found []finding.Finding) error {
	for _, b := range a.job.Builds {
		if levelling.HasCollars(b) {
			a.level(b)
		}
	}
	for axle := range 2 {
		name := car.AxleNames[axle]
		if s, err := axles.LoadStruts(context.Background(), a.answer, axles.UsualStrutAsk(axle)); err == nil {
			for i := range s.Builds {
				a.flat("strut", name+" "+s.Builds[i].Build.ID, &s.Builds[i])
			}
		}
		if m, err := axles.MoveLinkage(a.job.Car, axles.UsualLinkageAsk(axle)); err == nil {
			a.flat("linkage", name, m)
		}
	}
	for _, b := range a.job.Builds {
		if err := a.sheet(b.ID, found); err != nil {
			return err
		}
	}
	if h := a.job.Handover; h == nil || h.Build == "" {
		return nil
	}
	return a.sheet("", found)
}

func (a *asked) level(b *car.Build) {
	load := levelling.LoadOf(a.job, b)
	rig, err := levelling.Stand(a.job, b, load, nil, 0)
	if err != nil {
		a.words["level|"+b.ID] = err.Error()
		return
	}
	weighings, _ := levelling.Read(nil).Weighings(a.job, b, load)
	got, err := levelling.Work(b, load, rig, scales.Preset("road").Level(scales.Diagonal("front-right-rear-left")), weighings)
	if err != nil {
		a.words["level|"+b.ID] = err.Error()
		return
	}
	data, err := json.Marshal(got.Document("test", wording.New(nil, quantity.Metric)))
	if err != nil {
		panic(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		panic(err)
	}
	for name, v := range tree {
		a.tree("level:"+name, b.ID, v)
	}
}

// tree takes a decoded JSON value apart.
func (a *asked) tree(code, place string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for name, one := range v {
			a.tree(code, place+"."+name, one)
		}
	case []any:
		for i, one := range v {
			a.tree(code, fmt.Sprint(place, "[", i, "]"), one)
		}
	case float64:
		a.figures[code+"|"+place] = v
	case string:
		a.words[code+"|"+place] = v
	}
}

// flat takes a result apart that has no wire format.
func (a *asked) flat(code, place string, v any) { a.flatValue(code, place, reflect.ValueOf(v), 0) }

func (a *asked) flatValue(code, place string, v reflect.Value, depth int) {
	if depth > 8 {
		return
	}
	if v.Kind() == reflect.Pointer && v.IsNil() {
		return
	}
	if v.CanInterface() {
		switch one := v.Interface().(type) {
		case *car.Build, *car.Car:
			return
		case error:
			a.words[code+"|"+place] = one.Error()
			return
		}
	}
	switch v.Kind() {
	case reflect.Float64:
		a.figures[code+"|"+place] = v.Float()
	case reflect.String:
		a.words[code+"|"+place] = v.String()
	case reflect.Pointer:
		a.flatValue(code, place, v.Elem(), depth+1)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				a.flatValue(code, place+"."+v.Type().Field(i).Name, v.Field(i), depth+1)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			a.flatValue(code, fmt.Sprint(place, "[", i, "]"), v.Index(i), depth+1)
		}
	default:
	}
}

func (a *asked) sheet(build string, found []finding.Finding) error {
	made, err := sheet.New(sheet.Source{
		Job: a.job, Answer: a.answer, Findings: found, Build: build, System: quantity.Metric, Program: "test", Printed: "2026-11-16", Find: "here",
	})
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := sheet.WriteCSV(&out, made); err != nil {
		return err
	}
	rows := csv.NewReader(&out)
	rows.FieldsPerRecord = -1
	list, err := rows.ReadAll()
	if err != nil {
		return err
	}
	for i, row := range list {
		if strings.Contains(strings.Join(row, " "), a.job.SHA256[:8]) {
			continue // the fingerprint moves with every byte
		}
		a.words[fmt.Sprint("sheet:", row[0], "|", build, i)] = strings.Join(row[1:], "|")
	}
	return nil
}

// unmoved is what is left of two heights of half a metre where one is taken from the
// other and they are the same: a car that has not moved stands 3e-12 m higher. [SI unit]
const unmoved = 1e-12

// alike reports two figures that are the same but for the last digits of a
// computation. A tenth of a millionth is far below what any face prints.
func alike(a, b float64) bool {
	if math.IsNaN(a) || math.IsNaN(b) {
		return math.IsNaN(a) == math.IsNaN(b)
	}
	return a == b || math.Abs(a-b) <= math.Max(unmoved, 1e-7*math.Max(math.Abs(a), math.Abs(b)))
}

// moved lists the codes of figures and words that differ.
func moved(a, b *asked) map[string]bool {
	out := map[string]bool{}
	for key, v := range a.figures {
		if w, there := b.figures[key]; !there || !alike(v, w) {
			code, _ := split(key)
			out[code] = true
		}
	}
	for key := range b.figures {
		if _, there := a.figures[key]; !there {
			code, _ := split(key)
			out[code] = true
		}
	}
	for key, v := range a.words {
		if w, there := b.words[key]; !there || v != w {
			code, _ := split(key)
			out[code] = true
		}
	}
	for key := range b.words {
		if _, there := a.words[key]; !there {
			code, _ := split(key)
			out[code] = true
		}
	}
	return out
}

func readText(t testing.TB, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
