package builds

import (
	"os"
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
	"trunnion/shop/view/viewtest"
	"trunnion/shop/wording"
)

// TestSidesThatDiffer: a build whose sides differ has a control for each, typed where the side's own stands; one whose sides
// agree has those of the axle.
func TestSidesThatDiffer(t *testing.T) {
	text, err := os.ReadFile("../../../proof/testdata/corners.yaml")
	if err != nil {
		t.Fatal(err)
	}
	d := viewtest.Desk(t)
	v := tryOf(t, d, viewtest.Try(string(text)))
	want := map[string]string{
		"builds.staggered.front.left.spring": "front-44", "builds.staggered.front.right.spring": "front-52",
		"builds.staggered.setup.click.rear_left": "6", "builds.staggered.setup.click.rear_right": "4",
		"builds.staggered.rear.left.packer": "5 mm", "builds.staggered.front": "2.0 mm",
		"builds.arrived.front.spring": "old-front", "builds.arrived.rear.right.spring": "newer-rear",
	}
	for _, b := range v.Builds {
		if b.ID == "staggered" && !strings.HasPrefix(b.Sub, "left 44, right 52 / left 70, right 78 N/mm, click left 5, right 6 / left 6, right 4 from closed") {
			t.Errorf("it stands on %q", b.Sub)
		}
		for _, c := range b.Controls {
			if value, ok := want[c.Path]; ok {
				if c.Value != value || strings.Contains(c.Path, ".left.") && c.Side != "left" {
					t.Errorf("%s is %q on the side %q, want %q", c.Path, c.Value, c.Side, value)
				}
				delete(want, c.Path)
			}
		}
	}
	for path := range want {
		t.Errorf("no control at %s", path)
	}
	// A remedy of one side is tried on that side, and says so.
	tried, req := 0, viewtest.Try(string(text))
	tr, err := d.Compared(t.Context(), &req, nil)
	if err != nil {
		t.Fatal(err)
	}
	for k := range tr.Findings {
		f, err := tr.Finding(t.Context(), k)
		if err != nil {
			t.Fatal(err)
		}
		for i := range f.Remedies {
			r := &f.Remedies[i]
			for _, e := range tr.RemedyEdits(f, r) {
				if e.Value == nil || r.Side == figure.NoCorner {
					continue
				}
				tried++
				if !strings.Contains(e.Path, ".left.") && !strings.Contains(e.Path, ".right.") && !strings.HasSuffix(e.Path, "_left") && !strings.HasSuffix(e.Path, "_right") || !strings.HasPrefix(tr.Teller.Remedy(f, r), wording.Upper(wording.Corner(r.Side))) {
					t.Errorf("%s: %s", e.Path, tr.Teller.Remedy(f, r))
				}
				out, err := jobfile.Insert(text, e.Path, *e.Value)
				if err != nil {
					t.Fatal(err)
				}
				if job, faults := jobfile.ReadBytes(out, "job.yaml"); job == nil {
					t.Errorf("%s: %v", e.Path, faults)
				}
			}
		}
	}
	if tried == 0 {
		t.Error("no remedy of one side: nothing was tried")
	}
}

// A part that nobody entered is shown as one, not by the place it stands for in the job; one written into its build
// keeps its place.
func TestPartsWithoutANameAreShownInWords(t *testing.T) {
	text := `trunnion: job/1
car:
  name: A car
  wheelbase: 2640 mm
  track: {front: 1535 mm, rear: 1520 mm}
  weighed:
    build: arrived
    load: {front_left: 441 kg, front_right: 413 kg, rear_left: 345 kg, rear_right: 318 kg}
    arch_height: {front_left: 362 mm, front_right: 365 mm, rear_left: 366 mm, rear_right: 371 mm}
  front: {}
  rear: {}
parts:
  springs:
    old-front: {rate: 25 N/mm, free: 361 mm}
builds:
  arrived:
    name: As it arrived
    front: {spring: old-front}
    rear: {spring: {rate: 48 N/mm, free: 268 mm}}
`
	v := tryOf(t, viewtest.Desk(t), viewtest.Try(text))
	want := map[string]string{"front.damper": "not entered, estimated", "rear.spring": "written into the build"}
	for _, c := range v.Builds[0].Controls {
		if strings.HasPrefix(c.Shown, "builds.") {
			t.Errorf("%s is shown as %q", c.Label, c.Shown)
		}
		key := c.Axle + "." + c.Kind
		if words, ok := want[key]; ok {
			if delete(want, key); c.Shown != words {
				t.Errorf("%s is shown as %q, want %q", c.Label, c.Shown, words)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("not met: %v", want)
	}
}
