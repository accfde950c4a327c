package intake

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"trunnion/chassis/demo"
	"trunnion/chassis/dyno"
	"trunnion/shop/quantity"
)

// style is how a machine writes the same damper.
type style struct {
	name                      string
	force, speed, length      string
	sign                      float64 // of the force in compression
	speedSign, positionSign   float64 // against that of the force
	delimiter                 string
	comma, unitsBelow, inName bool
}

var styles = []style{
	{"newton", "N", "mm/s", "mm", 1, 1, 1, ",", false, false, false},
	{"newton, rebound up", "N", "mm/s", "mm", -1, 1, 1, ",", false, true, false},
	{"pound", "lbf", "in/s", "in", 1, 1, -1, "\t", false, true, false},
	{"kilogram", "kgf", "m/s", "m", -1, -1, 1, ";", true, true, false},
	{"commas", "N", "m/s", "mm", 1, -1, -1, ";", true, false, false},
	{"bars", "daN", "cm/s", "cm", 1, 1, 1, "|", false, false, false},
	{"blanks", "kN", "mm/s", "mm", 1, 1, 1, " ", true, false, false},
}

func (s style) unit(name string, kind quantity.Kind) quantity.Unit {
	u, err := quantity.Find(name, kind)
	if err != nil {
		panic(err)
	}
	return u
}

func (s style) number(v float64) string {
	text := fmt.Sprintf("%.8g", v)
	if s.comma {
		text = strings.ReplaceAll(text, ".", ",")
	}
	return text
}

func (s style) line(cells ...string) string { return strings.Join(cells, s.delimiter) + "\n" }

// heading writes names with units behind, or below.
func (s style) heading(pairs ...string) string {
	var names, units []string
	for i := 0; i < len(pairs); i += 2 {
		if s.unitsBelow {
			names, units = append(names, pairs[i]), append(units, pairs[i+1])
		} else {
			names = append(names, pairs[i]+"["+pairs[i+1]+"]")
		}
	}
	out := s.line(names...)
	if s.unitsBelow {
		out += s.line(units...)
	}
	return out
}

// loops writes full loops.
func (s style) loops(runs []dyno.Run) string {
	var out strings.Builder
	length, speed, force := s.unit(s.length, quantity.Length), s.unit(s.speed, quantity.SpeedDamper), s.unit(s.force, quantity.Force)
	for _, r := range runs {
		if s.delimiter == " " {
			fmt.Fprintf(&out, "Click: %d\n", r.Setting[0])
		} else {
			out.WriteString(s.line("Clicks out from closed", fmt.Sprint(r.Setting[0])))
		}
		out.WriteString(s.line("Temperature", s.number(r.Temperature-273.15)+" °C"))
		out.WriteString(s.heading("Time", "s", "Position", s.length, "Velocity", s.speed, "Force", s.force))
		for i := range r.Force {
			out.WriteString(s.line(s.number(r.Time[i]), s.number(length.FromSI(s.sign*s.positionSign*r.Position[i])),
				s.number(speed.FromSI(s.sign*s.speedSign*r.Velocity[i])), s.number(force.FromSI(s.sign*r.Force[i]))))
		}
		out.WriteString("\n")
	}
	return out.String()
}

func (s style) mapping() SweepMapping {
	m := SweepMapping{Compression: "positive", Counted: "closed", Clicks: []int{15}}
	if s.sign < 0 {
		m.Compression = "negative"
	}
	return m
}

var testBench = demo.Machine{Stroke: 0.05, Samples: 400, Noise: 0.5}

func testLoops(clicks ...int) (runs []dyno.Run) {
	d := demo.KitDampers()[1]
	draw := rand.New(rand.NewPCG(6, 6))
	for _, c := range clicks {
		for _, v := range demo.SweepSpeeds {
			runs = append(runs, d.Loop(testBench, v, c, 313.15, draw))
		}
	}
	return runs
}

// peaks is a table of peaks of the same damper, gas and friction in it.
func (s style) peaks(clicks ...int) string {
	d := demo.KitDampers()[1]
	gas, _ := d.Gas.At(0)
	speed, force := s.unit(s.speed, quantity.SpeedDamper), s.unit(s.force, quantity.Force)
	var out strings.Builder
	for _, c := range clicks {
		out.WriteString(s.line("Click", fmt.Sprint(c)) + s.heading("Velocity", s.speed, "Compression", s.force, "Rebound", s.force))
		for _, v := range demo.SweepSpeeds {
			b := d.Force(dyno.Bump, v, c, 313.15) + gas + d.Friction
			r := gas - d.Friction - d.Force(dyno.Rebound, v, c, 313.15)
			out.WriteString(s.line(s.number(speed.FromSI(v)), s.number(force.FromSI(s.sign*b)), s.number(force.FromSI(s.sign*r))))
		}
		out.WriteString(s.line("Max", s.number(1), s.number(2)))
	}
	return out.String()
}

func understood(t *testing.T, name, text string, m SweepMapping) dyno.Set {
	t.Helper()
	got, err := ReadSweeps(context.Background(), []SweepFile{{name, []byte(text)}}, m)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Questions)+len(got.Faults) > 0 || len(got.Dampers) != 1 {
		t.Fatalf("%s: %d dampers, asks %+v, faults %+v", name, len(got.Dampers), got.Questions, got.Faults)
	}
	set, err := dyno.Reduce(got.Dampers[0].Runs, got.Dampers[0].Options)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return set
}

// truth holds every curve against the formula of the invented damper: 0.5 %, or the
// band at the lowest speeds, where gas and friction are most of the force.
func truth(t *testing.T, name string, set dyno.Set, share float64) {
	t.Helper()
	d := demo.KitDampers()[1]
	looked := 0
	for _, c := range set.Curves {
		for _, stroke := range dyno.Strokes {
			b := c.Of(stroke)
			for i, v := range b.Speed {
				want := d.Force(stroke, v, c.Setting[0], 313.15)
				if looked++; math.Abs(b.Force[i]-want) > share*want {
					t.Errorf("%s: %s at click %d and %.4f m/s is %.2f N, %.2f wanted", name, stroke, c.Setting[0], v, b.Force[i], want)
				}
			}
		}
	}
	if looked == 0 {
		t.Errorf("%s: no curve", name)
	}
}

// One damper in any units, either sign, any delimiter, loops or peaks: the same curve
// within 0.5 %.
func TestOneDamperInEveryStyle(t *testing.T) {
	runs := testLoops(3, 11)
	d := demo.KitDampers()[1]
	gas, _ := d.Gas.At(0)
	var first *dyno.Set
	for _, s := range styles {
		set := understood(t, s.name, s.loops(runs), s.mapping())
		truth(t, s.name, set, 0.012) // noise and the lag of the machine are in it
		if first == nil {
			first = &set
		}
		for i, c := range set.Curves {
			for _, stroke := range dyno.Strokes {
				for k, f := range c.Of(stroke).Force {
					if want := first.Curves[i].Of(stroke).Force[k]; math.Abs(f/want-1) > 0.005 {
						t.Errorf("%s: %s at click %d is %.2f N, %.2f in the first style", s.name, stroke, c.Setting[0], f, want)
					}
				}
			}
		}
		m := s.mapping()
		m.Gas, m.Friction = fmt.Sprintf("%.3f N", gas), fmt.Sprintf("%.3f N", d.Friction)
		truth(t, s.name+", peaks", understood(t, s.name, s.peaks(3, 11), m), 0.005)
	}
}

// Encodings, a byte-order mark and a workbook read the same.
func TestEncodings(t *testing.T) {
	s := styles[3]
	text := "Prüfstand; Stoßdämpfer\n" + s.peaks(4, 9)
	m := s.mapping()
	d := demo.KitDampers()[1]
	gas, _ := d.Gas.At(0)
	m.Gas, m.Friction = fmt.Sprintf("%.3f N", gas), fmt.Sprintf("%.3f N", d.Friction)
	latin, err := charmap.Windows1252.NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	bare, err := unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM).NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	for name, one := range map[string]string{"UTF-8": text, "with a mark": "\ufeff" + text, "Windows": latin, "UTF-16": wide, "UTF-16 bare": bare, "CRLF": strings.ReplaceAll(text, "\n", "\r\n")} {
		truth(t, name, understood(t, name, one, m), 0.005)
	}
	truth(t, "workbook", understood(t, "book.xlsx", workbook(t, s, text, false), m), 0.005)
}

// workbook is a text as XLSX, its numbers as numbers.
func workbook(t testing.TB, s style, text string, formula bool) string {
	t.Helper()
	f := excelize.NewFile()
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		for j, cell := range strings.Split(line, s.delimiter) {
			at, _ := excelize.CoordinatesToCellName(j+1, i+1)
			var err error
			if v, ok := number(strings.TrimSpace(cell), map[bool]byte{true: ',', false: '.'}[s.comma]); ok {
				err = f.SetCellValue("Sheet1", at, v)
				if formula && j == 1 {
					err = f.SetCellFormula("Sheet1", at, "1+1")
				}
			} else {
				err = f.SetCellValue("Sheet1", at, cell)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// What a file does not say is asked, and nothing is taken.
func TestQuestions(t *testing.T) {
	plainTable := "velocity,bump,rebound\n50,100,-200\n130,200,-400\n260,300,-600\n"
	for _, c := range []struct {
		name, text string
		m          SweepMapping
		want       []string
	}{
		{"units", plainTable, SweepMapping{Gas: "removed", Friction: "removed"}, []string{"unit velocity", "unit force"}},
		{"one unit", "velocity [mm/s],bump,rebound\n50,100,-200\n130,200,-400\n", SweepMapping{Gas: "removed", Friction: "removed"}, []string{"unit force"}},
		{"gas and friction", strings.Replace(plainTable, "velocity,bump,rebound", "velocity mm/s,bump N,rebound N", 1), SweepMapping{}, []string{"gas ", "friction "}},
		{"which end", "click;4\nvelocity mm/s;bump N;rebound N\n50;100;-200\n130;200;-400\n", SweepMapping{Gas: "removed", Friction: "removed"}, []string{"click-zero "}},
		{"how many", "clicks from open;4\nvelocity mm/s;bump N;rebound N\n50;100;-200\n130;200;-400\n", SweepMapping{Gas: "removed", Friction: "removed"}, []string{"click-total click"}},
		{"no headings", "50,100,-200\n130,200,-400\n", SweepMapping{}, []string{"columns "}},
		{"thousands", "velocity m/s;bump N;rebound N\n1,234;1,500;2,500\n1,300;1,600;2,700\n", SweepMapping{Gas: "removed", Friction: "removed"}, []string{"decimal "}},
		{"sign", styles[0].loops(testLoops(3)[:2]), SweepMapping{}, []string{"compression "}},
		{"frequency", "position mm,force N\n" + strings.Repeat("1,2\n2,4\n3,2\n2,-4\n", 20), SweepMapping{}, []string{"frequency "}},
	} {
		got, err := ReadSweeps(context.Background(), []SweepFile{{"x.csv", []byte(c.text)}}, c.m)
		if err != nil {
			t.Fatal(err)
		}
		var asked []string
		for _, q := range got.Questions {
			asked = append(asked, q.Code+" "+q.About)
			if q.Line == 0 {
				t.Errorf("%s: %s names no line", c.name, q.Code)
			}
		}
		slices.Sort(asked)
		slices.Sort(c.want)
		if !slices.Equal(asked, c.want) || len(got.Dampers) != 0 {
			t.Errorf("%s: asks %q, wanted %q; %d dampers; faults %+v", c.name, asked, c.want, len(got.Dampers), got.Faults)
		}
	}
	// The offset where a loop reverses is gas, which speaks for one sign and settles none.
	got, _ := ReadSweeps(context.Background(), []SweepFile{{"x.csv", []byte(styles[1].loops(testLoops(3)[:2]))}}, SweepMapping{})
	if q := got.Questions[0]; q.Code != "compression" || q.Points != "negative" {
		t.Errorf("asked %+v of a file with rebound up", q)
	}
}

// Malformed files: what stands there, on which line, and what to do.
func TestSweepFaults(t *testing.T) {
	said := SweepMapping{Gas: "removed", Friction: "removed", Counted: "closed", Compression: "positive", Clicks: []int{15}}
	table := "velocity mm/s;bump N;rebound N\n50;100;-200\n130;200;-400\n260;300;-600\n"
	for _, c := range []struct {
		name, text, want string
		line             int
	}{
		{"empty", " \n", "is empty", 0},
		{"no numbers", "a letter\nto somebody\n", "no rows of numbers", 0},
		{"mixed units", strings.Replace(table, "mm/s", "m/s", 1), "50 m/s", 2},
		{"kilonewtons", strings.Replace(table, "bump N", "bump kN", 1), "1e+05 N", 2},
		{"cut short", table + "390;40", "cut short", 5},
		{"a word", table + "390;high;-700\n", `"high"`, 5},
		{"a word after a blank row", table + "\n390;high;-700\n", `"high"`, 6},
		{"two settings side by side", "speed mm/s;C0 bump N;C0 reb N;C5 bump N;C5 reb N\n50;100;200;80;150\n", `"C0 bump" and "C5 bump" are both bump`, 1},
		{"one stroke", "velocity mm/s;bump N\n50;100\n130;200\n", "one stroke", 2},
		{"one sign", "velocity mm/s;force N\n50;100\n130;200\n260;300\n", "one stroke", 2},
		{"decimal signs mixed", strings.ReplaceAll(table, "00;", "00,5;") + "1.234;500,5;-900\n", "cut", 0},
		{"old workbook", "\xd0\xcf\x11\xe0 and more", "old kind", 0},
		{"broken workbook", "PK\x03\x04 and more", "cut short or damaged", 0},
		{"binary", "\x00\x01\x02abc\x00" + strings.Repeat("x", 100), "no text", 0},
		{"many clicks", "click;22\n" + table, "click 22 of 15", 3},
		{"half a click", "click;velocity mm/s;bump N;rebound N\n1.5;50;100;-200\n1.5;130;200;-400\n", "click is 1.5", 2},
		{"no force", "velocity mm/s;position mm\n50;100\n130;200\n", "there is no force", 2},
	} {
		got, err := ReadSweeps(context.Background(), []SweepFile{{"x.csv", []byte(c.text)}}, said)
		if err != nil {
			t.Fatal(err)
		}
		if c.name == "decimal signs mixed" {
			if len(got.Faults) == 0 {
				t.Errorf("1.234 among decimal commas is read without a word")
			}
			continue
		}
		if !slices.ContainsFunc(got.Faults, func(f SweepFault) bool {
			return strings.Contains(f.Got, c.want) && (c.line == 0 || f.Line == c.line) && f.Want != ""
		}) {
			t.Errorf("%s: faults %+v, something with %q at line %d wanted", c.name, got.Faults, c.want, c.line)
		}
	}
	// Formulas whose values were never computed are no numbers; computed ones are read and said.
	got, _ := ReadSweeps(context.Background(), []SweepFile{{"book.xlsx", []byte(workbook(t, styles[3], table, true))}}, said)
	if !slices.ContainsFunc(got.Assumptions, func(a SweepAssumption) bool { return a.Code == "formulas-as-saved" }) {
		t.Errorf("formulas are not said: %+v", got.Assumptions)
	}
	// What is sound beside a fault is read.
	got, _ = ReadSweeps(context.Background(), []SweepFile{{"x.csv", []byte(table + "390;40")}}, said)
	if len(got.Dampers) != 1 || len(got.Dampers[0].Runs[0].Rows) != 3 {
		t.Errorf("three sound rows beside a short one: %+v", got.Dampers)
	}
}

// With more gas than rebound damping every rebound force pushes out: the sign is that of
// the way it goes with speed.
func TestGasAboveRebound(t *testing.T) {
	for name, text := range map[string]string{
		"compression positive": "velocity mm/s;bump N;rebound N\n50;1050;850\n130;1150;650\n260;1250;450\n",
		"rebound positive":     "velocity mm/s;bump N;rebound N\n50;1050;-850\n130;1150;-650\n260;1250;-450\n",
		"compression negative": "velocity mm/s;bump N;rebound N\n50;-1050;-850\n130;-1150;-650\n260;-1250;-450\n",
	} {
		c := understood(t, name, text, SweepMapping{Gas: "950 N", Friction: "removed"}).Curves[0]
		for i, want := range [][2]float64{{100, 100}, {200, 300}, {300, 500}} {
			if c.Bump.Force[i] != want[0] || c.Rebound.Force[i] != want[1] {
				t.Errorf("%s: %g and %g N, %v wanted", name, c.Bump.Force[i], c.Rebound.Force[i], want)
			}
		}
	}
}

// A list of velocity and force with their signs, in spellings that no standard has.
func TestSignedList(t *testing.T) {
	set := understood(t, "x.txt", "Velocity\tForce\nin/sec\tlbs\n-20\t220\n-10\t160\n-5\t110\n0\t8\n5\t-45\n10\t-75\n20\t-120\n",
		SweepMapping{Compression: "negative", Gas: "removed", Friction: "left-in"})
	c := set.Curves[0]
	pound, err := quantity.Find("lbf", quantity.Force)
	if err != nil {
		t.Fatal(err)
	}
	if b, r := c.Bump.Force, c.Rebound.Force; len(b) != 3 || len(r) != 3 || math.Abs(b[1]-pound.ToSI(75)) > 1e-9 || math.Abs(r[2]-pound.ToSI(220)) > 1e-9 || math.Abs(c.Bump.Speed[0]-0.127) > 1e-12 {
		t.Errorf("bump %v, rebound %v at %v", b, r, c.Bump.Speed)
	}
}

// Clicks counted from open, in the table, above it, in the file's name; two knobs.
func TestWhereClicksStand(t *testing.T) {
	said := SweepMapping{Gas: "removed", Friction: "removed", Clicks: []int{15}}
	table := "velocity mm/s;bump N;rebound N\n50;100;-200\n130;200;-400\n"
	for name, c := range map[string]struct {
		file, text string
		m          SweepMapping
		want       []dyno.Setting
	}{
		"from open":   {"x.csv", "clicks from open;4\n" + table + "\nclicks from open;15\n" + table, said, []dyno.Setting{{11}, {0}}},
		"in the name": {"front-click07.csv", table, SweepMapping{Gas: "removed", Friction: "removed", Counted: "closed", Clicks: []int{15}}, []dyno.Setting{{7}}},
		"a column":    {"x.csv", "click;velocity mm/s;bump N;rebound N\n3;50;100;-200\n3;130;200;-400\n9;50;80;-150\n9;130;180;-350\n", SweepMapping{Gas: "removed", Friction: "removed", Counted: "closed"}, []dyno.Setting{{3}, {9}}},
		"two knobs":   {"x.csv", "bump click;2\nrebound click;6\n" + table + "\nbump click;2\nrebound click;1\n" + table, SweepMapping{Gas: "removed", Friction: "removed", Counted: "closed", Clicks: []int{10, 12}}, []dyno.Setting{{2, 6}, {2, 1}}},
	} {
		got, err := ReadSweeps(context.Background(), []SweepFile{{c.file, []byte(c.text)}}, c.m)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Dampers) != 1 {
			t.Errorf("%s: %+v %+v", name, got.Questions, got.Faults)
			continue
		}
		var at []dyno.Setting
		for _, r := range got.Dampers[0].Runs {
			at = append(at, r.Setting)
		}
		if !slices.Equal(at, c.want) {
			t.Errorf("%s: settings %v, %v wanted", name, at, c.want)
		}
	}
}

// Velocity out of position and time, position out of velocity and time, time out of the
// crank's angle.
func TestColumnsThatAreMissing(t *testing.T) {
	runs := testLoops(5)
	write := func(with func(r *dyno.Run, i int) string, heading string) string {
		var out strings.Builder
		for k := range runs {
			fmt.Fprintf(&out, "clicks out from closed,5\nfrequency,%.9g Hz\n%s\n", 1/(runs[k].Time[1]-runs[k].Time[0])/400, heading)
			for i := range runs[k].Force {
				out.WriteString(with(&runs[k], i) + "\n")
			}
		}
		return out.String()
	}
	m := SweepMapping{Compression: "positive", Clicks: []int{15}}
	for name, text := range map[string]string{
		"no velocity": write(func(r *dyno.Run, i int) string {
			return fmt.Sprintf("%.9g,%.9g,%.9g", r.Time[i], r.Position[i], r.Force[i])
		}, "time s,position m,force N"),
		"no position": write(func(r *dyno.Run, i int) string {
			return fmt.Sprintf("%.9g,%.9g,%.9g", r.Time[i], r.Velocity[i], r.Force[i])
		}, "time s,velocity m/s,force N"),
		"crank": write(func(r *dyno.Run, i int) string {
			return fmt.Sprintf("%.9g,%.9g,%.9g", 360*float64(i)/400, r.Position[i], r.Force[i])
		}, "crank angle deg,position m,force N"),
		"no time": write(func(r *dyno.Run, i int) string {
			return fmt.Sprintf("%.9g,%.9g,%.9g", r.Position[i], r.Velocity[i], r.Force[i])
		}, "position m,velocity m/s,force N"),
	} {
		truth(t, name, understood(t, name, text, m), 0.012)
	}
}

// Several files on several goroutines: the order of the files is that of the runs.
func TestSweepFilesReadAtOnce(t *testing.T) {
	var files []SweepFile
	for c := range 8 {
		files = append(files, SweepFile{fmt.Sprintf("click%02d.csv", c), []byte("velocity mm/s;bump N;rebound N\n50;100;-200\n130;200;-400\n")})
	}
	got, err := ReadSweeps(context.Background(), files, SweepMapping{Gas: "removed", Friction: "removed", Counted: "closed"})
	if err != nil || len(got.Dampers) != 1 {
		t.Fatalf("%v, %+v", err, got)
	}
	for i, r := range got.Dampers[0].Runs {
		if r.Setting[0] != i {
			t.Errorf("run %d is of click %d", i, r.Setting[0])
		}
	}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	if _, err := ReadSweeps(stopped, files, SweepMapping{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// No file ends in a panic, and no reading without a number reaches a curve.
func FuzzSweeps(f *testing.F) {
	said := SweepMapping{Gas: "removed", Friction: "removed", Counted: "closed", Compression: "positive", Frequency: "2 Hz", Units: map[string]string{"force": "N", "velocity": "mm/s", "position": "mm", "time": "s"}}
	short := testLoops(3)[:1]
	short[0].Force, short[0].Position, short[0].Velocity, short[0].Time = short[0].Force[:60], short[0].Position[:60], short[0].Velocity[:60], short[0].Time[:60]
	for _, s := range styles {
		f.Add([]byte(s.loops(short)), true)
		f.Add([]byte(s.peaks(3)), false)
	}
	f.Add([]byte("velocity;force\n-50;-100\n50;200\n"), true)
	f.Add([]byte("position mm;force N\n1;200\n2;210\n"), true)
	f.Add([]byte("\xff\xfev\x00"), true)
	f.Add([]byte("click;1;2;3\nmax;1\n1,5 2,5\n\n;;;\n\"\n"), false)
	f.Fuzz(func(t *testing.T, data []byte, answered bool) {
		if len(data) > 20000 || bytes.HasPrefix(data, []byte("PK")) {
			return
		}
		m := SweepMapping{}
		if answered {
			m = said
		}
		got, err := ReadSweeps(context.Background(), []SweepFile{{"fuzz", data}}, m)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Dampers)+len(got.Questions)+len(got.Faults) == 0 {
			t.Error("nothing was read, asked or faulted")
		}
		for _, d := range got.Dampers {
			set, err := dyno.Reduce(d.Runs, d.Options)
			if err != nil {
				continue
			}
			for _, c := range set.Curves {
				for _, s := range dyno.Strokes {
					for _, v := range c.Of(s).Force {
						if math.IsNaN(v) || math.IsInf(v, 0) {
							t.Errorf("a curve holds %v", v)
						}
					}
				}
			}
			set.Faults()
		}
	})
}

// No workbook ends in a panic.
func FuzzWorkbook(f *testing.F) {
	f.Add([]byte(workbook(f, styles[3], styles[3].peaks(3), false)))
	f.Add([]byte(workbook(f, styles[3], styles[3].peaks(3), true)))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 100_000 {
			return
		}
		if _, err := ReadSweeps(context.Background(), []SweepFile{{"fuzz.xlsx", append([]byte("PK"), data...)}, {"as it is", data}}, SweepMapping{}); err != nil {
			t.Fatal(err)
		}
	})
}

// BenchmarkSweeps reads 4 dampers of 16 clicks, 8 velocities and loops of 1,000
// readings, half a million rows, and makes their curves.
func BenchmarkSweeps(b *testing.B) {
	var files []SweepFile
	s := styles[0]
	for i, d := range demo.KitDampers() {
		draw := rand.New(rand.NewPCG(uint64(i), 1))
		var runs []dyno.Run
		for c := range 16 {
			for _, v := range demo.SweepSpeeds {
				runs = append(runs, d.Loop(demo.Machine{Stroke: 0.05, Samples: 1000, Noise: 2}, v, c, 313.15, draw))
			}
		}
		files = append(files, SweepFile{fmt.Sprintf("%d.csv", i), []byte(fmt.Sprintf("Damper,%d\n", i) + s.loops(runs))})
	}
	m := s.mapping()
	for b.Loop() {
		got, err := ReadSweeps(context.Background(), files, m)
		if err != nil || len(got.Dampers) != 4 {
			b.Fatal(err, got.Questions, got.Faults)
		}
		for _, d := range got.Dampers {
			if _, err := dyno.Reduce(d.Runs, d.Options); err != nil {
				b.Fatal(err)
			}
		}
	}
}
