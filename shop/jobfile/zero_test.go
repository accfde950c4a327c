package jobfile

import (
	"path/filepath"
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// TestTypedZeroIsAZero: every figure of jobs that have every key is typed as 0. It is read as 0, wherever something else
// would stand where nothing is typed, or it is refused by its own name; it is never taken for not given.
func TestTypedZeroIsAZero(t *testing.T) {
	zeros, refused := 0, 0
	keys := map[string]bool{}
	for _, name := range []string{"testdata/every-key.yaml", "../../proof/testdata/corners.yaml", "../../proof/testdata/strut.yaml", "../../proof/testdata/table.yaml"} {
		text := load(t, filepath.FromSlash(name))
		list := Fields(text)
		for i := range list {
			f := &list[i]
			if f.Form != "value" || f.Kind == quantity.Price {
				continue
			}
			typed := "0 " + quantity.Shown(f.Kind, quantity.Metric).Label()
			if f.Kind == quantity.Ratio || f.Kind == quantity.Count {
				typed = "0"
			}
			out, err := Set(text, f.Path, typed)
			if err != nil {
				continue // shared by a name
			}
			keys[f.Path] = true
			job, faults := ReadBytes(out, name)
			if job == nil {
				named := false
				for _, one := range faults {
					// Of the value itself, or of what it is compared with.
					named = named || one.Kind == Refuse && (one.Path == f.Path || strings.Contains(one.Got+one.Want, typed) || strings.HasPrefix(f.Path, one.Path) || strings.HasPrefix(one.Path, parentOf(f.Path)))
				}
				if refused++; !named {
					t.Errorf("%s: %s is refused without its name: %v", name, f.Path, faults)
				}
				continue
			}
			for _, filled := range job.Filled {
				if filled.Path == f.Path {
					t.Errorf("%s: %s typed as 0 is taken for not given: %s", name, f.Path, filled.Basis)
				}
			}
			found, other := false, ""
			look := func(in *figure.Input) {
				if in.Path != f.Path || in.Shape == figure.Normal95 && in.Value == 0 && !in.Known() {
					return
				}
				found = found || in.Known() && in.Value == 0
				if in.Known() && in.Value != 0 {
					other = in.Basis
				}
			}
			figure.Walk(job.Car, look)
			for _, b := range job.Builds {
				figure.Walk(b, look)
			}
			for k := range job.Loads {
				figure.Walk(&job.Loads[k], look)
			}
			figure.Walk(&job.Brief, look)
			if job.Handover != nil {
				figure.Walk(job.Handover, look)
			}
			if zeros++; other != "" {
				t.Errorf("%s: %s typed as 0 is read as another: %s", name, f.Path, other)
			}
			told := false // a hole's value beside the bar's own, say
			for _, one := range faults {
				told = told || one.Path == f.Path
			}
			// A part that nobody fits is not kept, and points are no inputs: an angle of nothing is theirs where none is typed.
			if !found && !told && !strings.HasPrefix(f.Path, "parts.") && !strings.HasSuffix(f.Path, "hardpoints.camber") && !strings.HasSuffix(f.Path, "hardpoints.toe") {
				t.Errorf("%s: %s typed as 0 is not there", name, f.Path)
			}
		}
	}
	if zeros < 150 || refused < 100 {
		t.Errorf("%d zeros and %d refused of %d figures: there are hundreds", zeros, refused, len(keys))
	}
}

func parentOf(path string) string { return path[:strings.LastIndexAny(path, ".[")+1] }
