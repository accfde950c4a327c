package web

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"trunnion/shop/access"
	"trunnion/shop/intake"
	"trunnion/shop/store"
	"trunnion/shop/view/scales"
	"trunnion/shop/view/viewtest"
)

// readAs is a round of the demo kit with the driver aboard, drop links off.
func readAs(spoil ...func(*intake.RoundTyped)) intake.RoundTyped {
	r := intake.RoundTyped{
		Loads: []string{"431.8 kg", "464.7 kg", "327.3 kg", "321.2 kg"}, Heights: []string{"350.1 mm", "345.0 mm", "357.9 mm", "355.1 mm"},
		BarsOff: "yes", ClicksSoft: "yes", Settled: "yes", AsStated: "yes",
	}
	for _, s := range spoil {
		s(&r)
	}
	return r
}

func driver() scales.Settings {
	return scales.Settings{Load: "driver", Units: "metric", Only: []string{}}
}

func (s *shop) round(id string, r intake.RoundTyped, more ...func(*scales.RoundRequest)) *scales.View {
	s.t.Helper()
	req := scales.RoundRequest{ID: id, Taken: "2026-03-01T10:42:00Z", Build: "kit", Who: "Tam", Round: r, Settings: driver()}
	for _, m := range more {
		m(&req)
	}
	v := new(scales.View)
	s.want(201, v, "POST", "/api/jobs/demo/scales/rounds", req)
	return v
}

func (s *shop) next(settings scales.Settings, draft *intake.RoundTyped) *scales.View {
	s.t.Helper()
	v := new(scales.View)
	s.want(200, v, "POST", "/api/jobs/demo/scales/next", scales.Request{Draft: draft, Settings: settings})
	return v
}

func turnsOf(v *scales.View) (list []string) {
	for _, c := range v.Corners {
		if c.Collar == nil {
			list = append(list, "none")
			continue
		}
		list = append(list, map[string]string{"up": "+", "down": "-", "none": ""}[c.Collar.Way]+c.Collar.Turns)
	}
	return list
}

func checkOf(v *scales.View, code string) (verdict, text string) {
	for _, c := range v.Checks {
		if c.Code == code {
			return c.Verdict, c.Text
		}
	}
	return "", ""
}

// From the parts alone to the second round: the move, its forecast, what is
// counted as asked, and what is kept in the job.
func TestScalesRoundByRound(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var v scales.View
	s.want(200, &v, "GET", "/api/jobs/demo/scales?units=metric&want_cross=50%25", nil)
	if v.Build != "kit" || v.Load != "driver" || len(v.Builds) != 4 || !v.Builds[3].Collars || v.Builds[0].Collars || len(v.Presets) != 3 || len(v.Corners) != 4 {
		t.Fatalf("the scales begin with %+v", v)
	}
	// Nothing is turned before a reading has passed.
	if want := []string{"0", "0", "0", "0"}; !slices.Equal(turnsOf(&v), want) || !v.Stopped || !v.Unread || v.Now != "Weigh the car" || len(v.Price.Points)+len(v.Missed) > 0 || v.Single != nil {
		t.Errorf("from the parts alone %v: %+v", turnsOf(&v), v.Price)
	}
	if !strings.Contains(v.Says, "Weigh the car") || v.Verdict != "caution" || len(v.Rounds) > 0 || v.Rounds == nil {
		t.Errorf("says %q, %s", v.Says, v.Verdict)
	}
	if v.Plan.Seat == nil || v.Plan.Seat.Left != -0.37 || len(v.Plan.Wheels) != 4 || v.Plan.Wheels[1][1] >= 0 {
		t.Errorf("drawn as %+v", v.Plan)
	}

	// A draft is answered and not kept.
	draft := readAs()
	if d := s.next(driver(), &draft); d.Corners[0].Load.Shown != "431.8 kg" || len(d.Rounds) != 0 || d.Cross.Now != "51.3 %" || d.Cross.Other.Now != "48.7 %" || !strings.Contains(d.Keep.Says, "kept first") {
		t.Errorf("a draft is shown as %+v, %+v, %q", d.Corners[0], d.Cross, d.Keep.Says)
	}
	one := s.round("r1", readAs())
	if len(one.Rounds) != 1 || one.Rounds[0].Who != "Tam" || one.Rounds[0].Cross != "51.3 %" || one.Stopped || len(one.Predicted) != 1 {
		t.Fatalf("one round is %+v", one.Rounds)
	}
	if one.Corners[0].Collar.Clockwise || !one.Corners[2].Collar.Clockwise {
		t.Error("a collar on a right-hand thread goes up anticlockwise, seen from above")
	}
	if one.Rounds[0].Taken != time.Date(2026, 3, 1, 10, 42, 0, 0, time.UTC).Local().Format("2 Jan 2006, 15:04") {
		t.Errorf("taken %q", one.Rounds[0].Taken)
	}
	// The car settles where the forecast has it: the second round as asked.
	second := readAs(func(r *intake.RoundTyped) {
		for i := range 4 {
			r.Loads[i], r.Heights[i] = one.Corners[i].After.Load, one.Corners[i].After.Height
		}
	})
	two := s.round("r2", second)
	for i, text := range two.Rounds[1].Turned {
		want := "as asked: " + strings.TrimPrefix(turnsOf(one)[i], "+")
		if text != want || one.Corners[i].Asked != strings.TrimPrefix(turnsOf(one)[i], "+") {
			t.Errorf("corner %d turned %q, want %q; asked %q", i, text, want, one.Corners[i].Asked)
		}
	}
	if !two.Met || two.Predicted[1].Round != 2 {
		t.Errorf("after the move nothing is met: %s", two.Says)
	}
	for _, row := range two.Predicted[1].Rows {
		if !row.Inside {
			t.Errorf("what came as forecast is outside its band: %+v", row)
		}
	}
	var width [2]float64
	for k, band := range []string{v.Corners[0].Height.Band, two.Corners[0].After.HeightBand} {
		number, _, _ := strings.Cut(strings.TrimPrefix(band, "± "), " ")
		width[k], _ = strconv.ParseFloat(number, 64)
	}
	if !(width[1] > 0 && width[1] < 0.5*width[0]) {
		t.Errorf("two rounds narrow the forecast from ± %v to ± %v mm only", width[0], width[1])
	}
	// The rear moved by more than 2 mm a side: that opens alignment again.
	if len(one.Opened) > 0 || !slices.ContainsFunc(one.Reopened, func(t string) bool { return strings.HasPrefix(t, "Alignment") }) || !slices.Equal(two.Opened, one.Reopened) || len(two.Reopened) > 0 {
		t.Errorf("opened: %v then %v by the rounds, %v then %v by the next move", one.Opened, two.Opened, one.Reopened, two.Reopened)
	}
	// What is kept goes into the job in one save, and then nothing is left to keep.
	if len(two.Keep.Edits) != 14 {
		t.Fatalf("%d edits: %+v", len(two.Keep.Edits), two.Keep.Edits)
	}
	s.want(200, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: viewtest.DemoText(t), Edits: two.Keep.Edits, Why: "after the scales"}, "If-Match", `"1"`)
	after := s.next(driver(), nil)
	if len(after.Keep.Edits) != 0 || !strings.Contains(after.Keep.Says, "already") || !slices.Equal(turnsOf(after), turnsOf(two)) {
		t.Errorf("after it was kept: %q, %v instead of %v", after.Keep.Says, turnsOf(after), turnsOf(two))
	}
	before, now := shownBuilds(t, viewtest.Desk(t), viewtest.Demo(t)), shownBuilds(t, viewtest.Desk(t), viewtest.Demo(t, two.Keep.Edits...))
	if len(now.Faults) > len(before.Faults) {
		t.Errorf("the job has faults with its readings: %+v", now.Faults)
	}
	if row, old := rowWith(now, "travel-to-stop"), rowWith(before, "travel-to-stop"); row != nil && old != nil && row.Cells[3].Text == old.Cells[3].Text {
		t.Errorf("the band of the gap to the stop is still %q", row.Cells[3].Text)
	}
}

// The gate's reasons come with their figures, through the same door as the
// page.
func TestScalesGate(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	for _, row := range []struct {
		name   string
		spoil  func(*intake.RoundTyped)
		wish   func(*scales.Settings)
		code   string
		corner string
		says   []string
	}{
		{name: "three readings only", spoil: func(r *intake.RoundTyped) { r.Loads[2] = "" }, code: "readings-missing", corner: "rear-left", says: []string{"1 of the eight readings", "rear left"}},
		{name: "kilograms and pounds mixed", spoil: func(r *intake.RoundTyped) { r.Loads[3] = "708 lb" }, code: "units-mixed", says: []string{"Kilograms and pounds"}},
		{name: "pounds typed as kilograms at one corner", spoil: func(r *intake.RoundTyped) { r.Loads[3] = "708 kg" }, code: "units-mixed", corner: "rear-right", says: []string{"708.0 kg", "321.0 kg", "2.21"}},
		{name: "corners swapped", spoil: func(r *intake.RoundTyped) { r.Loads = []string{"482 kg", "414 kg", "327 kg", "321 kg"} }, code: "corners-swapped", says: []string{"front left and front right", "standard deviations"}},
		{name: "total mismatch against the model", spoil: func(r *intake.RoundTyped) { r.Loads = []string{"452 kg", "484 kg", "337 kg", "331 kg"} }, code: "total", says: []string{"1604.0 kg", "1545.0 kg"}},
		{name: "total mismatch against the scales", spoil: func(r *intake.RoundTyped) { r.Total = "1550 kg" }, code: "total-shown", says: []string{"1545.0 kg", "1550.0 kg"}},
		{name: "heights measured to the floor", spoil: func(r *intake.RoundTyped) { r.Heights = []string{"662 mm", "656 mm", "668 mm", "666 mm"} }, code: "height-from-floor", corner: "front-left", says: []string{"662.0 mm", "350", "hub-to-arch"}},
		{name: "bars on", spoil: func(r *intake.RoundTyped) { r.BarsOff = "no" }, code: "bars", says: []string{"anti-roll bars are connected"}},
		{name: "scatter over the change", spoil: func(r *intake.RoundTyped) {
			r.Again = []intake.ReadingTyped{{Loads: []string{"448 kg", "448.5 kg", "311 kg", "337.5 kg"}, Heights: r.Heights}}
		}, code: "scatter", says: []string{"The readings scatter by 23.1 kg on a diagonal; the change wanted is 3.2 kg", "Cure the friction first"}},
		{name: "target outside the thread", wish: func(w *scales.Settings) { w.Wishes.Front = "310 mm" }, code: "target-outside-thread", corner: "front-left", says: []string{"-18.0 mm is left"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := readAs()
			if row.spoil != nil {
				row.spoil(&r)
			}
			settings := driver()
			if row.wish != nil {
				row.wish(&settings)
			}
			v := s.next(settings, &r)
			verdict, text := checkOf(v, row.code)
			if verdict != "stop" || !v.Stopped || v.Verdict != "stop" || !strings.HasPrefix(v.Says, "Turn nothing. ") {
				t.Errorf("%s: %s %q, stopped %v, says %q; checks %+v", row.code, verdict, text, v.Stopped, v.Says, v.Checks)
			}
			for _, want := range row.says {
				if !strings.Contains(text, want) {
					t.Errorf("%q has no %q", text, want)
				}
			}
			for i, c := range v.Corners {
				if c.Collar == nil || c.Collar.Way != "none" || c.Collar.TurnsNumber != 0 {
					t.Errorf("corner %d is to be turned: %+v", i, c.Collar)
				}
			}
			if row.corner != "" && !slices.ContainsFunc(v.Checks, func(c scales.Check) bool { return c.Code == row.code && c.Corner != nil && *c.Corner == row.corner }) {
				t.Errorf("it is not said to be at %s: %+v", row.corner, v.Checks)
			}
		})
	}
}

// A round that comes twice is kept once; one taken back stays to be seen; one
// that cannot be read is refused with the field.
func TestScalesKeepsRounds(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	s.round("r1", readAs())
	first := s.round("r1", readAs(func(r *intake.RoundTyped) { r.Note = "sent again" }))
	if len(first.Rounds) != 1 || first.Rounds[0].Note != "" {
		t.Errorf("a round that came twice: %+v", first.Rounds)
	}
	bad := readAs(func(r *intake.RoundTyped) { r.Heights[2] = "abc mm"; r.Turned = []string{"x", "", "", ""} })
	status, _, text := s.ask("POST", "/api/jobs/demo/scales/rounds", scales.RoundRequest{ID: "r2", Build: "kit", Round: bad, Settings: driver()})
	var p Problem
	if err := json.Unmarshal(text, &p); err != nil || status != 422 || len(p.Errors) != 2 || p.Errors[0].Location != "round.heights.2" {
		t.Errorf("%d %s", status, text)
	}
	if v := s.next(driver(), &bad); len(v.Faults) != 2 || v.Faults[0].Field != "heights.2" || v.Faults[1].Field != "turned.0" || !v.Stopped {
		t.Errorf("a draft that cannot be read: %+v", v.Faults)
	}
	s.want(422, nil, "POST", "/api/jobs/demo/scales/rounds", scales.RoundRequest{ID: "r2", Build: "kit", Round: intake.RoundTyped{Loads: []string{"", "", "", ""}, Heights: []string{}}, Settings: driver()})
	s.want(422, nil, "POST", "/api/jobs/demo/scales/rounds", scales.RoundRequest{ID: "r2", Build: "moon", Round: readAs(), Settings: driver()})
	s.want(422, nil, "POST", "/api/jobs/demo/scales/rounds", scales.RoundRequest{ID: "r2", Build: "kit", Taken: "yesterday", Round: readAs(), Settings: driver()})
	s.want(404, nil, "POST", "/api/jobs/moon/scales/rounds", scales.RoundRequest{ID: "r2", Build: "kit", Round: readAs(), Settings: driver()})

	s.round("r3", readAs(func(r *intake.RoundTyped) { r.Turned = []string{"−1 1/8", "0.25", "2+1/8", "0"} }))
	var v scales.View
	for range 2 { // twice is once
		s.want(200, &v, "POST", "/api/jobs/demo/scales/rounds/r3/withdraw", scales.WithdrawRequest{Why: "wrong way", Who: "Bea", Settings: driver()})
	}
	if len(v.Rounds) != 2 || v.Rounds[1].Withdrawn == nil || v.Rounds[1].Withdrawn.Why != "wrong way" || v.Rounds[1].Withdrawn.Who != "Bea" || v.Rounds[1].Turned[0] != "−1 1/8" || v.Rounds[1].Round.Turned[2] != "2+1/8" {
		t.Errorf("taken back: %+v", v.Rounds)
	}
	if !slices.Equal(turnsOf(&v), turnsOf(first)) {
		t.Errorf("after it was taken back %v, before it %v", turnsOf(&v), turnsOf(first))
	}
	s.want(404, nil, "POST", "/api/jobs/demo/scales/rounds/r9/withdraw", scales.WithdrawRequest{Settings: driver()})
	kept, err := s.store.Rounds(t.Context(), "demo", "kit")
	if err != nil || len(kept) != 3 {
		t.Errorf("%d things are kept, want two rounds and one withdrawal; %v", len(kept), err)
	}
}

// Two tablets at once: both rounds are kept in order, and what was asked for is
// turned once.
func TestScalesTwoTabletsAtOnce(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	one := s.round("r1", readAs())
	there := readAs(func(r *intake.RoundTyped) {
		for i := range 4 {
			r.Loads[i], r.Heights[i] = one.Corners[i].After.Load, one.Corners[i].After.Height
		}
	})
	var wait sync.WaitGroup
	for k := range 6 {
		wait.Go(func() {
			req := scales.RoundRequest{ID: fmt.Sprint("t", k), Build: "kit", Who: "Tam", Seen: "r1", Round: there, Settings: driver()}
			if status, _, text := s.ask("POST", "/api/jobs/demo/scales/rounds", req); status != 201 {
				t.Errorf("%d: %s", status, text)
			}
		})
	}
	wait.Wait()
	v := s.next(driver(), nil)
	if len(v.Rounds) != 7 {
		t.Fatalf("%d rounds are kept, want 7", len(v.Rounds))
	}
	for k, r := range v.Rounds {
		if r.Number != k+1 {
			t.Errorf("round %d has the number %d", k+1, r.Number)
		}
		if k > 1 && strings.Join(r.Turned, "") != "" {
			t.Errorf("round %d turned again: %v", r.Number, r.Turned)
		}
	}
	if !strings.HasPrefix(v.Rounds[1].Turned[2], "as asked: ") {
		t.Errorf("the first of them turned %v", v.Rounds[1].Turned)
	}
	again := s.next(driver(), nil)
	v.Ms, again.Ms = 0, 0
	a, _ := json.Marshal(v)
	b, _ := json.Marshal(again)
	if string(a) != string(b) {
		t.Error("the same question has two answers")
	}
}

// What is asked for wrongly is named beside its field, and the rest answered.
func TestScalesSettings(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	read := readAs()
	v := s.next(scales.Settings{Load: "driver", Preset: "moon", Diagonal: "x", Price: "7 kg", Step: "9", Only: []string{"middle"}, Wishes: scales.Wishes{Front: "3 kg", Cross: "5 %", LevelRear: "1 m"}}, &read)
	var fields []string
	for _, f := range v.Faults {
		fields = append(fields, f.Field)
	}
	if want := []string{"preset", "diagonal", "price", "step", "only", "wishes.front", "wishes.levelRear", "wishes.cross"}; !slices.Equal(fields, want) {
		t.Errorf("faults at %v, want %v: %+v", fields, want, v.Faults)
	}
	if v.Stopped || len(v.Corners) != 4 {
		t.Error("a slip in the settings stops the answer")
	}
	// The other diagonal, one collar only, heights alone, in inches and pounds.
	v = s.next(scales.Settings{Load: "driver", Diagonal: "front-left-rear-right", Only: []string{"rear-left"}, Units: "imperial"}, &read)
	if v.Cross.Now != "48.7 %" || v.Cross.Other.Now != "51.3 %" || v.Corners[0].Collar.Turns != "0" || v.Corners[2].Collar.Turns == "0" || !strings.HasSuffix(v.Corners[0].Load.Shown, " lb") || !strings.HasSuffix(v.Corners[0].Height.Shown, " in") || v.Price.Unit != "in" {
		t.Errorf("%+v, %v", v.Cross, turnsOf(v))
	}
	v = s.next(scales.Settings{Load: "driver", Only: []string{}, Price: "level"}, &read)
	if v.Price.Chosen != 0 || v.Price.Points[0].Price != "level" || v.Cross.After == v.Cross.Now {
		t.Errorf("heights alone: point %d, cross %s to %s", v.Price.Chosen, v.Cross.Now, v.Cross.After)
	}
	dear := s.next(scales.Settings{Load: "driver", Only: []string{}, Price: v.Price.Points[len(v.Price.Points)-1].Price}, &read)
	if dear.Price.Chosen != len(dear.Price.Points)-1 || len(dear.Faults) > 0 {
		t.Errorf("the curve's last price cannot be asked for: %+v", dear.Faults)
	}
	// A build without collars is read, and nothing is turned.
	v = s.next(scales.Settings{Build: "lower-uprated", Load: "driver", Only: []string{}}, nil)
	if v.Stopped || v.Corners[0].Collar != nil || len(v.Price.Points) > 0 || !strings.Contains(v.Says, "no collars") {
		t.Errorf("without collars: %q, %v", v.Says, turnsOf(v))
	}
	s.want(422, nil, "POST", "/api/jobs/demo/scales/next", scales.Request{Settings: scales.Settings{Load: "moon", Only: []string{}}})
	s.want(404, nil, "GET", "/api/jobs/moon/scales", nil)
}

func TestScalesReadsText(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var got scales.Read
	s.want(200, &got, "POST", "/api/jobs/demo/scales/read", scales.Text{Text: "load: 431.8 1024 lb 327.3 321.2 kg\nheight: 350.1 345 357.9 355.1 mm\nbars: off\nturned: 1/4 -1/4 -2+1/8 2+1/8\nload: 441 455 320 - kg\nnote: by hand\n"})
	if len(got.Faults) > 0 || len(got.Rounds) != 2 || got.Rounds[0].Loads[1] != "1024 lb" || got.Rounds[0].BarsOff != "yes" || got.Rounds[1].Turned[2] != "-2+1/8" || got.Rounds[1].Loads[3] != "" || got.Rounds[1].Note != "by hand" {
		t.Errorf("%+v", got)
	}
	if v := s.next(driver(), &got.Rounds[0]); !v.Stopped {
		t.Error("kilograms and pounds pass from a file")
	}
	s.want(200, &got, "POST", "/api/jobs/demo/scales/read", scales.Text{Text: "load: 1 2 3 kg\nweights: 1\n"})
	if len(got.Faults) != 2 || !strings.Contains(got.Faults[0], "line 1: 3 figures") {
		t.Errorf("%+v", got.Faults)
	}
}

// One axle lifted gives the height of the centre of gravity, with its band, and
// what writes it into the job; what cannot be is named.
func TestScalesLift(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var v scales.Lift
	ask := func(r scales.LiftRequest) *scales.Lift {
		v = scales.Lift{}
		s.want(200, &v, "POST", "/api/jobs/demo/scales/lift", r)
		return &v
	}
	good := scales.LiftRequest{Total: "1450 kg", Level: "780 kg", Lifted: "795 kg ± 0.5 kg", Raised: "450 mm", Radius: "310 mm"}
	ask(good)
	// h = r + ΔW·L/(W·tan θ) with the demo's wheelbase of 2700 mm.
	h := 310 + 15*2700/(1450*math.Tan(math.Asin(450.0/2700)))
	if want := fmt.Sprintf("%.1f mm", h); v.Shown != want || len(v.Faults) > 0 || len(v.Edits) != 1 || v.Edits[0].Path != "car.cg_height" || !strings.Contains(v.Says, v.Sprung) {
		t.Errorf("%+v, want %s", v, want)
	}
	if now := shownBuilds(t, viewtest.Desk(t), viewtest.Demo(t, v.Edits...)); len(now.Applied) != 1 || now.Fields["car.cg_height"].Band == "" {
		t.Errorf("in the job it is %+v", now.Fields["car.cg_height"])
	}
	for field, spoil := range map[string]func(*scales.LiftRequest){
		"level":  func(r *scales.LiftRequest) { r.Level = "" },
		"total":  func(r *scales.LiftRequest) { r.Total = "14 kg" },
		"raised": func(r *scales.LiftRequest) { r.Raised = "45 mm" },
		"radius": func(r *scales.LiftRequest) { r.Radius = "310 kg" },
		"lifted": func(r *scales.LiftRequest) { r.Lifted = "779 kg" },
	} {
		r := good
		spoil(&r)
		if ask(r); len(v.Faults) != 1 || v.Faults[0].Field != field || len(v.Edits) > 0 || !strings.Contains(v.Says, field) {
			t.Errorf("%s: %+v", field, v)
		}
	}
	good.Total, good.Units = "", "imperial"
	if ask(good); !strings.HasSuffix(v.Shown, " in") || strings.Contains(v.Says, "mm") {
		t.Errorf("as weighed, in inches: %+v", v)
	}
}

// The bay takes rounds and keeps them in the job, and does not touch the brief;
// a viewer looks; a stranger does not.
func TestScalesByRole(t *testing.T) {
	s := openShop(t, t.TempDir(), false)
	for name, role := range map[string]store.Role{"Bea": store.Bay, "Vic": store.Viewer} {
		hash, err := access.Hash(t.Context(), "correct horse of "+name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.store.SavePerson(t.Context(), store.Person{Name: name, Role: role, Passphrase: hash}); err != nil {
			t.Fatal(err)
		}
	}
	req := scales.RoundRequest{ID: "r1", Build: "kit", Who: "Somebody", Round: readAs(), Settings: driver()}
	s.want(401, nil, "POST", "/api/jobs/demo/scales/rounds", req)
	s.want(401, nil, "GET", "/api/jobs/demo/scales", nil)
	in := func(name string) {
		t.Helper()
		s.want(200, nil, "POST", "/api/session", map[string]string{"person": name, "passphrase": "correct horse of " + name})
	}
	in("Vic")
	s.want(200, nil, "GET", "/api/jobs/demo/scales", nil)
	s.want(403, nil, "POST", "/api/jobs/demo/scales/rounds", req)
	in("Bea")
	var v scales.View
	s.want(201, &v, "POST", "/api/jobs/demo/scales/rounds", req)
	if v.Rounds[0].Who != "Bea" {
		t.Errorf("the round is %s's", v.Rounds[0].Who)
	}
	s.want(200, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: viewtest.DemoText(t), Edits: v.Keep.Edits}, "If-Match", `"1"`)
	s.want(403, nil, "PUT", "/api/jobs/demo", SaveRequest{Text: viewtest.DemoText(t), Edits: append(v.Keep.Edits, viewtest.Set("brief.limits.bump_left", "1 mm"))}, "If-Match", `"2"`)
	in("Vic")
	s.want(403, nil, "POST", "/api/jobs/demo/scales/rounds/r1/withdraw", scales.WithdrawRequest{Settings: driver()})
}

// BenchmarkScalesNext is what the page waits for while a figure is typed: the
// saved job, three rounds and a draft.
func BenchmarkScalesNext(b *testing.B) {
	s := openShop(b, b.TempDir(), true)
	for k := range 3 {
		s.round(fmt.Sprint("r", k), readAs())
	}
	draft := readAs()
	for b.Loop() {
		s.next(driver(), &draft)
	}
}
