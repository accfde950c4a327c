package jobfile

import (
	"testing"

	"trunnion/examples"
	"trunnion/shop/quantity"
)

// eachFigure calls f with a path to every figure of the table of keys and its
// shape.
func eachFigure(s *shape, path string, f func(path string, s *shape)) {
	switch s.form {
	case object:
		for _, k := range s.keys {
			eachFigure(k.shape, join(path, k.name), f)
		}
	case dict:
		eachFigure(s.of, join(path, "some-id"), f)
	case list:
		eachFigure(s.of, path+"[0]", f)
	case places:
		for _, name := range s.names {
			eachFigure(s.of, join(path, name), f)
		}
	case value, spread, whole, row:
		f(path, s)
	case text, choice, flag, ident:
	}
}

func TestKindOfEveryFigure(t *testing.T) {
	seen := 0
	eachFigure(jobShape, "", func(path string, s *shape) {
		seen++
		kind, ok := KindAt(path)
		if !ok || kind != s.kind {
			t.Errorf("%s is a %v, %v; the table of keys says %v", path, kind, ok, s.kind)
		}
		if path == "brief.uses.some-id" {
			if kind, ok := KindAt("brief.uses.the road to 1.5 t"); !ok || kind != s.kind {
				t.Errorf("a use named with a dot is a %v, %v", kind, ok)
			}
		}
	})
	if seen < 200 {
		t.Errorf("%d figures in the table of keys; there are hundreds", seen)
	}
	for _, path := range []string{"car", "car.name", "builds.kit", "car.front.no_such", "parts.springs.x", "car.track.middle", "job.words.more"} {
		if kind, ok := KindAt(path); ok {
			t.Errorf("%s is a %v, and no figure belongs there", path, kind)
		}
	}
}

// TestKindOfWhatIsFilled looks that every estimate of every example has a path
// whose kind the table of keys knows, and one that can bear its value.
func TestKindOfWhatIsFilled(t *testing.T) {
	seen := 0
	for _, dir := range []string{"marl-estate", "sedley-hatch", "wend-roadster"} {
		data, err := examples.Jobs.ReadFile(dir + "/job.yaml")
		if err != nil {
			t.Fatal(err)
		}
		job, _ := ReadBytes(data, "job.yaml")
		for _, f := range job.Filled {
			if f.Path == "" || f.Input == nil {
				continue
			}
			seen++
			kind, ok := KindAt(f.Path)
			if !ok {
				t.Errorf("%s: %s (%g) is of no kind", dir, f.Path, f.Input.Value)
				continue
			}
			if kind == quantity.Length && f.Input.Value > 10 {
				t.Errorf("%s: %s is %g and called a length", dir, f.Path, f.Input.Value)
			}
		}
	}
	if seen < 20 {
		t.Errorf("%d estimates in all examples", seen)
	}
}
