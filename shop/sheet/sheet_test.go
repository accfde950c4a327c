package sheet

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

var update = flag.Bool("update", false, "write the golden files anew")

// marl is the demo job with its answer, on the day that the kit leaves.
var marl = sync.OnceValues(func() (Source, error) {
	text, err := os.ReadFile("../../examples/marl-estate/job.yaml")
	if err != nil {
		return Source{}, err
	}
	left, err := os.ReadFile(filepath.Join("testdata", "left.txt"))
	if err != nil {
		return Source{}, err
	}
	for line := range strings.Lines(string(left)) {
		path, piece, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		if !ok {
			continue
		}
		put := jobfile.Put
		if strings.HasPrefix(piece, "{") || strings.HasPrefix(piece, "[") {
			put = jobfile.Insert
		}
		if text, err = put(text, path, piece); err != nil {
			return Source{}, err
		}
	}
	return source(text)
})

func source(text []byte) (Source, error) {
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		return Source{}, fmt.Errorf("%v", faults)
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners, opt.NoRemedies = 60, true, true, true, true
	a, err := study.Run(context.Background(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		return Source{}, err
	}
	return Source{Job: job, Answer: a, Findings: finding.Judge(a), System: quantity.Metric, Program: "test", Printed: "2026-11-25"}, nil
}

func made(t *testing.T, change func(*Source)) *Sheet {
	t.Helper()
	src, err := marl()
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(&src)
	}
	s, err := New(src)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestGolden is the whole tree of the kit as it leaves.
func TestGolden(t *testing.T) {
	s := made(t, func(s *Source) { s.Build = "kit" })
	// The fingerprint changes with every comment of the demo.
	s.Fingerprint, s.Find = "", ""
	got, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	got = append(got, '\n')
	name := filepath.Join("testdata", "kit.json")
	if *update {
		if err := os.WriteFile(name, got, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the sheet is not as kept; if it ought to change, run make golden and look at the difference")
	}
}

// TestLampSlope: 10 mm nose down over 2600 mm are 0.22 degrees, 0.38 per cent, 38
// mm at 10 m. Plane trigonometry.
func TestLampSlope(t *testing.T) {
	slope, angle := LampSlope(0.010, 2.6)
	if math.Abs(slope*100-0.38) > 0.005 || math.Abs(angle*180/math.Pi-0.22) > 0.005 || math.Abs(slope*10*1000-38) > 0.5 {
		t.Errorf("%.4f %%, %.4f°", slope*100, angle*180/math.Pi)
	}
}

// TestDraft: a sheet stays a draft until all of its list is done, and says what is
// missing; the demo's own kit is complete.
func TestDraft(t *testing.T) {
	bare := made(t, func(s *Source) { s.Build = "lower-old" })
	if !bare.Draft {
		t.Error("a car that was not measured after fitting has a final sheet")
	}
	whole := strings.Join(bare.Missing, "\n")
	for _, want := range []string{"heights after fitting", "loads after fitting"} {
		if !strings.Contains(whole, want) {
			t.Errorf("%q is not among what is missing:\n%s", want, whole)
		}
	}
	src, err := marl()
	if err != nil {
		t.Fatal(err)
	}
	job := *src.Job
	hand := *src.Job.Handover
	job.Handover = &hand
	hand.Checks = map[string]jobfile.Check{}
	for k, v := range src.Job.Handover.Checks {
		hand.Checks[k] = v
	}
	src.Job, src.Build = &job, "kit"
	s, err := New(src)
	if err != nil {
		t.Fatal(err)
	}
	if s.Draft {
		t.Errorf("the demo's kit is a draft: %q", s.Missing)
	}
	for _, key := range jobfile.CheckKeys {
		keep := hand.Checks[key]
		for _, state := range []string{"", "not-done"} {
			hand.Checks[key] = jobfile.Check{State: state}
			if s, err = New(src); err != nil || !s.Draft || len(s.Missing) != 1 {
				t.Errorf("%s %q: draft %v, missing %q, %v", key, state, s.Draft, s.Missing, err)
			}
		}
		hand.Checks[key] = jobfile.Check{State: "not-applicable"}
		if s, err = New(src); err != nil || s.Draft {
			t.Errorf("%s not applicable: %q %v", key, s.Missing, err)
		}
		hand.Checks[key] = keep
	}
}

// TestMovedSince: a check that was done before the collars were last moved is open
// again; one done since is not.
func TestMovedSince(t *testing.T) {
	for day, want := range map[string]int{"2026-11-23": 0, "2026-11-24": 4} {
		s := made(t, func(s *Source) {
			s.Build, s.Opened, s.Moved = "kit", []string{"bushes", "alignment", "lamps", "sensors", "stop-gap"}, day
		})
		if len(s.Missing) != want {
			t.Errorf("moved %s: %q, want %d", day, s.Missing, want)
		}
		text, err := json.Marshal(s)
		if err != nil || !strings.Contains(string(text), "The collars were last moved "+day) {
			t.Errorf("moved %s is not said, %v", day, err)
		}
	}
}

// TestClaimsNothing: no sheet says that a car is legal, safe or approved.
func TestClaimsNothing(t *testing.T) {
	for _, b := range []string{"arrived", "lower-old", "lower-uprated", "kit"} {
		text, err := json.Marshal(made(t, func(s *Source) { s.Build = b }))
		if err != nil {
			t.Fatal(err)
		}
		if found := regexp.MustCompile(`(?i)\b(legal|roadworthy|approved|certified|safe)\b`).FindAllString(string(text), -1); len(found) > 0 {
			t.Errorf("%s: says %q", b, found)
		}
	}
}

// TestBadAsk: a build or load that is not there, and a job that is none.
func TestBadAsk(t *testing.T) {
	src, err := marl()
	if err != nil {
		t.Fatal(err)
	}
	for _, change := range []func(*Source){
		func(s *Source) { s.Build = "nobody" }, func(s *Source) { s.Load = "nobody" }, func(s *Source) { s.Job = nil }, func(s *Source) { s.Answer = nil },
	} {
		bad := src
		change(&bad)
		if _, err := New(bad); err == nil {
			t.Error("a sheet was made of nothing")
		}
	}
}

// TestClicksPastTheLast: a preset beyond the counted clicks is not printed as one.
func TestClicksPastTheLast(t *testing.T) {
	src, err := marl()
	if err != nil {
		t.Fatal(err)
	}
	job := *src.Job
	hand := *src.Job.Handover
	hand.Presets = []jobfile.Preset{{ID: "x", Name: "Wild", Click: [4]int{40, 40, 2, 2}, HasClick: [4]bool{true, true, true, true}}}
	job.Handover, src.Job, src.Build = &hand, &job, "kit"
	s, err := New(src)
	if err != nil {
		t.Fatal(err)
	}
	if !s.Draft || !strings.Contains(s.Card.Table.Rows[1][1], "beyond the last") {
		t.Errorf("got %q, missing %q", s.Card.Table.Rows[1], s.Missing)
	}
}

// The sheet answers the owner's words first, in two sentences, and has no ratio and no hertz before what is the
// workshop's own.
func TestTheOwnerIsAnsweredFirst(t *testing.T) {
	s := made(t, func(s *Source) {
		s.Build = "kit"
		at := func(build string) *figure.Value {
			return s.Answer.Get("damping-ratio", build, "driver", figure.RearLeft)
		}
		s.InShort = &wording.InShort{Words: "it wallows", Load: "driver", Cause: "damping is weak", Builds: []wording.Answering{
			{Build: "arrived", Verdict: finding.Over, Value: at("arrived"), Owners: true}, {Build: "kit", Verdict: finding.Clear, Value: at("kit")},
		}}
	})
	first := s.Sections[0].Parts
	if first[0].Quote == nil || !strings.HasPrefix(first[1].Words, "“it wallows”: this answers it. Damping, rear left: ") || strings.Count(first[1].Words, ".") != 2 {
		t.Errorf("it opens with %+v, %q", first[0].Quote, first[1].Words)
	}
	before, own := *s, false
	for i := range s.Sections {
		if s.Sections[i].ID == "workshop" {
			before.Sections, own = s.Sections[:i], true
		}
	}
	text, err := json.Marshal(before.Sections)
	if err != nil || !own {
		t.Fatal("no part of the workshop's own", err)
	}
	if found := regexp.MustCompile(`[^"]*( Hz|[Rr]atio)[^"]*`).Find(text); found != nil {
		t.Errorf("an owner reads %s", found)
	}
}

// What is said across the head of a draft counts the lines of the final checks and names the rest.
func TestADraftCountsItsChecks(t *testing.T) {
	s := made(t, func(s *Source) {
		hand := *s.Job.Handover
		hand.Checks, hand.Signed = nil, ""
		job := *s.Job
		job.Handover = &hand
		s.Job, s.Build = &job, "kit"
	})
	if got := s.lacks(); got != "it is not signed and dated; 16 of 16 final checks" || len(s.Unchecked) != len(jobfile.CheckKeys) {
		t.Errorf("a draft lacks %q", got)
	}
}
