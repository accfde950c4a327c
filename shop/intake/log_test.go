package intake

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"trunnion/chassis/roadtest"
)

// answers to everything that a log of travel cannot say.
func answersOfLog() LogMapping {
	return LogMapping{Signs: map[string]string{"travel": "bump", "acceleration": "up", "lateral": "left"}, Zero: "rest", Along: "damper"}
}

// wave is a log of n rows at a rate: front left travel in mm, speed in km/h.
func wave(n int, rate float64, head, line string) string {
	var b strings.Builder
	b.WriteString(head)
	for k := range n {
		t := float64(k) / rate
		fmt.Fprintf(&b, line, t, 12*math.Sin(2*math.Pi*1.5*t), 50.0)
	}
	return b.String()
}

func readLog(t *testing.T, text string, m LogMapping) *Logged {
	t.Helper()
	got, err := ReadLog("drive.csv", strings.NewReader(text), m)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func codes(list []LogQuestion) string {
	var out []string
	for _, q := range list {
		out = append(out, q.Code+" "+q.About)
	}
	return strings.Join(out, ", ")
}

func TestLogsOfSeveralLoggersGiveTheSameChannel(t *testing.T) {
	const n, rate = 400, 200.0
	comma := func(s string) string { return strings.ReplaceAll(s, ".", ",") }
	plainLog := wave(n, rate, "time [s],travel FL [mm],speed [km/h]\n", "%.4f,%.4f,%.1f\n")
	units := wave(n, rate, "Logger 3\nDate,22 Nov\nTime,Damper LF,Speed\ns,mm,km/h\n", "%.4f,%.4f,%.1f\n")
	semicolon := comma(wave(n, rate, "time_s;susp front left_mm;speed_km/h\n", "%.4f;%.4f;%.1f\n"))
	metres := strings.Replace(plainLog, "[km/h]", "[km/h]", 1)
	for name, text := range map[string]string{"plain": plainLog, "units row": units, "semicolon and comma": semicolon, "mark of UTF-8": "\ufeff" + metres, "returns": strings.ReplaceAll(plainLog, "\n", "\r\n")} {
		got := readLog(t, text, answersOfLog())
		if len(got.Questions)+len(got.Faults) > 0 {
			t.Errorf("%s: asks %s, faults %v", name, codes(got.Questions), got.Faults)
			continue
		}
		c := got.Log.Find(roadtest.Travel, 0)
		if c == nil || math.Abs(c.Rate-rate) > 1e-6*rate || len(c.Values) != n {
			t.Errorf("%s: front left travel is %+v, want %d samples at %g Hz", name, c, n, rate)
			continue
		}
		if want := 0.012 * math.Sin(2*math.Pi*1.5*0.5); math.Abs(c.Values[100]-want) > 1e-6 {
			t.Errorf("%s: travel at half a second is %g m, want %g", name, c.Values[100], want)
		}
		if v := got.Log.Find(roadtest.Speed, -1); v == nil || math.Abs(v.Values[5]-50/3.6) > 1e-9 {
			t.Errorf("%s: speed %v, want 13.89 m/s", name, v)
		}
	}
}

func TestALogIsAskedForWhatItCannotSay(t *testing.T) {
	text := wave(100, 100, "FL,FL2,speed\n", "%.3f,%.3f,%.1f\n")
	got := readLog(t, text, LogMapping{})
	for _, want := range []string{"rate ", "role FL", "role FL2", "unit speed"} {
		if !strings.Contains(codes(got.Questions), want) {
			t.Errorf("asks %s; %q is missing", codes(got.Questions), want)
		}
	}
	if len(got.Log.Channels) > 0 {
		t.Errorf("a log with questions has %d channels", len(got.Log.Channels))
	}
	got = readLog(t, wave(100, 100, "time [s],travel FL [mm],speed [km/h]\n", "%.3f,%.3f,%.1f\n"), LogMapping{})
	if want := "sign travel, zero travel, along travel"; codes(got.Questions) != want {
		t.Errorf("asks %s, want %s", codes(got.Questions), want)
	}
	m := answersOfLog()
	m.Units = map[string]string{"travel FL": "V"}
	if got = readLog(t, wave(100, 100, "time [s],travel FL,speed [km/h]\n", "%.3f,%.3f,%.1f\n"), m); codes(got.Questions) != "gain travel FL" {
		t.Errorf("a channel in volts asks %q, want its gain", codes(got.Questions))
	}
	m.Gains = map[string]string{"travel FL": "15 mm"}
	if got = readLog(t, wave(100, 100, "time [s],travel FL,speed [km/h]\n", "%.3f,%.3f,%.1f\n"), m); len(got.Log.Channels) != 2 || math.Abs(got.Log.Channels[0].Values[10]-0.015*12*math.Sin(2*math.Pi*0.15)) > 1e-4 {
		t.Errorf("15 mm a volt gives %v %v", got.Faults, codes(got.Questions))
	}
}

func TestSignZeroAndGravity(t *testing.T) {
	var b strings.Builder
	b.WriteString("time [s],travel FL [mm],floor [g]\n")
	for k := range 400 {
		x := 40.0 // the car stands
		if k >= 200 {
			x = 40 - 10
		}
		fmt.Fprintf(&b, "%.3f,%.2f,%.4f\n", float64(k)/100, x, 1+0.1*math.Sin(float64(k)))
	}
	m := answersOfLog()
	m.Signs["travel"], m.Zero, m.Rest = "rebound", "start", "2 s"
	got := readLog(t, b.String(), m)
	c := got.Log.Find(roadtest.Travel, 0)
	if c == nil || math.Abs(c.Values[50]) > 1e-9 || math.Abs(c.Values[300]-0.010) > 1e-9 {
		t.Fatalf("rebound positive, zero at the start: %+v %v", got.Faults, codes(got.Questions))
	}
	floor := got.Log.Find(roadtest.Floor, -1)
	sum := 0.0
	for _, v := range floor.Values {
		sum += v
	}
	if math.Abs(sum) > 1e-6 {
		t.Errorf("gravity stays in the floor's acceleration: sum %g", sum)
	}
	got = readLog(t, b.String(), LogMapping{Zero: "rest", Along: "damper", Signs: map[string]string{"travel": "bump"}})
	if len(got.Questions) != 1 || got.Questions[0].Points != "up" {
		t.Errorf("one g in the file speaks for up: %+v", got.Questions)
	}
}

func TestGapsMixedRatesTextAndClock(t *testing.T) {
	var b strings.Builder
	b.WriteString("clock,travel FL [mm],speed [km/h],event\n")
	for k := range 1000 {
		if k > 500 && k < 520 {
			continue // dropped
		}
		speed, event := "", ""
		if k%10 == 0 {
			speed = "50.0"
		}
		if k == 300 {
			event = "hump"
		}
		fmt.Fprintf(&b, "12:59:%06.3f,%.2f,%s,%s\n", float64(k)/50, 10*math.Sin(float64(k)/20), speed, event)
		if k == 600 {
			b.WriteString("# driver: gravel begins\n")
		}
	}
	got := readLog(t, b.String(), answersOfLog())
	c, v := got.Log.Find(roadtest.Travel, 0), got.Log.Find(roadtest.Speed, -1)
	if c == nil || v == nil {
		t.Fatalf("faults %v, asks %s", got.Faults, codes(got.Questions))
	}
	if c.Clock.Dropped != 19 || c.Clock.Gaps != 1 {
		t.Errorf("%d samples dropped in %d gaps, want 19 in 1", c.Clock.Dropped, c.Clock.Gaps)
	}
	if math.Abs(c.Rate-50) > 0.01 || math.Abs(v.Rate-5) > 0.01 {
		t.Errorf("rates %g and %g Hz, want 50 and 5", c.Rate, v.Rate)
	}
	texts := fmt.Sprint(got.Log.Events)
	if !strings.Contains(texts, "gravel begins") {
		t.Errorf("events are %s", texts)
	}
}

func TestLogsThatCannotBeRead(t *testing.T) {
	backwards := wave(200, 100, "time [s],travel FL [mm],speed [km/h]\n", "%.3f,%.3f,%.1f\n")
	lines := strings.Split(backwards, "\n")
	for i := range lines {
		if i > 20 && i%10 == 0 {
			lines[i], lines[i-1] = lines[i-1], lines[i]
		}
	}
	for name, one := range map[string]struct {
		text, want string
	}{
		"empty":           {"", "is empty"},
		"blank":           {"\n\n  \n", "is empty"},
		"words":           {"this is a letter\nand no log\n", "no rows of figures"},
		"parquet":         {"PAR1\x00\x01", "is no text"},
		"short":           {"time [s],travel FL [mm]\n0,1\n0.1,2\n", "rows of figures"},
		"clock backwards": {strings.Join(lines, "\n"), "does not go forward"},
		"same role":       {wave(50, 100, "time [s],travel FL [mm],damper FL [mm]\n", "%.3f,%.3f,%.1f\n"), "the same role"},
		"not a number":    {"time [s],travel FL [mm]\n" + strings.Repeat("0.1,nan\n", 40), "does not go forward"},
	} {
		got := readLog(t, one.text, answersOfLog())
		if text := fmt.Sprint(got.Faults); !strings.Contains(text, one.want) && name != "not a number" {
			t.Errorf("%s: faults %s, want %q", name, text, one.want)
		}
		if len(got.Faults)+len(got.Questions) == 0 {
			t.Errorf("%s: nothing is said", name)
		}
		for _, f := range got.Faults {
			if f.Want == "" {
				t.Errorf("%s: %q does not say what could be done", name, f.Got)
			}
		}
	}
}

func FuzzReadLog(f *testing.F) {
	f.Add(wave(30, 100, "time [s],travel FL [mm],speed [km/h]\n", "%.3f,%.3f,%.1f\n"), "rest", "bump")
	f.Add("t;FL\ns;mm\n0,1;2\n0,2;3\n", "start", "rebound")
	f.Add("12:00:01 1 2\n12:00:02 1 3\n", "hanging", "")
	f.Add("time,travel FL [V]\n1e300,1\n-1e300,2\n", "rest", "bump")
	f.Fuzz(func(t *testing.T, text, zero, sign string) {
		m := answersOfLog()
		m.Zero, m.Rest = zero, "1 s"
		m.Signs["travel"] = sign
		got, err := ReadLog("f.csv", strings.NewReader(text), m)
		if err != nil {
			return
		}
		if len(got.Faults)+len(got.Questions)+len(got.Log.Channels) == 0 {
			t.Error("a log is neither read nor at fault nor asked about")
		}
		for i := range got.Log.Channels {
			c := &got.Log.Channels[i]
			if !(c.Rate > 0) || len(c.Values) == 0 {
				t.Errorf("%s has %d values at %g Hz", c.Name, len(c.Values), c.Rate)
			}
			roadtest.GradeOf(c)
		}
	})
}
