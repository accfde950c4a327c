package jobfile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/iotest"
)

// A row changes one place of the demo and wants one fault: where, and words of
// what it says.
type slipRow struct {
	name     string
	old, new string
	path     string
	says     []string
	kind     Severity
}

func TestEveryFaultIsFound(t *testing.T) {
	demo := string(load(t, exampleFiles[0]))
	_, rear, _ := strings.Cut(demo, "    type: multilink\n")
	rearMotion, _, _ := strings.Cut(rear, "    tyre_rate:")
	for _, row := range []slipRow{
		// Text and keys.
		{"unknown key", "wheelbase: 2700 mm", "wheelbse: 2700 mm", "car.wheelbse", []string{"not a key", "did you mean wheelbase?"}, Refuse},
		{"swapped letters in a part", "rate: maker 25 N/mm", "raet: maker 25 N/mm", "parts.springs.front-25.raet", []string{"did you mean rate?"}, Refuse},
		{"corner of another name", "front_left: 426 kg", "front-left: 426 kg", "car.weighed.load.front-left", []string{"did you mean front_left?"}, Refuse},
		{"missing key", "  wheelbase: 2700 mm\n", "", "car.wheelbase", []string{"is missing", "352 mm"}, Refuse},
		{"duplicate key", "  tank: 55 l\n", "  tank: 55 l\n  tank: 50 l\n", "car.tank", []string{"stands twice", "the first is in line 23"}, Refuse},
		{"duplicate build", "  lower-old:\n", "  arrived:\n", "builds.arrived", []string{"stands twice"}, Refuse},
		{"empty value", "wheelbase: 2700 mm", "wheelbase:", "car.wheelbase", []string{"is empty"}, Refuse},
		{"mapping for a value", "wheelbase: 2700 mm", "wheelbase: {mm: 2700}", "car.wheelbase", []string{"is a mapping"}, Refuse},
		{"word outside the choice", "type: strut", "type: strutt", "car.front.type", []string{"is strutt", "strut, wishbone"}, Refuse},
		{"unknown part", "spring: rear-80", "spring: rear-81", "builds.kit.rear.spring", []string{"is rear-81", "did you mean rear-80?"}, Refuse},
		{"unknown build", "    build: arrived\n", "    build: arived\n", "car.weighed.build", []string{"did you mean arrived?"}, Refuse},
		{"unknown load state", "with: driver", "with: drivr", "loads.four-aboard.with", []string{"did you mean driver?"}, Refuse},
		{"load state that adds to itself", "with: driver", "with: holiday", "loads.four-aboard.with", []string{"add to itself"}, Refuse},
		{"unknown reference", "reference: arrived", "reference: arrive", "brief.reference", []string{"did you mean arrived?"}, Refuse},
		{"unknown load of a road", "[120 km/h], load: driver", "[120 km/h], load: drive", "brief.roads[2].load", []string{"did you mean driver?"}, Refuse},
		{"three corners in a list", "load: {front_left: 426 kg, front_right: 428 kg, rear_left: 314 kg, rear_right: 295 kg}", "load: [426, 428, 314 kg]", "car.weighed.load", []string{"has 3 entries", "front_left, front_right, rear_left, rear_right"}, Refuse},
		{"tag", "wheelbase: 2700 mm", "wheelbase: !!str 2700 mm", "", []string{"has a tag"}, Refuse},
		{"merge key", "  arrived:\n", "  arrived:\n    <<: {name: x}\n", "", []string{"merge keys"}, Refuse},
		{"name used before it stands", "wheelbase: 2700 mm", "wheelbase: *nothing", "", []string{"*nothing"}, Refuse},
		{"newer version", "trunnion: job/1", "trunnion: job/2", "trunnion", []string{"is job/2", "a newer one"}, Refuse},
		{"other version", "trunnion: job/1", "trunnion: yes", "trunnion", []string{"it must be job/1"}, Refuse},

		// Figures.
		{"no unit", "wheelbase: 2700 mm", "wheelbase: 2700", "car.wheelbase", []string{"has no unit", "2700 mm"}, Refuse},
		{"wrong kind", "rate: maker 25 N/mm", "rate: maker 25 mm", "parts.springs.front-25.rate", []string{"mm is a length", "enter a stiffness"}, Refuse},
		{"NaN", "wheelbase: 2700 mm", "wheelbase: .nan", "car.wheelbase", []string{".nan", "number"}, Refuse},
		{"infinity", "wheelbase: 2700 mm", "wheelbase: .inf", "car.wheelbase", []string{".inf"}, Refuse},
		{"far too large", "wheelbase: 2700 mm", "wheelbase: 1e999 mm", "car.wheelbase", []string{"far beyond"}, Refuse},
		{"NaN in a table", "crush: [0, 5, 10, 15, 20, 25, 30, 34", "crush: [0, 5, nan, 15, 20, 25, 30, 34", "parts.stops.f60.crush[2]", []string{"nan"}, Refuse},
		{"broken band", "225 N/mm ± 12 %", "225 N/mm ± twelve %", "car.front.tyre_rate", []string{"twelve"}, Refuse},
		{"band down to nothing", "unsprung: {front: 44 ± 5 kg", "unsprung: {front: 44 ± 50 kg", "car.unsprung.front", []string{"reaches down to nothing"}, Refuse},

		// Scales.
		{"one scale missing", "front_left: 426 kg, ", "", "car.weighed.load.front_left", []string{"is missing", "all four"}, Refuse},
		{"all in lb, typed as kg", "load: {front_left: 426 kg, front_right: 428 kg, rear_left: 314 kg, rear_right: 295 kg}", "load: [939, 944, 692, 650 kg]", "car.weighed.load", []string{"adds up to 3225", "shown lb"}, Refuse},
		{"one load far out", "front_left: 426 kg", "front_left: 1426 kg", "car.weighed.load.front_left", []string{"is 1426 kg", "lb, or of a whole axle"}, Refuse},
		{"do not add up", "rear_left: 314 kg", "rear_left: 414 kg", "car.weighed.load", []string{"adds up to 1563", "a scale wrong"}, Warn},
		{"kerb mass in lb", "kerb_mass: 1480 kg", "kerb_mass: 3263 kg", "car.kerb_mass", []string{"is 3263 kg", "is it in lb?"}, Refuse},
		{"impossible shares", "load: {front_left: 426 kg, front_right: 428 kg, rear_left: 314 kg, rear_right: 295 kg}", "load: [590, 595, 140, 138 kg]", "car.weighed.load", []string{"81.0 %", "in front"}, Refuse},
		{"left and right", "load: {front_left: 426 kg, front_right: 428 kg, rear_left: 314 kg, rear_right: 295 kg}", "load: [520, 334, 380, 229 kg]", "car.weighed.load", []string{"on the left", "which scale stood where"}, Refuse},

		// Heights, lengths, ratios.
		{"floor to arch", "front_left: 376 mm", "front_left: 676 mm", "car.weighed.arch_height.front_left", []string{"is 676 mm", "of the zero height", "not floor to arch"}, Refuse},
		{"floor to arch, out of all range", "front_left: 376 mm", "front_left: 716 mm", "car.weighed.arch_height.front_left", []string{"not floor to arch"}, Refuse},
		{"turned-over ratio", "spring: [-56.5, -38, -19, 0, 19.5, 39, 59 mm]", "spring: [-139, -94, -47, 0, 46, 92, 137 mm]", "car.rear.motion.spring", []string{"ratio of 1.54", "turned over"}, Refuse},
		{"half the wheel travel", "damper: [-80.5, -54, -27, 0, 27, 54.5, 82.5 mm]", "damper: [-161, -108, -54, 0, 54, 109, 165 mm]", "car.rear.motion.damper", []string{"ratio of 1.81", "half the wheel travel"}, Refuse},
		{"backward ratio", "spring: [-56.5, -38, -19, 0, 19.5, 39, 59 mm]", "spring: [56.5, 38, 19, 0, -19.5, -39, -59 mm]", "car.rear.motion.spring", []string{"bump is positive"}, Refuse},
		{"one taken for the other", "damper: [-80.5, -54, -27, 0, 27, 54.5, 82.5 mm]", "damper: [-56.5, -38, -19, 0, 19.5, 39, 59 mm]", "car.rear.motion.damper", []string{"same readings as spring"}, Warn},
		{"misread row", "spring: [-56.5, -38, -19, 0, 19.5, 39, 59 mm]", "spring: [-56.5, -38, -19, 0, 29.5, 39, 59 mm]", "car.rear.motion.spring", []string{"29.5 mm", "misread"}, Warn},
		{"uneven rows", "spring: [-56.5, -38, -19, 0, 19.5, 39, 59 mm]", "spring: [-56.5, -38, -19, 0, 19.5, 39 mm]", "car.rear.motion.spring", []string{"has 6 numbers", "wheel has 7"}, Refuse},
		{"no table and no points", rearMotion, "", "car.rear.motion.spring", []string{"is missing", "taped"}, Refuse},
		{"bare ratio", "      spring: [-56.5, -38, -19, 0, 19.5, 39, 59 mm]", "      spring: 0.64", "car.rear.motion.spring", []string{"has 1 numbers"}, Refuse},
		{"droop limit without its sign", "limits: {arch: 101 ± 3 mm}", "limits: {arch: 101 ± 3 mm, hose: 95 mm}", "car.rear.limits.hose", []string{"less than 0"}, Refuse},
		{"hang the wheel off", "unsprung: {front: 44 ± 5 kg", "unsprung: {front: 4 ± 1 kg", "car.unsprung.front", []string{"10.0 kg to 150.0 kg"}, Refuse},

		// Springs.
		{"kgf/mm typed as N/mm", "rear-48: {rate: maker 48 N/mm", "rear-48: {rate: maker 4.9 N/mm", "parts.springs.rear-48.rate", []string{"is maker 4.9 N/mm", "kgf"}, Refuse},
		{"kgf/mm typed as N/mm, within the range", "rear-80: {rate: maker 80 N/mm", "rear-80: {rate: maker 8.2 N/mm", "parts.springs.rear-80.rate", []string{"usual is", "kgf"}, Warn},
		{"lbf/in typed as N/mm", "rear-48: {rate: maker 48 N/mm", "rear-48: {rate: maker 274 N/mm", "parts.springs.rear-48.rate", []string{"lbf/in"}, Refuse},
		{"spring that cannot carry the car", "rear-48: {rate: maker 48 N/mm", "rear-48: {rate: maker 70 N/mm", "parts.springs.rear-48.rate", []string{"it carries", "the scales ask for"}, Warn},
		{"block over free", "block: maker 95 mm}", "block: maker 295 mm}", "parts.springs.rear-60.block", []string{"less than free, maker 250 mm"}, Refuse},
		{"range that goes down", "front-31: {rate: maker 31 N/mm", "front-31: {rate: maker 38-25 N/mm", "parts.springs.front-31.rate", []string{"goes down"}, Refuse},
		{"weighed below block", "spring_length: {front_left: 210.2 mm", "spring_length: {front_left: 110.2 mm", "car.weighed.spring_length.front_left", []string{"coils touch at maker 120 mm"}, Refuse},

		// Dampers.
		{"open shorter than closed", "open: 568 mm", "open: 310 mm", "parts.dampers.old-front.open", []string{"is 310 mm", "longer than closed, 403 mm"}, Refuse},
		{"rod shorter than the stroke", "rod_showing_open: 182 mm", "rod_showing_open: 132 mm", "parts.dampers.old-front.rod_showing_open", []string{"the stroke", "165.0 mm"}, Refuse},
		{"length outside the damper", "damper_length: {front_left: 489 mm", "damper_length: {front_left: 389 mm", "car.weighed.damper_length.front_left", []string{"403 mm when closed"}, Refuse},
		{"rod disagrees with the lengths", "rod_showing: {front_left: 103 mm", "rod_showing: {front_left: 98 mm", "car.weighed.rod_showing.front_left", []string{"should be 103.0 mm"}, Warn},
		{"negative gap", "rod_showing: {front_left: 103 mm", "rod_showing: {front_left: -3 mm", "car.weighed.rod_showing.front_left", []string{"less than nothing"}, Refuse},
		{"weighed on its stop", "rod_showing: {front_left: 103 mm", "rod_showing: {front_left: 55 mm", "car.weighed.rod_showing.front_left", []string{"resting on it"}, Warn},
		{"psi typed as bar", "pressure: maker 18.2 bar", "pressure: maker 264 bar", "parts.dampers.kit-front.gas.pressure", []string{"psi"}, Refuse},
		{"rod thicker than the piston", "rod: maker 14 mm", "rod: maker 37 mm", "parts.dampers.kit-rear.rod", []string{"less than piston"}, Refuse},
		{"click table one step backwards", "click-7: {click: 7, speed: *speeds, bump: [95, 165, 305, 450, 570, 675, 1090 N]", "click-7: {click: 7, speed: *speeds, bump: [65, 105, 205, 350, 470, 575, 990 N]", "parts.dampers.kit-front.curves", []string{"no stiffer in bump at click 7", "counted from closed"}, Warn},
		{"click beyond the last", "click: {front: 7, rear: 7}", "click: {front: 16, rear: 7}", "builds.kit.setup.click.front", []string{"0 (closed) to 15"}, Refuse},
		{"click of a damper without", "  kit:\n    name: Adj", "  x: {front: {damper: old-front}, setup: {click: {front: 3}}}\n  kit:\n    name: Adj", "builds.x.setup.click.front", []string{"has no clicks"}, Refuse},
		{"no click set", "      click: {front: 7, rear: 7}\n", "      click: {front: 7}\n", "builds.kit.setup.click.rear", []string{"is missing", "which one is set"}, Refuse},
		{"second curve at a click", "click-3: {click: 3, speed: *speeds, bump: [130", "click-3: {click: 7, speed: *speeds, bump: [130", "parts.dampers.kit-front.curves.click-3", []string{"second curve at click 7"}, Refuse},
		{"damper force that falls", "bump: [35, 60, 120, 190, 250, 305, 520 N]", "bump: [35, 60, 120, 190, 150, 305, 520 N]", "parts.dampers.old-front.curves", []string{"falls from 190 N to 150 N"}, Refuse},
		{"speed in m/s for mm/s", "[25, 50, 130, 260, 390, 520, 1040 mm/s]", "[25, 50, 130, 260, 390, 520, 1040 m/s]", "parts.dampers.old-front.curves", []string{"25000", "mm/s or in/s"}, Refuse},

		// Stops and settings.
		{"stop table that falls", "force: [0, 110, 230, 370, 560", "force: [0, 110, 230, 170, 560", "parts.stops.f60.force", []string{"falls from 230 N to 170 N"}, Refuse},
		{"crush backwards", "crush: [0, 5, 10, 15, 20, 25, 30, 34, 37, 39 mm]", "crush: [0, 5, 10, 8, 20, 25, 30, 34, 37, 39 mm]", "parts.stops.f60.force", []string{"8.0 mm after 10.0 mm"}, Refuse},
		{"crushed past its length", "f60: {length: 60 mm", "f60: {length: 38 mm", "parts.stops.f60.crush", []string{"only 38 mm long"}, Refuse},
		{"stop longer than the stroke", "f42: {length: 42 mm", "f42: {length: 138 mm", "builds.kit.front.stop", []string{"138.0 mm long", "the stroke is only 136.0 mm"}, Refuse},
		{"stop longer than the stroke, with a packer", "stop: f42, seats", "stop: f42, packer: 99 mm, seats", "builds.kit.front.stop", []string{"141.0 mm long", "the stroke is only 136.0 mm"}, Refuse},
		{"hole in use that the bar has not", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, hole: innr, holes: {inner: {arm: 200 mm}, outer: {arm: 230 mm}}}", "car.front.bar.hole", []string{"is innr", "did you mean inner?"}, Refuse},
		{"hole without a measure", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, hole: inner, holes: {inner: {arm: 200 mm}, outer: {link_ratio: 0.9}}}", "car.front.bar.holes.outer", []string{"neither an arm nor a rate"}, Refuse},
		{"hole with nothing to compare its arm with", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, holes: {inner: {arm: 200 mm}}}", "car.front.bar.holes.inner", []string{"nothing to compare with"}, Refuse},
		{"arm of a hole that is none", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, hole: inner, holes: {inner: {arm: 200 mm}, outer: {arm: 2300 mm}}}", "car.front.bar.holes.outer.arm", []string{"2300"}, Refuse},
		{"holes without the rate of the one in use", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {link_ratio: 0.94, holes: {inner: {rate: 11 N/mm}, outer: {rate: 9 N/mm}}}", "car.front.bar.holes", []string{"say nothing of the hole in use"}, Refuse},
		{"rate of the hole in use given twice", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, hole: inner, holes: {inner: {rate: 9 N/mm}, outer: {rate: 7 N/mm}}}", "car.front.bar.holes.inner.rate", []string{"beside bar.rate"}, Warn},
		{"link ratio of the hole in use given twice", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, hole: inner, holes: {inner: {link_ratio: 0.9}, outer: {rate: 7 N/mm}}}", "car.front.bar.holes.inner.link_ratio", []string{"beside bar.link_ratio"}, Warn},
		{"arm of the hole in use given twice", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %}", "bar: {rate: 9.5 N/mm ± 15 %, link_ratio: 0.94 ± 4 %, arm: 210 mm, hole: inner, holes: {inner: {arm: 205 mm}, outer: {rate: 7 N/mm}}}", "car.front.bar.holes.inner.arm", []string{"beside bar.arm"}, Warn},
		{"negative packer", "stop: f42, seats", "stop: f42, packer: -5 mm, seats", "builds.kit.front.packer", []string{"takes room"}, Refuse},
		{"platform out of its range", "      click: {front: 7, rear: 7}\n", "      click: {front: 7, rear: 7}\n      platform: [25, 25, 0, 0 mm]\n", "builds.kit.setup.platform.front_left", []string{"up by 18 mm at most"}, Refuse},
		{"fewer threads in engagement than have to stay", "kit-collar: {type: seat,", "kit-collar: {type: body, engaged: 20 mm, least_engaged: 25 mm,", "parts.platforms.kit-collar.engaged", []string{"is 20 mm", "than the 25 mm that have to stay"}, Refuse},
		{"engagement without the least", "kit-collar: {type: seat,", "kit-collar: {type: body, engaged: 40 mm,", "parts.platforms.kit-collar.engaged", []string{"least_engaged"}, Refuse},
		{"engagement of a spring seat", "kit-collar: {type: seat,", "kit-collar: {type: seat, engaged: 40 mm, least_engaged: 25 mm,", "parts.platforms.kit-collar.engaged", []string{"screwed out of its bracket"}, Warn},
		{"collar of one flat", "kit-collar: {type: seat,", "kit-collar: {type: seat, flats: 1,", "parts.platforms.kit-collar.flats", []string{"2 to 60 flats"}, Refuse},
		{"heights without a platform", "    price: 420 EUR\n", "    setup: {heights: [350, 350, 350, 350 mm]}\n", "builds.lower-old.setup.heights.front_left", []string{"no platform"}, Refuse},
		{"shares of uses", "daily: 70 %", "daily: 50 %", "brief.uses", []string{"adds up to 80 %"}, Warn},
		{"payload in lb", "mass: 82 kg", "mass: 1820 kg", "loads.driver.items[0].mass", []string{"-600.0 kg to 1500.0 kg"}, Refuse},
		{"payload beside the car", "left: 0 mm}", "left: 1.5 m}", "loads.holiday.items[0].left", []string{"must be"}, Refuse},
		{"speed of a rocket", "speeds: [120 km/h]", "speeds: [1200 km/h]", "brief.roads[2].speeds[0]", []string{"must be"}, Refuse},
		{"pothole like a pit", "depth: 50 mm", "depth: 5 m", "brief.events[0].depth", []string{"must be"}, Refuse},
	} {
		t.Run(row.name, func(t *testing.T) {
			if strings.Count(demo, row.old) == 0 {
				t.Fatalf("%q does not stand in the demo", row.old)
			}
			text := strings.Replace(demo, row.old, row.new, 1)
			job, faults := ReadBytes([]byte(text), "job.yaml")
			var found *Fault
			for i := range faults {
				f := &faults[i]
				ok := f.Path == row.path && f.Kind == row.kind
				for _, words := range row.says {
					ok = ok && strings.Contains(f.String(), words)
				}
				if ok {
					found = f
				}
			}
			if found != nil && found.Line == 0 && row.path != "" {
				t.Errorf("no line: %s", found)
			}
			if found == nil {
				t.Fatalf("want %s at %q saying %q; got\n%s", row.kind, row.path, row.says, listing(faults))
			}
			if (job == nil) != (AsError("", faults) != nil) {
				t.Errorf("a job is given exactly when nothing refuses it; got %v with\n%s", job != nil, listing(faults))
			}
			if row.kind == Warn && job == nil {
				t.Errorf("a warning must not refuse the job:\n%s", listing(faults))
			}
		})
	}
}

func listing(faults []Fault) string {
	var b strings.Builder
	for _, f := range faults {
		fmt.Fprintln(&b, f.In("job.yaml"), f.Kind)
	}
	return b.String()
}

func TestFaultNamesItsLine(t *testing.T) {
	demo := string(load(t, exampleFiles[0]))
	text := strings.Replace(demo, "open: 568 mm", "open: 310 mm", 1)
	line := 1 + strings.Count(text[:strings.Index(text, "open: 310 mm")], "\n")
	_, faults := ReadBytes([]byte(text), "job.yaml")
	err := AsError("job.yaml", faults)
	want := fmt.Sprintf("job.yaml:%d: parts.dampers.old-front.open is 310 mm; it must be longer than closed, 403 mm", line)
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("got %v, want a line %q", err, want)
	}
	var list *Faults
	if !errors.As(err, &list) || len(list.List) == 0 {
		t.Errorf("the error does not hold the faults: %v", err)
	}
}

func TestAllFaultsAtOnce(t *testing.T) {
	text := string(load(t, exampleFiles[0]))
	for _, swap := range [][2]string{
		{"wheelbase: 2700 mm", "wheelbase: 2700"},
		{"type: strut", "type: strutt"},
		{"open: 588 mm", "open: 288 mm"},
		{"spring: rear-80", "spring: rear-81"},
		{"force: [0, 80, 170", "force: [0, 80, 70"},
		{"reference: arrived", "reference: arrive"},
	} {
		text = strings.Replace(text, swap[0], swap[1], 1)
	}
	_, faults := ReadBytes([]byte(text), "job.yaml")
	got := map[string]bool{}
	last := 0
	for _, f := range faults {
		got[f.Path] = true
		if f.Line < last {
			t.Errorf("faults are not in the order of their lines: %s", listing(faults))
		}
		last = f.Line
	}
	for _, path := range []string{"car.wheelbase", "car.front.type", "parts.dampers.old-rear.open", "builds.kit.rear.spring", "parts.stops.r58.force", "brief.reference"} {
		if !got[path] {
			t.Errorf("no fault at %s in\n%s", path, listing(faults))
		}
	}
}

func TestDatesAreOfTheCalendar(t *testing.T) {
	text := string(load(t, exampleFiles[0]))
	for date, want := range map[string]string{
		"2026-02-30": "one of the calendar", "2026-13": "one of the calendar", "next week": "one of the calendar", "1066-11-16": "look at the year",
		"2026-02-28": "", "2026-02": "", "2026": "",
	} {
		job, faults := ReadBytes([]byte(strings.Replace(text, "  date: 2026-11-16\n", "  date: "+date+"\n", 1)), "job.yaml")
		if job == nil || job.Info.Date != date {
			t.Fatalf("%s: %s", date, listing(faults))
		}
		switch {
		case want == "" && len(faults) != 0:
			t.Errorf("%s: %s", date, listing(faults))
		case want != "" && (len(faults) != 1 || faults[0].Kind != Warn || faults[0].Path != "job.date" || !strings.Contains(faults[0].Want, want)):
			t.Errorf("%s: %s", date, listing(faults))
		}
	}
}

// The whole ladder turned round is one fault, not one per step.
func TestClicksCountedFromOpen(t *testing.T) {
	text := string(load(t, exampleFiles[0]))
	for from, to := range map[string]string{"15": "A", "11": "B", "7": "C", "3": "D", "0": "E"} {
		text = strings.ReplaceAll(text, "{click: "+from+", speed", "{click: "+to+", speed")
	}
	for from, to := range map[string]string{"A": "0", "B": "4", "C": "8", "D": "12", "E": "15"} {
		text = strings.ReplaceAll(text, "{click: "+from+", speed", "{click: "+to+", speed")
	}
	_, faults := ReadBytes([]byte(text), "job.yaml")
	if len(faults) != 2 {
		t.Errorf("want one fault for each of the two dampers, got\n%s", listing(faults))
	}
	for _, f := range faults {
		if f.Kind != Refuse || !strings.Contains(f.String(), "counted from open") {
			t.Errorf("got %s", f)
		}
	}
}

func TestNothingToWeigh(t *testing.T) {
	text := strings.Replace(string(load(t, exampleFiles[1])), "  front_share: maker 43 %\n", "", 1)
	_, faults := ReadBytes([]byte(text), "job.yaml")
	if len(faults) != 1 || faults[0].Path != "car.weighed.load" || !strings.Contains(faults[0].Want, "kerb_mass and front_share") {
		t.Errorf("got\n%s", listing(faults))
	}
}

// Texts that are no job at all: one fault, at once, and never a panic.
func TestHostileTexts(t *testing.T) {
	deep := func(open, shut string, n int) string { return strings.Repeat(open, n) + strings.Repeat(shut, n) }
	bomb := "trunnion: job/1\na0: &a0 [x, x, x, x, x, x, x, x, x, x]\n"
	for i := 1; i < 12; i++ {
		use := strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 10), ", ")
		bomb += fmt.Sprintf("a%d: &a%d [%s]\n", i, i, use)
	}
	var keys, indent strings.Builder
	for i := range 30_000 {
		fmt.Fprintf(&keys, "k%d: 1 mm\n", i)
	}
	for i := range 1500 {
		fmt.Fprintf(&indent, "%sk:\n", strings.Repeat(" ", i))
	}
	for _, row := range []struct{ name, text, says string }{
		{"nothing", "", "is empty"},
		{"blanks", " \n\n", "is empty"},
		{"only a comment", "# a car\n", "is empty"},
		{"a word", "hello", "a job is a mapping"},
		{"a list", "- 1\n- 2\n", "a job is a mapping"},
		{"no version", "car: {}\n", "starts with trunnion"},
		{"two documents", "trunnion: job/1\n---\ntrunnion: job/1\n", "second document"},
		{"broken", "trunnion: [job/1\n", "not readable"},
		{"binary", "\x7fELF\x00\x01\x02", "binary"},
		{"not UTF-8", "trunnion: job/1\nowner: \xff\xfe\n", "UTF-8"},
		{"ten megabytes", "trunnion: job/1\n#" + strings.Repeat("x", 10<<20), "bytes"},
		{"an order to the screen", "trunnion: job/1\njob: {owner: \"\\e[2J\"}\n", "no screen shows, in \uFFFD[2J"},
		{"an order in a key", "trunnion: job/1\n\"a\\a\": 1\n", "no screen shows, in the key a\uFFFD"},
		{"written backwards", "trunnion: job/1\njob: {owner: \"\u202Egnp\"}\n", "no screen shows"},
		{"alias bomb", bomb, "too many values"},
		{"name of itself", "trunnion: job/1\ncar: &c {name: *c}\n", "before it stands"},
		{"deep lists", "trunnion: job/1\ncar: " + deep("[", "]", 20_000), "nested more than 40"},
		{"deep braces", "trunnion: job/1\ncar: " + deep("{a: ", "}", 5_000), "nested"},
		{"unclosed brackets", strings.Repeat("[", 50_000), "nested"},
		{"dashes", "trunnion: job/1\ncar:\n  " + strings.Repeat("- ", 20_000) + "x\n", "nested"},
		{"question marks", strings.Repeat("? ", 20_000) + "x\n", "nested"},
		{"deep indents", "trunnion: job/1\n" + indent.String(), "nested more than 40"},
		{"endless keys", "trunnion: job/1\n" + keys.String(), "words and signs"},
		{"anchors", "trunnion: " + strings.Repeat("&a ", 5000) + "x\n", "not readable"},
	} {
		t.Run(row.name, func(t *testing.T) {
			job, faults := ReadBytes([]byte(row.text), "job.yaml")
			if job != nil || len(faults) != 1 || faults[0].Kind != Refuse || !strings.Contains(faults[0].String(), row.says) {
				t.Errorf("want one fault with %q, got\n%s", row.says, listing(faults))
			}
		})
	}
}

func TestManyFaultsAreCut(t *testing.T) {
	var b strings.Builder
	b.WriteString("trunnion: job/1\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "k%d: 1 mm\n", i)
	}
	_, faults := ReadBytes([]byte(b.String()), "job.yaml")
	if len(faults) != mostFaults+1 || !strings.Contains(faults[mostFaults].String(), "more faults") {
		t.Errorf("got %d faults, the last %v", len(faults), faults[len(faults)-1])
	}
}

func TestUnreadableStream(t *testing.T) {
	job, faults := Read(iotest.ErrReader(errors.New("the disk is gone")), "job.yaml")
	if job != nil || len(faults) != 1 || !strings.Contains(faults[0].String(), "the disk is gone") {
		t.Errorf("got %v", faults)
	}
	whole, faults := Read(bytes.NewReader(load(t, exampleFiles[0])), "job.yaml")
	if whole == nil || len(whole.SHA256) != 64 {
		t.Errorf("got %v", faults)
	}
}
