package wording

import "testing"

func TestLabel(t *testing.T) {
	for path, want := range map[string]string{
		"builds":                               "Builds",
		"builds.kit":                           "Build kit",
		"builds.kit.price":                     "Price, kit",
		"builds.kit.setup.click.rear":          "Rear click, kit",
		"builds.kit.setup.platform.front_left": "Front left platform, kit",
		"builds.kit.front.spring":              "Front spring, kit",
		"builds.kit.rear.packer":               "Rear packer, kit",
		"loads.driver.items[0].mass":           "Mass of item 1, driver",
		"loads.driver.name":                    "Name, driver",
		"brief.uses.daily":                     "Daily",
		"job.words":                            "In the owner's words",
		"job.by":                               "Measured by",
		"car.cg_height":                        "Centre of gravity, sprung",
		"car.weighed.load.rear_left":           "Corner load, rear left",
		"parts.springs.rear-60.free":           "Spring rear-60: free length",
	} {
		if got := Label(path); got != want {
			t.Errorf("%s is called %q; want %q", path, got, want)
		}
	}
}
