package dampers_test

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
	"trunnion/shop/view/dampers"
	"trunnion/shop/view/viewtest"
)

func mapped(t *testing.T, d *view.Desk, req view.TryRequest, build string) *dampers.View {
	t.Helper()
	v, err := dampers.Of(t.Context(), d, &dampers.Request{TryRequest: req, Build: build})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// What is drawn is the desk's answer: forces at the clicks typed are those of the job, and a
// ray through a curve at the middle speed has the ratio that the desk gives that stroke alone.
func TestTheMapIsTheDesks(t *testing.T) {
	d := viewtest.Desk(t)
	req := viewtest.Demo(t)
	req.Load = "driver"
	v := mapped(t, d, req, "kit")
	if len(v.Wheels) != 2 || v.Build != "kit" || len(v.Missing) > 0 {
		t.Fatalf("%d maps of %q, missing %v", len(v.Wheels), v.Build, v.Missing)
	}
	job, _, err := d.Read(t.Context(), &req)
	if err != nil {
		t.Fatal(err)
	}
	got, err := d.Clicks(t.Context(), job, desk.ClicksAsk{Build: "kit", Load: "driver"})
	if err != nil {
		t.Fatal(err)
	}
	front := &v.Wheels[0]
	at := func(click int, speed float64) (bump, rebound float64) {
		for i := range front.Clicks {
			c := &front.Clicks[i]
			for k, x := range c.Speed {
				if c.Click == click && math.Abs(x-speed) < 1e-9 {
					return c.Bump[k], c.Rebound[k]
				}
			}
		}
		t.Fatalf("click %d is not drawn at %.0f", click, speed)
		return 0, 0
	}
	if bump, rebound := at(7, 130); math.Abs(bump-305) > 0.05 || math.Abs(rebound-690) > 0.05 {
		t.Errorf("click 7 at 130 mm/s is drawn with %.1f and %.1f N; the job has 305 and 690", bump, rebound)
	}
	for _, ray := range front.Rays {
		z, err := strconv.ParseFloat(ray.Ratio, 64)
		if err != nil {
			t.Fatal(err)
		}
		_, rebound := at(7, 130)
		if got, want := z*(rebound/130)/ray.Slope, got.Map.Wheels[0].Clicks[7].Apart[1][1].Value; math.Abs(got-want) > 1e-3 {
			t.Errorf("against the ray of %s click 7 has a ratio of %.4f in rebound, the desk says %.4f", ray.Ratio, got, want)
		}
	}
	if front.Ratio.ValueID == "" || front.Ratio.Verdict == "unknown" {
		t.Errorf("the ratio as set opens no working: %+v", front.Ratio)
	}
	imperial := req
	imperial.Units = "imperial"
	other := mapped(t, d, imperial, "kit")
	if other.Unit.Force != "lbf" || math.Abs(other.Mid-0.13/0.0254) > 1e-3 || other.Wheels[0].Clicks[7].Row[8] != front.Clicks[7].Row[8] {
		t.Errorf("in imperial units: %+v, middle %.3f, row %v", other.Unit, other.Mid, other.Wheels[0].Clicks[7].Row)
	}
}

// A build without clicks says what is missing and where it is typed; where the clicks of
// both sides are typed apart, so they are set.
func TestWhatIsMissing(t *testing.T) {
	d := viewtest.Desk(t)
	v := mapped(t, d, viewtest.Demo(t), "arrived")
	if len(v.Missing) != 1 || len(v.Wheels) != 0 || v.Missing[0].Path != "parts.dampers.old-front.clicks" || len(v.Missing[0].List) != 2 {
		t.Errorf("as it arrived: %+v", v.Missing)
	}
	v = mapped(t, d, viewtest.Demo(t, jobfile.Edit{Path: "builds.kit.setup.click"}), "kit")
	if len(v.Faults) != 2 {
		t.Errorf("without clicks set: %v", v.Faults)
	}
	apart := mapped(t, d, viewtest.Demo(t, viewtest.Set("builds.kit.setup.click", "{front_left: 7, front_right: 7, rear: 7}")), "kit")
	if len(apart.Faults) > 0 || len(apart.Wheels) != 2 || strings.Join(apart.Wheels[0].Paths, " ") != "builds.kit.setup.click.front_left builds.kit.setup.click.front_right" {
		t.Errorf("typed apart: %+v", apart.Wheels)
	}
	if v = mapped(t, d, view.TryRequest{Text: "no job", Units: "metric"}, ""); len(v.Faults) == 0 {
		t.Error("a text that is no job has no fault")
	}
}

// A preset's edits set the build to it: asked again it is the one that is set.
func TestAPresetIsTakenOver(t *testing.T) {
	d := viewtest.Desk(t)
	req := dampers.Request{TryRequest: viewtest.Demo(t), Build: "kit"}
	found, err := dampers.PresetsOf(t.Context(), d, &req)
	if err != nil || len(found.Presets) < 5 || len(found.Tried) < 64 {
		t.Fatalf("%d presets of %d settings, %v", len(found.Presets), len(found.Tried), err)
	}
	town := found.Presets[0]
	if town.ID != "town" || town.Set || len(town.Edits) != 2 {
		t.Fatalf("town: %+v", town)
	}
	req.Edits = append(req.Edits, town.Edits...)
	again, err := dampers.PresetsOf(t.Context(), d, &req)
	if err != nil || !again.Presets[0].Set || *again.Presets[0].Front != *town.Front {
		t.Errorf("taken over: %+v, %v", again.Presets[0], err)
	}
	v := mapped(t, d, req.TryRequest, "kit")
	if v.Wheels[0].Now != *town.Front || v.Wheels[1].Now != *town.Rear {
		t.Errorf("set to %d and %d, the preset is %d and %d", v.Wheels[0].Now, v.Wheels[1].Now, *town.Front, *town.Rear)
	}
	none, err := dampers.PresetsOf(t.Context(), d, &dampers.Request{TryRequest: viewtest.Demo(t), Build: "arrived"})
	if err != nil || none.Missing == "" {
		t.Errorf("a build without clicks: %+v, %v", none, err)
	}
}

// The order's file is the order that is shown; as CSV it is read back.
func TestTheOrderAsAFile(t *testing.T) {
	d := viewtest.Desk(t)
	hard := 0.7
	req := dampers.TargetRequest{TryRequest: viewtest.Demo(t), Ask: desk.TargetAsk{Build: "kit", Hard: &hard}}
	shown, err := dampers.TargetOf(t.Context(), d, &req)
	if err != nil || len(shown.Dampers) != 2 || !strings.HasPrefix(shown.Dampers[0].Rows[0][1], "0.70") || len(shown.Dampers[0].Chart.Series) != 4 {
		t.Fatalf("%+v, %v", shown, err)
	}
	for format, starts := range map[string]string{"pdf": "%PDF-", "xlsx": "PK", "csv": "damper,click"} {
		f, err := dampers.OrderFile(t.Context(), d, &dampers.OrderRequest{TargetRequest: req, Format: format}, "test")
		if err != nil || !bytes.HasPrefix(f.Data, []byte(starts)) || !strings.HasSuffix(f.Name, "."+format) {
			t.Fatalf("%s: %s begins with %.20q, %v", format, f.Name, f.Data, err)
		}
		if format == "csv" {
			lines, err := intake.Order(bytes.NewReader(f.Data))
			if err != nil || len(lines) != 2*5*6*2 {
				t.Errorf("%d lines are read back, %v", len(lines), err)
			}
		}
	}
	low := 0.01
	req.Ask.HardHigh, req.Ask.SoftHigh = &low, &low
	if shown, err = dampers.TargetOf(t.Context(), d, &req); err != nil || !strings.Contains(shown.Missing, "fall") {
		t.Errorf("forces that fall: %q, %v", shown.Missing, err)
	}
}

// Clicks that differ left and right are said with what they do to the car; those that are
// alike are not.
func TestUnlikeSidesAreDriven(t *testing.T) {
	d := viewtest.Desk(t)
	req := viewtest.Demo(t)
	req.Load = "driver"
	if v := mapped(t, d, req, "kit"); len(v.Unlike) != 0 {
		t.Errorf("sides that are alike: %q", v.Unlike)
	}
	apart := "{front: 7, rear_left: 7, rear_right: 3}"
	req.Edits = []jobfile.Edit{{Path: "builds.kit.setup.click", Value: &apart}}
	v := mapped(t, d, req, "kit")
	if len(v.Unlike) != 1 || !strings.HasPrefix(v.Unlike[0][0], "Rear dampers, left and right apart") {
		t.Fatalf("front alike and rear apart: %q", v.Unlike)
	}
	if all := strings.Join(v.Unlike[0], " "); !strings.Contains(all, "lean the body") || !strings.Contains(all, "cannot say how far the car pulls") {
		t.Errorf("%q", all)
	}
}
