package web

import (
	"strings"
	"testing"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
)

// TestATelephoneJobIsAStart goes from twelve figures to a catalogue spring, all of it
// typed, and takes a job that cannot be assessed elsewhere as it stands.
func TestATelephoneJobIsAStart(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	var job Job
	s.want(201, &job, "POST", "/api/jobs", CreateRequest{Figures: &Figures{
		Owner: "Mrs Example", Car: "Sorrel hatchback", Wheelbase: "2430 mm", Track: "1435 mm",
		LoadFrontLeft: "320 kg", LoadFrontRight: "315 kg", LoadRearLeft: "195 kg", LoadRearRight: "190 kg",
		ArchFront: "365 mm", ArchRear: "360 mm", SpringFront: "22 N/mm", SpringRear: "20 N/mm", LowerFront: "30 mm", LowerRear: "25 mm",
	}})
	edit := func(path, value string) jobfile.Edit { return jobfile.Edit{Path: path, Value: &value} }
	try := func(edits ...jobfile.Edit) *builds.View {
		t.Helper()
		var v builds.View
		s.want(200, &v, "POST", "/api/try", view.TryRequest{Text: job.Text, Edits: append([]jobfile.Edit{}, edits...), Units: "metric"})
		for _, f := range v.Faults {
			if f.Kind == jobfile.Refuse {
				t.Fatalf("the job is refused: %s", f)
			}
		}
		return &v
	}

	// A strip without ends names the reading that would end it.
	v := try()
	strip := v.Builds[0].Strips[0]
	if strip.BumpNeeds == nil || strip.BumpNeeds.Path != "car.weighed.rod_showing.front_left" {
		t.Errorf("the front left strip asks for %+v, not for the rod showing", strip.BumpNeeds)
	}

	// A catalogue spring by its free length is fitted; what it needs is named.
	catalogue := []jobfile.Edit{
		edit("parts.springs.cat", "{rate: maker 30 N/mm, free: maker 300 mm}"), edit("builds.lower.front.spring", "cat"),
	}
	v = try(catalogue...)
	if len(v.Builds) != 2 || len(v.Builds[0].Strips) != 4 {
		t.Fatal("the car as it stands is no longer assessed")
	}
	if lower := v.Builds[1]; len(lower.Strips) != 0 || !strings.Contains(lower.Sentence, "Fitted, not assessed yet") {
		t.Errorf("the build says %q with %d strips", lower.Sentence, len(lower.Strips))
	}
	named := false
	for _, w := range v.Warnings {
		named = named || strings.HasPrefix(w.Path, "car.weighed.spring_length.front_")
	}
	if !named {
		t.Error("no remark leads to the spring length that is missing")
	}

	// Typed, it has a height: the seats are as far apart as measured, so a spring that is
	// longer there than the old one lifts the car.
	typed := append(catalogue, edit("car.weighed.spring_length.front_left", "180 mm"), edit("car.weighed.spring_length.front_right", "181 mm"))
	v = try(typed...)
	if lower := v.Builds[1]; len(lower.Strips) != 4 {
		t.Errorf("with the length typed the build says %q", lower.Sentence)
	}

	// Readings and parts that the job did not have: typed at their paths, each makes what it stands in.
	ends := append(typed,
		edit("car.weighed.rod_showing.front_left", "95 mm"), edit("car.weighed.rod_showing.front_right", "95 mm"),
		edit("builds.arrived.front.damper.open", "480 mm"), edit("builds.arrived.front.damper.closed", "330 mm"), edit("builds.arrived.front.damper.rod_showing_open", "160 mm"),
		edit("builds.arrived.front.stop.length", "55 mm"),
	)
	v = try(ends...)
	if b := v.Builds[0].Strips[0]; b.Open == nil || b.BumpLeft.Verdict == "unknown" || b.DroopLeft.Verdict == "unknown" {
		t.Errorf("with rod, damper and stop typed the front left strip still is %+v", b)
	}

	// What cannot be assessed is saved as such, said in the list, exported and taken in.
	var saved Job
	s.want(200, &saved, "PUT", "/api/jobs/"+job.ID, SaveRequest{Text: job.Text, Edits: []jobfile.Edit{{Path: "car.wheelbase"}}, Who: "Ines"}, "If-Match", `"1"`)
	told := ""
	for range 400 {
		var list JobList
		s.want(200, &list, "GET", "/api/jobs", nil)
		for _, line := range list.Jobs {
			if line.ID == job.ID {
				told = line.Worst.Text
				if line.Builds != 2 && strings.HasPrefix(told, "Not assessed yet") {
					t.Errorf("the list has %d builds of it", line.Builds)
				}
			}
		}
		if strings.HasPrefix(told, "Not assessed yet") {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if !strings.HasPrefix(told, "Not assessed yet: Wheelbase") {
		t.Errorf("the list says %q", told)
	}
	_, _, file := s.ask("GET", "/api/jobs/"+job.ID+"/file", nil)
	elsewhere := openShop(t, t.TempDir(), true)
	var there Job
	elsewhere.want(201, &there, "POST", "/api/jobs", CreateRequest{Text: string(file), Name: "sorrel.yaml"})
	if there.Text != saved.Text {
		t.Error("the job is not there as it stood here")
	}
	elsewhere.want(422, nil, "POST", "/api/jobs", CreateRequest{Text: "hello: world\n", Name: "hello.yaml"})
	elsewhere.want(422, nil, "POST", "/api/jobs", CreateRequest{Text: "trunnion: job/1\ncar: {\n", Name: "torn.yaml"})
}
