package jobfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

var exampleFiles = []string{
	"../../examples/marl-estate/job.yaml",
	"../../examples/wend-roadster/job.yaml",
	"../../examples/wend-roadster/measured.yaml",
	"testdata/every-key.yaml",
}

func load(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.FromSlash(name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// mustRead reads a job that must have no fault that refuses it.
func mustRead(t testing.TB, data []byte, name string) *Job {
	t.Helper()
	job, faults := ReadBytes(data, name)
	if err := AsError(name, faults); err != nil {
		t.Fatal(err)
	}
	if job == nil {
		t.Fatalf("%s: no fault and no job", name)
	}
	return job
}

func TestExamplesHaveNoFault(t *testing.T) {
	for _, name := range exampleFiles[:3] {
		_, faults := ReadBytes(load(t, name), name)
		for _, f := range faults {
			t.Error(f.In(name))
		}
	}
}

func TestDemoIsReadAsTyped(t *testing.T) {
	job := mustRead(t, load(t, exampleFiles[0]), "job.yaml")
	c := job.Car
	if len(job.Open) > 0 {
		t.Errorf("everything is known of the demo, yet %+v is open", job.Open)
	}
	kit, arrived, uprated, lower := job.Builds[3], job.Builds[0], job.Builds[2], job.Builds[1]
	for _, row := range []struct {
		name  string
		got   figure.Input
		value float64
		half  float64
		shape figure.Shape
		from  figure.Origin
		path  string
	}{
		{"scale", c.Weighed.Load[2], 314, 1, figure.Normal95, figure.Measured, "car.weighed.load.rear_left"},
		{"height", c.Weighed.Height[3], 0.382, 0.002, figure.Normal95, figure.Measured, "car.weighed.arch_height.rear_right"},
		{"seat length", c.Weighed.SpringLength[0], 0.2102, 0.002, figure.Normal95, figure.Measured, "car.weighed.spring_length.front_left"},
		{"rod showing", c.Weighed.RodShowing[3], 0.1038, 0.001, figure.Normal95, figure.Measured, "car.weighed.rod_showing.rear_right"},
		{"unsprung", c.Unsprung[1], 41, 5, figure.Normal95, figure.Measured, "car.unsprung.rear"},
		{"inertia", c.InertiaPitch, 2140, 340, figure.Normal95, figure.Estimated, "car.inertia.pitch"},
		{"tyre", c.Axle[0].TyreRate, 225e3, 27e3, figure.Normal95, figure.Measured, "car.front.tyre_rate"},
		{"maker's spring", kit.Corner[2].Spring.Rate, 80e3, 4e3, figure.Limit, figure.Makers, "parts.springs.rear-80.rate"},
		{"maker's length", kit.Corner[0].Damper.Open, 0.531, 0.002, figure.Limit, figure.Makers, "parts.dampers.kit-front.open"},
		{"measured length", arrived.Corner[0].Damper.Closed, 0.403, 0.001, figure.Normal95, figure.Measured, "parts.dampers.old-front.closed"},
		{"stop scale", arrived.Corner[0].Stop.Scale, 1, 0.15, figure.Normal95, figure.Measured, "parts.stops.f60.scale"},
		{"dyno scale", uprated.Corner[2].Damper.Scale, 1, 0.03, figure.Normal95, figure.Measured, "parts.dampers.uprated-rear.scale"},
		{"scale gain", c.Weighed.ScaleGain, 1, 0.002, figure.Normal95, figure.Estimated, "car.weighed.scale_gain"},
		{"seats closer", kit.Corner[2].SeatsCloser, 0.069, 0.001, figure.Normal95, figure.Measured, "builds.kit.rear.seats_closer"},
		{"loss", kit.Corner[2].Stop.Loss, 0.25, 0.10, figure.Normal95, figure.Estimated, "parts.stops.r36.loss"},
		{"limit", job.Brief.Limits.DroopLeft, 0.045, 0, figure.Exact, figure.Chosen, "brief.limits.droop_left"},
		{"hours", kit.Hours, 36000, 0, figure.Exact, figure.Chosen, "builds.kit.hours"},
		{"speed", job.Brief.Roads[1].Speeds[1], 80 / 3.6, 0, figure.Exact, figure.Chosen, "brief.roads[1].speeds[1]"},
	} {
		g := row.got
		if math.Abs(g.Value-row.value) > 1e-12*math.Abs(row.value) || math.Abs(g.Half-row.half) > 1e-9*math.Abs(row.value) ||
			g.Shape != row.shape || g.Origin != row.from || g.Path != row.path {
			t.Errorf("%s is %+v, want %v ± %v of shape %d, %s, at %s", row.name, g, row.value, row.half, row.shape, row.from, row.path)
		}
	}
	if lower.Corner[0].Damper != arrived.Corner[0].Damper || lower.Corner[2].Spring != uprated.Corner[2].Spring {
		t.Error("the same part in two builds must be one part, so that its draws are shared")
	}
	if got := c.Axle[1].Spring.Fit.C[0]; math.Abs(got-0.64) > 0.005 {
		t.Errorf("rear spring ratio is %.4f, want 0.640 ± 0.005 as the table was made", got)
	}
	if got := c.Axle[1].Damper.Fit.C[0]; math.Abs(got-0.905) > 0.005 {
		t.Errorf("rear damper ratio is %.4f, want 0.905 ± 0.005 as the table was made", got)
	}
	if n := len(kit.Corner[0].Damper.Curves); n != 5 || kit.Setup.Click != [4]int{7, 7, 7, 7} || kit.Setup.HasClick != [4]bool{true, true, true, true} {
		t.Errorf("kit has %d curves at clicks %v", n, kit.Setup.Click)
	}
	var masses []string
	for _, l := range job.Loads {
		sum := 0.0
		for _, item := range l.Items {
			sum += item.Mass.Value
		}
		masses = append(masses, fmt.Sprintf("%s %g", l.ID, sum))
	}
	if got, want := strings.Join(masses, ", "), "empty 0, driver 82, four-aboard 297, holiday 412, hill-climb 54"; got != want {
		t.Errorf("load states are %s, want %s", got, want)
	}
	if job.Info.Owner != "Mrs Ollerwick" || job.Info.Number != "0042" || !strings.HasPrefix(job.Info.Words, "It thumps when all of us are aboard, and I want") {
		t.Errorf("info is %+v", job.Info)
	}
	if job.Brief.Reference != "arrived" || job.Brief.UsualLoad != "driver" || len(job.Brief.Uses) != 4 || len(job.Brief.Events) != 2 {
		t.Errorf("brief is %+v", job.Brief)
	}
	lines := bytes.Split(job.Text, []byte("\n"))
	checked := 0
	figure.Walk(job, func(in *figure.Input) {
		if in.Typed == "" || in.Line == 0 {
			return
		}
		checked++
		if !bytes.Contains(lines[in.Line-1], []byte(in.Typed)) {
			t.Errorf("%s: %q does not stand in line %d: %s", in.Path, in.Typed, in.Line, lines[in.Line-1])
		}
	})
	if checked < 100 {
		t.Errorf("only %d typed inputs found", checked)
	}
}

// figures lists every input of a job as text, but for its line.
func figures(job *Job) []string {
	var out []string
	figure.Walk(job, func(in *figure.Input) {
		out = append(out, fmt.Sprintf("%s %v %v %d %s", in.Path, in.Value, in.Half, in.Shape, in.Origin))
	})
	return out
}

func sameFigures(t *testing.T, got, want *Job) {
	t.Helper()
	g, w := figures(got), figures(want)
	if len(g) != len(w) {
		t.Fatalf("%d figures, want %d", len(g), len(w))
	}
	for i := range g {
		if g[i] != w[i] {
			t.Errorf("got %s, want %s", g[i], w[i])
		}
	}
}

func TestJSONIsReadAlike(t *testing.T) {
	for _, name := range exampleFiles {
		data := load(t, name)
		plain, err := yaml.YAMLToJSON(data)
		if err != nil {
			t.Fatal(err)
		}
		var tabbed bytes.Buffer
		if err := json.Indent(&tabbed, bytes.TrimSpace(plain), "", "\t"); err != nil {
			t.Fatal(err)
		}
		want := mustRead(t, data, name)
		sameFigures(t, mustRead(t, plain, "job.json"), want)
		sameFigures(t, mustRead(t, tabbed.Bytes(), "job.json"), want)
	}
}

func TestWindowsTextIsReadAlike(t *testing.T) {
	data := load(t, exampleFiles[0])
	windows := append([]byte("\uFEFF"), bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))...)
	sameFigures(t, mustRead(t, windows, "job.yaml"), mustRead(t, data, "job.yaml"))
}

func TestImperialJobIsTheSameCar(t *testing.T) {
	data := string(load(t, exampleFiles[0]))
	metric := mustRead(t, []byte(data), "job.yaml")
	for _, swap := range [][2]string{
		{"wheelbase: 2700 mm", "wheelbase: 106.2992126 in"},
		{"rate: maker 60 N/mm", "rate: maker 342.6088 lbf/in"},
		{"rear_left: 314 kg", "rear_left: 692.2515 lb ± 1 kg"},
		{"pressure: maker 18.2 bar", "pressure: maker 263.9687 psi"},
	} {
		if !strings.Contains(data, swap[0]) {
			t.Fatalf("%q is not in the demo", swap[0])
		}
		data = strings.Replace(data, swap[0], swap[1], 1)
	}
	imperial := mustRead(t, []byte(data), "job.yaml")
	var got, want []*figure.Input
	figure.Walk(imperial, func(in *figure.Input) { got = append(got, in) })
	figure.Walk(metric, func(in *figure.Input) { want = append(want, in) })
	for i := range want {
		if math.Abs(got[i].Value-want[i].Value) > 1e-6*math.Abs(want[i].Value) {
			t.Errorf("%s is %v, want %v", want[i].Path, got[i].Value, want[i].Value)
		}
	}
}

func TestTwelveFiguresMakeAJob(t *testing.T) {
	data := load(t, exampleFiles[1])
	job := mustRead(t, data, "job.yaml")
	typed := 0
	seen := map[string]bool{}
	figure.Walk(job, func(in *figure.Input) {
		if in.Typed != "" && !seen[in.Path] {
			seen[in.Path] = true
			typed++
		}
	})
	if typed != 12 {
		t.Errorf("the telephone job has %d figures, want 12", typed)
	}
	if len(job.Filled) < 20 {
		t.Errorf("only %d inputs were estimated", len(job.Filled))
	}
	for _, f := range job.Filled {
		if f.Basis == "" {
			t.Errorf("%s is estimated without a basis", f.Path)
		}
		if f.Input != nil && f.Input.Origin != figure.Estimated {
			t.Errorf("%s is filled and called %s", f.Path, f.Input.Origin)
		}
	}
	old, low := job.Builds[0], job.Builds[1]
	if old.Corner[0].Damper == nil || old.Corner[0].Damper != low.Corner[0].Damper {
		t.Error("dampers nobody named are those on the car, in both builds")
	}
	if old.Corner[0].Damper.Open.Known() || job.Car.Weighed.SpringLength[0].Known() {
		t.Error("a length nobody measured must stay unknown")
	}
	if len(job.Open) == 0 {
		t.Error("what stays open without lengths is not said")
	}
	if low.Corner[2].Spring.Drop.Value != 0.025 || low.Corner[2].Spring.Drop.Half != 0.008 {
		t.Errorf("drop is %+v, want 25 ± 8 mm", low.Corner[2].Spring.Drop)
	}
	if len(job.Loads) != 2 || len(job.Loads[1].Items) != 1 || job.Loads[1].Items[0].Mass.Origin != figure.Estimated {
		t.Errorf("load states are %+v, want as weighed and an estimated driver", job.Loads)
	}
}

func TestPartsWithChanges(t *testing.T) {
	job := mustRead(t, load(t, exampleFiles[2]), "measured.yaml")
	arrived, club := job.Builds[0], job.Builds[2]
	front, rear := arrived.Corner[0].Stop, arrived.Corner[2].Stop
	if front == rear || front.Length.Value != 0.040 || rear.Length.Value != 0.042 || len(rear.Table) != len(front.Table) {
		t.Errorf("stops are %v and %v: a change makes a part of its own", front.Length, rear.Length)
	}
	if d := club.Corner[2].Damper; d.ID != "club-rear" || d.Open.Value != 0.362 || len(d.Curves) != 2 || d.Piston.Value != 0.036 {
		t.Errorf("club-rear is %+v", d)
	}
	if club.Corner[0].Spring.Rate.Typed != "maker 343 lbf/in" || math.Abs(club.Corner[0].Spring.Rate.Value-60068.6) > 1 {
		t.Errorf("club spring is %+v", club.Corner[0].Spring.Rate)
	}
	if r := job.Builds[1].Corner[2].Spring; r.Rate.Value != 62e3 || r.RateTo.Value != 75e3 || r.RateTo.Half != 0.05*75e3 {
		t.Errorf("progressive spring is %+v", r)
	}
	if s := front.Scale; s.Half != 0.35 || s.Origin != figure.Estimated {
		t.Errorf("scale of an estimated stop is %+v, want ± 35 %%", s)
	}
	if b := job.Builds[1].Corner[0]; b.Damper != arrived.Corner[0].Damper || b.Stop != front || b.Friction.Value != 40 {
		t.Error("what a build does not name stays as it was on the car")
	}
}

// Every key of the table is in every-key.yaml, and whatever stands there is
// asked for by the reader: none is read and forgotten.
func TestEveryKeyIsUsed(t *testing.T) {
	data := load(t, exampleFiles[3])
	root, fault := parse(data)
	if fault != nil {
		t.Fatal(fault)
	}
	w := &walker{}
	top := w.walk(root, jobShape, "")
	(&Job{}).fill(w, top)
	for _, f := range w.faults {
		t.Error(f)
	}
	// A shape that stands in several places is one shape: it is enough that
	// each of its keys is used in one of them.
	type place struct {
		shape *shape
		key   string
	}
	present, asked := map[place]bool{}, map[place]bool{}
	var visit func(e *entry)
	visit = func(e *entry) {
		for _, name := range e.names {
			sub := e.under[name]
			at := place{e.shape, name}
			present[at] = true
			asked[at] = asked[at] || sub.used
			visit(sub)
		}
		for _, item := range e.items {
			visit(item)
		}
	}
	visit(top)
	checked := 0
	seen := map[*shape]bool{}
	var declared func(s *shape, path string)
	declared = func(s *shape, path string) {
		if s.of != nil {
			declared(s.of, path+".*")
		}
		if s.form != object || seen[s] {
			return
		}
		seen[s] = true
		for _, k := range s.keys {
			at := place{s, k.name}
			checked++
			switch {
			case k.name == "trunnion" || k.name == "use" && s != springShape:
			case !present[at]:
				t.Errorf("%s.%s is not in every-key.yaml", path, k.name)
			case !asked[at]:
				t.Errorf("%s.%s is in the table of keys and nobody reads it", path, k.name)
			}
			declared(k.shape, path+"."+k.name)
		}
	}
	declared(jobShape, "")
	if checked < 150 {
		t.Errorf("only %d keys were checked", checked)
	}
	mustRead(t, data, "every-key.yaml")
}

func TestEverySlipHasItsSentence(t *testing.T) {
	for _, s := range car.Slips() {
		if slips[s] == "" {
			t.Errorf("the slip %s has no sentence", s)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	data := load(b, exampleFiles[0])
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if job, _ := ReadBytes(data, "job.yaml"); job == nil {
			b.Fatal("refused")
		}
	}
}
