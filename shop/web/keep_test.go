package web

import (
	"strings"
	"testing"

	"trunnion/shop/jobfile"
	"trunnion/shop/view/builds"
	"trunnion/shop/view/viewtest"
)

// TestKeep puts a spring and a build of the demo on the workshop's shelves and
// makes a build of the preset again: nothing may differ.
func TestKeep(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	edits := []jobfile.Edit{}
	ask := func(path, name string) KeepRequest {
		return KeepRequest{Text: viewtest.DemoText(t), Edits: edits, Units: "metric", Path: path, Name: name, Car: "Marl 2.0 estate", Source: "scales", Who: "Ines"}
	}
	var p Part
	s.want(200, &p, "POST", "/api/catalogue/keep", ask("builds.kit.front.spring", "Kit spring, front"))
	if p.ID != "spring:front-46" || p.Name != "Kit spring, front" || !strings.Contains(p.Text, "46") || p.Revision != 2 {
		t.Errorf("got %+v", p)
	}
	s.want(200, &p, "POST", "/api/catalogue/keep", ask("builds.kit.front.spring", "Kit spring, front"))
	if p.Revision != 2 {
		t.Errorf("kept twice it is revision %d, want 2 still", p.Revision)
	}
	for _, path := range []string{"builds.kit.front", "builds.nobody.front.spring", "car.front", ""} {
		s.want(422, nil, "POST", "/api/catalogue/keep", ask(path, "x"))
	}

	var kept Preset
	s.want(200, &kept, "POST", "/api/presets/keep", ask("builds.kit", "Kit for the hills"))
	if kept.ID != "marl-2-0-estate-kit-for-the-hills" || kept.Who != "Ines" {
		t.Errorf("got %+v", kept)
	}
	if strings.Contains(kept.Text, "serials") || strings.Contains(kept.Text, "readings") {
		t.Errorf("what is one car's was kept with the preset:\n%s", kept.Text)
	}
	var differ Differences
	s.want(200, &differ, "GET", "/api/jobs/demo/differences?preset="+kept.ID+"&build=kit", nil)
	if len(differ.Differences) != 0 {
		t.Errorf("a preset differs from the build it was made of: %+v", differ.Differences)
	}
	var v builds.View
	s.want(200, &v, "POST", "/api/try", viewtest.Demo(t, jobfile.Edit{Path: "builds.again", Preset: kept.ID}))
	if n := len(v.Builds); n != 5 {
		t.Errorf("%d builds, want 5", n)
	}
	if _, faults := jobfile.ReadBytes([]byte(viewtest.DemoText(t)), "x"); len(faults) > 0 && len(v.Faults) > len(faults) {
		t.Errorf("faults: %+v", v.Faults)
	}
	s.want(422, nil, "POST", "/api/presets/keep", ask("builds.nobody", "x"))
	s.want(422, nil, "POST", "/api/presets/keep", ask("builds.kit.front", "x"))
	empty := ask("builds.kit", "")
	s.want(422, nil, "POST", "/api/presets/keep", empty)
}
