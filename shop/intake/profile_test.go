package intake

import (
	"math"
	"strings"
	"testing"
)

func TestProfile(t *testing.T) {
	got, err := Profile(strings.NewReader("distance_m, left_mm, note, right_mm\n0,0,start,1\n0.25,-2.5,,3\n0.5,4e-1,,0\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Distance) != 3 || math.Abs(got.Left[1]+0.0025) > 1e-12 || math.Abs(got.Right[0]-0.001) > 1e-12 {
		t.Errorf("read %+v", got)
	}
}

func TestProfileFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   "first line",
		"distance_m\n1\n":                    "left or right",
		"left_mm,right_mm\n1,2\n":            "distance and left",
		"distance,left_mm\n1,2\n":            "needs a unit",
		"distance_m,left_N\n1,2\n":           "needs a unit",
		"distance_m,left_mm\n1,high\n":       "line 2, left_mm",
		"distance_m,left_mm\n1,NaN\n":        "line 2",
		"distance_m,left_mm\n1,2,3\n":        "wrong number of fields",
		"distance_m,left_mm,left_m\n1,2,3\n": "twice",
	} {
		if _, err := Profile(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want something with %q", text, err, want)
		}
	}
}

// What is read is read again the same, whatever the text.
func FuzzProfile(f *testing.F) {
	f.Add("distance_m,left_mm\n0,1\n0.5,2\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			return
		}
		got, err := Profile(strings.NewReader(text))
		if err != nil {
			return
		}
		if len(got.Left) != 0 && len(got.Left) != len(got.Distance) {
			t.Errorf("%d distances and %d heights", len(got.Distance), len(got.Left))
		}
	})
}
