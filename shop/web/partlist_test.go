package web

import (
	"strings"
	"testing"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/view/dampers"
)

// A list is asked, read, taken in once whole, and comes out as it went in.
func TestAListOfPartsIntoTheCatalogue(t *testing.T) {
	s := openShop(t, t.TempDir(), true)
	ask := PartListRequest{PartsAsk: desk.PartsAsk{File: intake.SweepFile{Name: "maker.csv", Data: []byte("part no;rate [N/mm];free length [mm];price\nC-1;60;250;85,5\nC-2;sixty;250;86\n")}}}
	var got PartList
	s.want(200, &got, "POST", "/api/catalogue/list", ask)
	if len(got.Questions) != 1 || got.Questions[0].Code != "currency" || !strings.Contains(got.Questions[0].Text, "85,5") || len(got.Parts) != 0 {
		t.Fatalf("%+v", got)
	}
	ask.Mapping.Currency = "EUR"
	ask.Save = true
	s.want(200, &got, "POST", "/api/catalogue/list", ask)
	if got.Saved || len(got.Faults) != 1 || !strings.HasPrefix(got.Faults[0], "Line 3 ") || len(got.Parts) != 1 || got.Taken != "In the catalogue they would be: 1 new." {
		t.Fatalf("%+v", got)
	}
	ask.Partial = true
	s.want(200, &got, "POST", "/api/catalogue/list", ask)
	if !got.Saved || got.Taken != "Taken into the catalogue: 1 new." {
		t.Fatalf("%+v", got)
	}
	var parts Parts
	s.want(200, &parts, "GET", "/api/catalogue?kind=spring&search=c-1", nil)
	if len(parts.Parts) != 1 || parts.Parts[0].Source != "maker.csv" || !strings.Contains(parts.Parts[0].Line, "85.5 EUR") {
		t.Fatalf("%+v", parts)
	}
	for _, format := range []string{"csv", "xlsx"} {
		var file dampers.File
		s.want(200, &file, "GET", "/api/catalogue/file?kind=spring&format="+format, nil)
		back := PartListRequest{PartsAsk: desk.PartsAsk{File: intake.SweepFile{Name: file.Name, Data: file.Data}}}
		s.want(200, &got, "POST", "/api/catalogue/list", back)
		if len(got.Faults) > 0 || len(got.Questions) > 0 || strings.Contains(got.Taken, "new") || strings.Contains(got.Taken, "changed") || len(got.Parts) < 4 {
			t.Errorf("%s: %+v", format, got)
		}
	}
	s.want(422, nil, "POST", "/api/catalogue/list", PartListRequest{})
}
