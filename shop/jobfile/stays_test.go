package jobfile

import (
	"strings"
	"testing"

	"trunnion/chassis/car"
)

// TestWhatIsNotNamedStays: a build that names another spring keeps the helper and the collars of the car, and is asked about
// the helper; none takes a part out; collars on a damper's body go with the damper, which is said.
func TestWhatIsNotNamedStays(t *testing.T) {
	text := strings.NewReplacer(
		"  springs:\n", "  springs:\n    tender: {rate: 3 N/mm, free: 40 mm, block: 12 mm}\n",
		"front: {spring: front-25, damper: old-front, stop: f60, mount: old-front, friction: 80 ± 50 N}", "front: {spring: front-25, helper: tender, platform: kit-collar, damper: old-front, stop: f60, mount: old-front, friction: 80 ± 50 N}",
		"\nbuilds:\n", `
builds:
  springs: {front: {spring: front-31}}
  bare: {front: {spring: front-31, helper: none, platform: none}}
  dampers: {front: {damper: uprated-front}}
  nothing: {}
`).Replace(string(demo(t)))
	job, faults := ReadBytes([]byte(text), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	of := func(id string) *car.BuildCorner {
		for _, b := range job.Builds {
			if b.ID == id {
				return &b.Corner[1]
			}
		}
		t.Fatalf("no build %s", id)
		return nil
	}
	was := of("arrived")
	if was.Helper == nil || was.Platform == nil {
		t.Fatal("the car has neither helper nor collars: nothing is checked")
	}
	if got := of("springs"); got.Spring.ID != "front-31" || got.Helper != was.Helper || got.Platform != was.Platform || got.Damper != was.Damper || got.Stop != was.Stop {
		t.Errorf("another spring: %+v", got)
	}
	if got := of("bare"); got.Helper != nil || got.Platform != nil || got.Damper != was.Damper {
		t.Errorf("without helper and collars: %+v", got)
	}
	if got := of("dampers"); got.Spring != was.Spring || got.Helper != was.Helper || got.Platform != nil || got.Damper.ID != "uprated-front" {
		t.Errorf("another damper of a strut: %+v", got)
	}
	if got, want := *of("nothing"), *was; got.Spring != want.Spring || got.Helper != want.Helper || got.Damper != want.Damper || got.Stop != want.Stop || got.Platform != want.Platform || got.Friction != want.Friction {
		t.Errorf("a build that names nothing: %+v", got)
	}
	asked := map[string]string{"builds.springs.front.spring": "helper: none", "builds.dampers.front.damper": "platform: none"}
	for _, f := range faults {
		if want, ok := asked[f.Path]; ok {
			if f.Kind != Warn || !strings.Contains(f.Want, want) || f.Line == 0 {
				t.Errorf("asked: %+v", f)
			}
			delete(asked, f.Path)
		}
		if strings.HasPrefix(f.Path, "builds.bare") || strings.HasPrefix(f.Path, "builds.nothing") {
			t.Errorf("asked where all is said: %+v", f)
		}
	}
	for path := range asked {
		t.Errorf("nothing is asked at %s", path)
	}
}

// TestMassAndWheelsStay: what a weighed build adds for good was on the scales, and stays in every build that says nothing.
func TestMassAndWheelsStay(t *testing.T) {
	text := strings.NewReplacer(
		"    name: As it arrived\n", "    name: As it arrived\n    mass: [{name: cage, mass: 40 kg, behind_front_axle: 1500 mm, left: 0 mm}]\n",
		"rear: {spring: rear-48, damper: old-rear, stop: r58, mount: old-rear, friction: 45 ± 30 N}", "rear: {spring: rear-48, damper: old-rear, stop: r58, mount: old-rear, friction: 45 ± 30 N, unsprung_more: 3 kg, tyre_rate: 240 N/mm}",
		"\nbuilds:\n", "\nbuilds:\n  same: {}\n  out: {mass: [], rear: {unsprung_more: 0 kg}}\n").Replace(string(demo(t)))
	job, faults := ReadBytes([]byte(text), "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	for _, b := range job.Builds {
		rear := &b.Corner[2]
		switch b.ID {
		case "same":
			if len(b.Mass) != 1 || rear.UnsprungMore.Value != 3 || rear.TyreRate.Value != 240e3 {
				t.Errorf("what was not named: %d masses, %g kg more, %g N/m", len(b.Mass), rear.UnsprungMore.Value, rear.TyreRate.Value)
			}
		case "out":
			if len(b.Mass) != 0 || rear.UnsprungMore.Value != 0 || rear.TyreRate.Value != 240e3 {
				t.Errorf("what was taken out: %d masses, %g kg more", len(b.Mass), rear.UnsprungMore.Value)
			}
		}
	}
}
