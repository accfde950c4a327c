package desk

import (
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// A job of the first day: nobody has measured a damper or a stop.
const firstDay = `trunnion: job/1
car:
  name: A hatch nobody measured
  wheelbase: 2600 mm
  track: {front: 1500 mm, rear: 1500 mm}
  weighed:
    build: arrived
    load: {front_left: 380 kg, front_right: 372 kg, rear_left: 250 kg, rear_right: 246 kg}
    arch_height: {front_left: 370 mm, front_right: 370 mm, rear_left: 365 mm, rear_right: 365 mm}
  front: {}
  rear: {}
parts:
  springs:
    front: {rate: 25 N/mm}
    rear: {rate: 27 N/mm}
    lower-front: {rate: 30 N/mm, drop: 30 mm}
    lower-rear: {rate: 32 N/mm, drop: 30 mm}
builds:
  arrived: {name: As it stands, front: {spring: front}, rear: {spring: rear}}
  lower: {name: Lower springs, front: {spring: lower-front}, rear: {spring: lower-rear}}
loads:
  driver: {name: Driver, items: [{name: driver, mass: 75 kg, behind_front_axle: 1300 mm, left: -370 mm}]}
brief:
  uses: {daily: 100 %}
  roads: [{road: village-lane, speeds: [60 km/h], load: driver}]
  events: [{event: pothole, depth: 50 mm, length: 600 mm, speed: 50 km/h, load: driver}]
`

// Where nobody knows where a stop is, nothing is said of it: not that it carries nothing at
// rest, nor that it is never hit; and a plan does not say that none is needed.
func TestNothingIsSaidOfAStopThatNobodyKnows(t *testing.T) {
	d := New("test")
	tr, err := d.Try(t.Context(), Typed{Text: []byte(firstDay)}, Look{}, quantity.Metric)
	if err != nil || tr.Answer == nil {
		t.Fatal(err, tr.Faults)
	}
	job, _ := jobfile.ReadBytes([]byte(firstDay), "job.yaml")
	rides, err := d.Assess(t.Context(), job, AssessAsk{})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for i := range rides.Answer.Values {
		v := &rides.Answer.Values[i]
		switch v.Code {
		case "stop-share", "stop-force-peak", "stop-hits", "stop-time-share", "top-out-speed", "travel-to-stop":
			seen[v.Code]++
			if v.State != figure.Unknown || v.Reason == "" {
				t.Fatalf("%s is %v (%v) at %+v, for the reason %q", v.Code, v.Value, v.State, v.Place, v.Reason)
			}
		}
	}
	if len(seen) != 6 {
		t.Errorf("only %v were looked at", seen)
	}
	for _, f := range rides.Findings {
		if strings.Contains(f.Code, "stop") && f.Verdict == finding.Clear {
			t.Errorf("%s is clear", f.Code)
		}
	}
	p, err := remedy.For(t.Context(), tr.Answer, "arrived")
	if err != nil || p == nil {
		t.Fatal(err)
	}
	if told := tr.Teller.Plan(p).Told; strings.Contains(told, "no plan is needed") || !strings.Contains(told, "cannot be judged yet") {
		t.Errorf("the plan says %q", told)
	}
	_, err = d.Search(t.Context(), job, SearchAsk{Effort: "quick"})
	if err == nil || !strings.Contains(err.Error(), "rate and free length of its own springs") {
		t.Errorf("a search says %v", err)
	}
}
