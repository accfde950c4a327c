package main

import (
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// table sets the page.
func table(dir, version string) (string, error) {
	linkages, err := compareLinkages(filepath.Join(dir, "linkages.lines"))
	if err != nil {
		return "", err
	}
	var w strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&w, format, args...) }
	put("# The models beside a general multibody engine, %s\n\nWritten by `make multibody`. Simbody 3.7 of the system's packages, %s/%s; its joints, equations of motion and integration are its own.\n\n", version, runtime.GOOS, runtime.GOARCH)
	put(`## Linkages

Built from bodies, hinges, ball joints and rods; the wheel is led over its travel, then cut loose and loaded (4000 N upright; and braking with a bend, uneven in every direction) at each of %d travels. Worst difference to the program over all of them. *Joints* are those of an arm, or of a rod that the spring stands on, where they meet the carrier.

| Linkage | Travel, mm | Wheel centre, mm | Camber, deg | Toe, deg | Spring, mm | Damper, mm | Spring, N | Links, N | Joints, N | Greatest force, N |
| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
`, len(travels))
	const degree = 180 / 3.141592653589793
	for _, a := range linkages {
		put("| %s | %.0f to %.0f | %.1e | %.1e | %.1e | %.1e | %.1e | %.1e | %.1e | %s | %.0f |\n", a.name, a.from*1e3, a.to*1e3, a.centre*1e3, a.camber*degree, a.toe*degree,
			a.spring*1e3, a.damper*1e3, a.springForce, a.linkForce, orNone(a.joint), a.most)
	}
	put(`
What this says: the geometry and the statics of the linkages are right, for rigid links and joints without play or friction. It says nothing of rubber: bushes give, and no table here knows by how much. A twist beam is left out: its cross member is no joint that a general engine has.

## The driven car

The car and the two obstacles of ` + "`make peers`" + `, dampers bolted rigidly; its roads and the demo are not driven here. Body and wheels are bodies on slides and hinges; force laws and roads are the same tables as the program's, so this holds the equations of motion and the integration, not the laws. Runge-Kutta-Merson at 1e-8, looked at every 0.25 ms. Heights of the corners are the ride engine's, by small angles to the second order; what they leave out is not measured here.

`)
	small, err := lines(dir, "car.lines", "simbody")
	if err != nil {
		return "", err
	}
	engine, err := lines(dir, "engine.lines", "engine-rule")
	if err != nil {
		return "", err
	}
	var names []string
	for name := range small {
		names = append(names, name)
	}
	slices.Sort(names)
	if len(names) == 0 {
		return "", fmt.Errorf("the multibody engine drove nothing")
	}
	for _, part := range []struct {
		title, text string
		of, from    map[string]ran
	}{
		{"The ride engine beside it, in one geometry", "The weight's lean is in both. The difference is the ride engine's step, which it chose by its own rule, and what Simbody's rotating inertia adds.", engine, small},
	} {
		put("### %s\n\n%s\n\n| Drive | Floor, weighted | Tyre load, deviation | Peak force | Travel, mm |\n| --- | ---: | ---: | ---: | ---: |\n", part.title, part.text)
		for _, name := range names {
			a, ok := part.of[name]
			if !ok {
				return "", fmt.Errorf("%s was not driven by both", name)
			}
			floor, load, travel, force := differ(a, part.from[name])
			put("| %s | %.3f %% | %.3f %% | %.3f %% | %.4f |\n", name, 100*floor, 100*load, 100*force, travel*1e3)
		}
		put("\n")
	}
	return strings.TrimRight(w.String(), "\n") + "\n", nil
}

func orNone(v float64) string {
	if v == 0 {
		return "none"
	}
	return fmt.Sprintf("%.1e", v)
}
