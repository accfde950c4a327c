package sheet

import (
	"bytes"
	"regexp"
	"testing"

	"trunnion/shop/quantity"
)

func TestAMeasuringSheetIsTwoPagesWhateverTheJobLacks(t *testing.T) {
	for name, text := range map[string]string{
		"nothing typed": "trunnion: job/1\njob: {number: \"1\"}\ncar: {name: A car with quite a long name that goes on, weighed: {build: a}}\n",
		"told":          "trunnion: job/1\njob: {number: \"1\"}\ncar: {name: A, wheelbase: 2480 mm, track: {front: 1460 mm, rear: 1450 mm}, weighed: {build: a, load: {front_left: 338 kg, front_right: 331 kg, rear_left: 205 kg, rear_right: 212 kg}}}\n",
	} {
		m := MeasuringOf([]byte(text), quantity.Metric, "test", "2026-01-02")
		if len(m.Todo) == 0 {
			t.Fatalf("%s: nothing is asked for", name)
		}
		for _, paper := range []Paper{A4, Letter} {
			var one, two bytes.Buffer
			if err := WriteMeasuringPDF(&one, m, paper); err != nil {
				t.Fatal(err)
			}
			if pages := len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(one.Bytes(), -1)); pages < 1 || pages > 2 {
				t.Errorf("%s, %s: %d pages", name, paper, pages)
			}
			if err := WriteMeasuringPDF(&two, m, paper); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(one.Bytes(), two.Bytes()) {
				t.Errorf("%s, %s: the same job gave another sheet", name, paper)
			}
		}
	}
	if err := WriteMeasuringPDF(&bytes.Buffer{}, &Measuring{}, "a5"); err == nil {
		t.Error("paper of another size is taken")
	}
}
