package jobfile

import (
	"strings"
	"testing"
)

func TestIDFrom(t *testing.T) {
	for name, want := range map[string]string{"Kit for the hills": "kit-for-the-hills", "46 N/mm": "n-46-n-mm", "": "n", "日本": "n", strings.Repeat("a", 90): strings.Repeat("a", 60)} {
		if got := IDFrom(name); got != want {
			t.Errorf("%q is %q, want %q", name, got, want)
		}
	}
}

// A part's keys one by one, and put together again, are the part.
func TestPiecesOfAPart(t *testing.T) {
	for _, text := range []string{
		"{rate: maker 60 N/mm ± 4 %, free: maker 250 mm, inside: 61 mm, price: 90 EUR}",
		"{rate: 60 N/mm, deflection: [0 mm, 50 mm], force: [0 N, 3000 N]}",
	} {
		keys, texts, err := Pieces(text)
		if err != nil || len(keys) != len(texts) {
			t.Errorf("%s: %v, %v, %v", text, keys, texts, err)
		}
		if is := PlacedPart("springs", texts); is != text {
			t.Errorf("%s became %s", text, is)
		}
		if f := PartFaults("springs", "a", text); len(f) > 0 {
			t.Errorf("%s: %+v", text, f)
		}
	}
	if f := PartFaults("springs", "a", "{rate: -5 N/mm}"); len(f) != 1 || f[0].Path != "rate" || f[0].Kind != Refuse {
		t.Errorf("%+v", f)
	}
	if PartKeys("screws") != nil {
		t.Error("keys of parts that there are none of")
	}
}
