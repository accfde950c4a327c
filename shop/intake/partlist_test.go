package intake

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

func listed(t testing.TB, data string, m PartsMapping) *PartsList {
	t.Helper()
	out, err := ReadParts(context.Background(), SweepFile{Name: "list.csv", Data: []byte(data)}, m)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// One list of three springs, written as makers and their programs write them, gives the
// same parts: 342.6 lbf/in are 60 N/mm by the inch of 25.4 mm and the standard gravity.
func TestOneListManyWays(t *testing.T) {
	want := []string{
		"coil-60-250|COIL-60-250|{rate: maker 60 N/mm, free: maker 250 mm, block: maker 98.5 mm, inside: 61 mm, price: 109.5 EUR}",
		"coil-65-250|COIL-65-250|{rate: maker 65 N/mm, free: maker 250 mm, block: maker 99 mm, inside: 61 mm, price: 1111 EUR}",
	}
	for name, one := range map[string]struct {
		text string
		m    PartsMapping
	}{
		"plain":             {"Part no,Rate [N/mm],Free length [mm],Block [mm],Inside [mm],Price [EUR]\nCOIL-60-250,60,250,98.5,61,109.50\nCOIL-65-250,65,250,99,61,1111\n", PartsMapping{}},
		"decimal commas":    {"Artikel;\"Rate, N/mm\";L0 (mm);Block (mm);ID (mm);Price €\nCOIL-60-250;60;250;98,5;61;109,50\nCOIL-65-250;65;250;99;61;1.111,00\n", PartsMapping{Columns: map[string]string{"Artikel": "number"}}},
		"units in cells":    {"Number\tSpring rate\tFree length\tSolid height\tInner diameter\tList price\nCOIL-60-250\t60 N/mm\t250 mm\t98.5 mm\t61 mm\t109.50 EUR\nCOIL-65-250\t65 N/mm\t250 mm\t99 mm\t61 mm\t1,111.00 EUR\n", PartsMapping{}},
		"units said":        {"no|k|length|solid length|id|each\nCOIL-60-250|60|250|98.5|61|109.5\nCOIL-65-250|65|250|99|61|1111\n", PartsMapping{Units: map[string]string{"rate": "N/mm", "free": "mm", "block": "mm", "inside": "mm"}, Currency: "EUR"}},
		"without headings":  {"COIL-60-250,60,250,98.5,61,109.5\nCOIL-65-250,65,250,99,61,1111\n", PartsMapping{Columns: map[string]string{"1": "number", "2": "rate", "3": "free", "4": "block", "5": "inside", "6": "price"}, Units: map[string]string{"rate": "N/mm", "free": "mm", "block": "mm", "inside": "mm"}, Currency: "EUR"}},
		"a title above":     {"Springs of a workshop, autumn;;;;;\n;;;;;\nPart number;Rate (N/mm);Free (mm);Block (mm);Inside (mm);Price (EUR)\nCOIL-60-250;60;250;98.5;61;109.5\n\nCOIL-65-250;65;250;99;61;1111\nprices without tax;;;;;\n", PartsMapping{}},
		"columns not known": {"Part no,Colour,Rate [N/mm],Free length [mm],Block [mm],Inside [mm],Price [EUR]\nCOIL-60-250,grey,60,250,98.5,61,109.50\nCOIL-65-250,grey,65,250,99,61,1111\n", PartsMapping{}},
	} {
		got := listed(t, one.text, one.m)
		if len(got.Questions) > 0 || len(got.Faults) > 0 {
			t.Errorf("%s: asked %+v, faults %+v", name, got.Questions, got.Faults)
			continue
		}
		var is []string
		for _, p := range got.Parts {
			is = append(is, p.Slug+"|"+p.Name+"|"+p.Text)
		}
		if fmt.Sprint(is) != fmt.Sprint(want) {
			t.Errorf("%s:\n%s\nwant\n%s", name, strings.Join(is, "\n"), strings.Join(want, "\n"))
		}
	}
}

// What a list does not say is asked, never taken.
func TestAListIsAsked(t *testing.T) {
	for name, one := range map[string]struct {
		text, code, about string
	}{
		"unit":     {"no,rate,free [mm]\na,60,250\n", "unit", "rate"},
		"currency": {"no,rate [N/mm],price\na,60,85\n", "currency", "price"},
		"decimal":  {"no;rate [N/mm];free [mm];price [EUR]\na;60;250;1,250\n", "decimal", ""},
		"both":     {"no;rate [N/mm];free [mm];price [EUR]\na;60.5;250;12,5\n", "decimal", ""},
		"columns":  {"a,60,250\nb,65,250\n", "columns", ""},
	} {
		got := listed(t, one.text, PartsMapping{})
		if len(got.Parts) > 0 || len(got.Questions) == 0 || got.Questions[0].Code != one.code || got.Questions[0].About != one.about {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A row that cannot be a part is named by its line, and the others stand.
func TestRowsThatAreNone(t *testing.T) {
	got := listed(t, "no,rate [N/mm],free [mm],block [mm],price [EUR]\n"+
		"a,60,250,98,85\nb,sixty,250,98,85\na,65,250,98,85\nc,65,250,98,$85\nd,-5,250,98,85\ne,65,250,260,85\nf,,,,\n", PartsMapping{})
	if len(got.Parts) != 1 || got.Parts[0].Slug != "a" {
		t.Errorf("%+v", got.Parts)
	}
	lines := map[int]bool{}
	for _, f := range got.Faults {
		lines[f.Line] = true
		if f.Got == "" || f.Want == "" {
			t.Errorf("line %d: %q; %q", f.Line, f.Got, f.Want)
		}
	}
	for line := 3; line <= 7; line++ {
		if !lines[line] {
			t.Errorf("nothing is said of line %d: %+v", line, got.Faults)
		}
	}
}

func TestABookOfParts(t *testing.T) {
	f := excelize.NewFile()
	for at, v := range map[string]any{"A1": "part", "B1": "rate [lbf/in]", "C1": "free length [in]", "A2": "x 1", "B2": 342.6, "C2": 10} {
		if err := f.SetCellValue("Sheet1", at, v); err != nil {
			t.Fatal(err)
		}
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	got := listed(t, out.String(), PartsMapping{})
	if len(got.Parts) != 1 || got.Parts[0].Text != "{rate: maker 342.6 lbf/in, free: maker 10 in}" || got.Parts[0].Slug != "x-1" {
		t.Errorf("%+v", got)
	}
}

func FuzzReadParts(f *testing.F) {
	f.Add([]byte("no,rate [N/mm],free [mm]\na,60,250\n"), "spring")
	f.Add([]byte("name;length (mm);price €\nx;40;1.234,5\n"), "stop")
	f.Add([]byte("PK\x03\x04"), "tyre")
	f.Fuzz(func(t *testing.T, data []byte, kind string) {
		got, err := ReadParts(context.Background(), SweepFile{Name: "f", Data: data}, PartsMapping{Kind: kind})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range got.Parts {
			if p.Slug == "" || p.Name == "" || p.Text == "" {
				t.Errorf("%+v", p)
			}
		}
	})
}
