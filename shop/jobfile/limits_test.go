package jobfile

import (
	"fmt"
	"strings"
	"testing"
)

// What has more entries than a job takes is one fault that says how many, not a fault for
// each of them, and at the limit it is none.
func TestMostEntries(t *testing.T) {
	demo := string(load(t, exampleFiles[0]))
	for name, c := range map[string]struct {
		most   int
		before string
		entry  func(k int) string
		path   string
	}{
		"builds": {mostBuilds, "\nbuilds:\n", func(k int) string { return fmt.Sprintf("  more-%d: {name: More %d, with: arrived}\n", k, k) }, "builds"},
		"loads":  {mostLoads, "\nloads:\n", func(k int) string { return fmt.Sprintf("  more-%d: {name: More %d, items: []}\n", k, k) }, "loads"},
		"roads":  {mostDriven, "\n  roads:\n", func(int) string { return "    - {road: motorway, speeds: [120 km/h], load: driver}\n" }, "brief.roads"},
		"events": {mostDriven, "\n  events:\n", func(int) string {
			return "    - {event: pothole, depth: 40 mm, length: 0.6 m, speed: 50 km/h, load: driver}\n"
		}, "brief.events"},
		"stops": {mostParts, "\n  stops:\n", func(k int) string { return fmt.Sprintf("    more-%d: {length: 50 mm}\n", k) }, "parts.stops"},
	} {
		t.Run(name, func(t *testing.T) {
			if strings.Count(demo, c.before) != 1 {
				t.Fatalf("the demo has %q %d times", c.before, strings.Count(demo, c.before))
			}
			with := func(more int) (said []string) {
				var b strings.Builder
				for k := range more {
					b.WriteString(c.entry(k))
				}
				_, faults := ReadBytes([]byte(strings.Replace(demo, c.before, c.before+b.String(), 1)), "job.yaml")
				for _, f := range faults {
					if f.Path == c.path && f.Kind == Refuse {
						said = append(said, f.Got+"; "+f.Want)
					}
				}
				return said
			}
			if said := with(10); said != nil {
				t.Errorf("ten more are refused: %q", said)
			}
			if said := with(c.most + 1); len(said) != 1 || !strings.Contains(said[0], fmt.Sprintf("a job has %d there at most", c.most)) {
				t.Errorf("%d more: %q", c.most+1, said)
			}
		})
	}
}
