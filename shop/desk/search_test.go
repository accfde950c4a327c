package desk

import (
	"math"
	"os"
	"strings"
	"testing"

	"trunnion/chassis/search"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// What a search found is taken over as changes of the job's text: dampers and stops of the
// catalogue are copied into the job with their clicks, and what the text then gives is what
// was found.
func TestWhatWasFoundIsWhatItsEditsGive(t *testing.T) {
	text, err := os.ReadFile("../../examples/catalogue.yaml")
	if err != nil {
		t.Fatal(err)
	}
	shelf := catalogueFile(text)
	job := demo(t)
	d := New("test")
	d.Buying(shelf)
	draws := 40
	found, err := d.Search(t.Context(), job, SearchAsk{
		Build: "lower-uprated", Effort: "quick", Keep: []string{"helpers,packers,bars"}, Settings: Settings{Draws: &draws},
	})
	if err != nil {
		t.Fatal(err)
	}
	if found.Currency != "EUR" {
		t.Errorf("the currency is %q", found.Currency)
	}
	dampers, stops, clicks, compared := 0, 0, 0, 0
	for k := range found.Found.Builds {
		b := &found.Found.Builds[k]
		if !b.Drawn {
			continue
		}
		ed := &jobfile.Editor{Text: job.Text, System: quantity.Metric, Shelf: shelf}
		price := 0.0
		for _, e := range found.Edits(k, "Found") {
			ed.Apply(t.Context(), e)
		}
		if len(ed.Faults) > 0 {
			t.Fatal(ed.Faults)
		}
		tr, err := d.Try(t.Context(), Typed{Text: ed.Text}, Look{}, quantity.Metric)
		if err != nil || tr.Answer == nil {
			t.Fatal(err, tr.Faults)
		}
		made := buildOf(tr.Job, "lower-uprated-found")
		for i := range made.Corner {
			for _, typed := range []string{made.Corner[i].Damper.Price, made.Corner[i].Stop.Price, made.Corner[i].Spring.Price} {
				if v, err := quantity.Parse(typed, quantity.Price); typed != "" && err == nil {
					price += v.Value
				}
			}
			if strings.HasPrefix(made.Corner[i].Damper.ID, "twin-") {
				dampers++
			}
			if strings.HasPrefix(made.Corner[i].Stop.ID, "foam-") {
				stops++
			}
			if b.Build.Setup.HasClick[i] && made.Corner[i].Damper.ClickMost > 0 {
				clicks++
			}
			if made.Setup.Click[i] != b.Build.Setup.Click[i] {
				t.Errorf("%s: corner %d stands at click %d, found was %d", b.Build.ID, i, made.Setup.Click[i], b.Build.Setup.Click[i])
			}
		}
		if was := b.Figures[search.Price]; !math.IsNaN(was) && math.Abs(price-was) > 1e-9 {
			t.Errorf("%s: parts cost %g, said was %g", b.Build.ID, price, was)
		}
		for i := range found.Found.Study.Values {
			v := &found.Found.Study.Values[i]
			if v.Place.Build != b.Build.ID || v.Place.Road != "" || v.Place.Event != "" {
				continue
			}
			switch v.Code {
			case "travel-to-stop", "travel-to-open", "damping-ratio", "corner-frequency":
			default:
				continue
			}
			place := v.Place
			place.Build = made.ID
			now := tr.Answer.At(v.Code, place)
			// The text keeps a thousandth of a millimetre.
			if now == nil || math.Abs(now.Value-v.Value) > 2e-6+1e-4*math.Abs(v.Value) {
				t.Errorf("%s: %s of %.6g was found at %+v, its edits give %+v", b.Build.ID, v.Code, v.Value, v.Place, now)
			}
			compared++
		}
	}
	if compared == 0 {
		t.Error("nothing was compared")
	}
	if dampers == 0 || stops == 0 || clicks == 0 {
		t.Errorf("%d corners with a damper, %d with a stop of the catalogue, %d with clicks: nothing was tried", dampers, stops, clicks)
	}
}
