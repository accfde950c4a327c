package measuring

import (
	"slices"
	"strings"
	"testing"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

func TestEveryKeyHasAField(t *testing.T) {
	_, unnamed := cardsOf(quantity.Metric)
	for _, path := range unnamed {
		t.Errorf("%s has no field with a label of its own: name it in table.go, or give a reason", path)
	}
	if len(reasons) > 8 {
		t.Errorf("%d reasons for keys without a field: a short list", len(reasons))
	}
}

// A key that nobody put into the table is found, and has a field all the same.
func TestAKeyThatNobodyNamedIsFound(t *testing.T) {
	i := slices.IndexFunc(table, func(e entry) bool { return e.ID == "stop" })
	whole := table[i].keys
	defer func() { table[i].keys = whole }()
	table[i].keys = whole[1:]
	cards, unnamed := cardsOf(quantity.Metric)
	if !slices.Contains(unnamed, "parts.stops.*.length") {
		t.Errorf("unnamed are %v, without parts.stops.*.length", unnamed)
	}
	if _, f, ok := PlaceOf(cards, "parts.stops.f60.length"); !ok || f.Unit != "mm" {
		t.Errorf("a stop's length has no field where the table does not name it")
	}
}

func TestEveryEntryIsAKey(t *testing.T) {
	keys := jobfile.Keys()
	for i := range table {
		for _, k := range table[i].keys {
			paths, _ := spelled(k.path)
			for _, path := range paths {
				if !slices.Contains(keys, path) {
					t.Errorf("%s of card %s is no key of the job file", path, table[i].ID)
				}
			}
		}
	}
	for _, r := range reasons {
		if !slices.ContainsFunc(keys, func(k string) bool { return k == r.path || strings.HasPrefix(k, strings.TrimSuffix(r.path, "*")) }) {
			t.Errorf("the reason for %s is of no key", r.path)
		}
	}
}

func TestPlacesAreTheKeys(t *testing.T) {
	var paths []string
	for _, p := range jobfile.Places() {
		paths = append(paths, p.Path)
		if p.Form == "" {
			t.Errorf("%s has no form", p.Path)
		}
	}
	if !slices.Equal(paths, jobfile.Keys()) {
		t.Error("the places are not the keys in their order")
	}
}

func TestEveryCardOfAToolSaysHow(t *testing.T) {
	drawn := 0
	for _, c := range Cards(quantity.Metric) {
		if c.Tool == "" || c.ID == "readings" {
			continue
		}
		drawn++
		if c.How == "" || c.For == "" || c.Watch == "" || c.Minutes == 0 || c.Drawing == "" || c.Stands == "" {
			t.Errorf("card %s says not all of how, what for, what goes wrong, how long and how the car stands: %+v", c.ID, c)
		}
	}
	if drawn < 12 {
		t.Errorf("%d cards with a tool", drawn)
	}
}

func TestAPathIsFound(t *testing.T) {
	cards := Cards(quantity.Imperial)
	for path, want := range map[string]string{
		"car.weighed.rod_showing.rear_left": "rod-showing", "parts.springs.kit-front.free": "spring", "car.weighed.aboard[2].mass": "weighed-state",
		"builds.kit.rear.left.helper": "fitted", "car.front.hardpoints.arms.lower.ball_joint": "points", "parts.dampers.b.curves.c3.speed": "clicks",
	} {
		c, f, ok := PlaceOf(cards, path)
		if !ok || c.ID != want {
			t.Errorf("%s is not on card %s", path, want)
		}
		if ok && f.Form == "value" && f.Unit == "mm" {
			t.Errorf("%s is in mm in imperial units", path)
		}
	}
	if _, _, ok := PlaceOf(cards, "car.front.moon"); ok {
		t.Error("what is no key has a field")
	}
}

func TestDrawingsAreThereAndStayInside(t *testing.T) {
	named := map[string]bool{}
	for _, c := range Cards(quantity.Metric) {
		named[c.Drawing] = true
	}
	for _, d := range Drawings() {
		if !named[d.ID] {
			t.Errorf("no card has the drawing %s", d.ID)
		}
		delete(named, d.ID)
		tapes := 0
		for _, s := range d.Shapes {
			if s.Form == "tape" {
				tapes++
			}
			for k, v := range s.Points {
				most := d.Width
				if k%2 == 1 {
					most = d.Height
				}
				if v < 0 || v > most {
					t.Errorf("%s leaves its frame at %v", d.ID, s)
				}
			}
		}
		if d.About == "" || len(d.Shapes) < 4 {
			t.Errorf("%s says too little", d.ID)
		}
	}
	delete(named, "")
	for id := range named {
		t.Errorf("there is no drawing %s", id)
	}
}
