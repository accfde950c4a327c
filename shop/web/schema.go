package web

import (
	"encoding/json"
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"trunnion/shop/measuring"
	"trunnion/shop/pastjobs"
	"trunnion/shop/sheet"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/corners"
	"trunnion/shop/view/dampers"
	"trunnion/shop/view/find"
	"trunnion/shop/view/history"
	"trunnion/shop/view/linkage"
	"trunnion/shop/view/order"
	"trunnion/shop/view/ride"
	"trunnion/shop/view/roadtest"
	"trunnion/shop/view/scales"
	"trunnion/shop/view/struts"
	"trunnion/shop/view/support"
	"trunnion/shop/view/working"
)

// schemaPrefixes are packages whose own types stand in answers, by what their names begin
// with there: the page calls others the same, a part, a strip, a change.
var schemaPrefixes = map[string]string{
	reflect.TypeFor[sheet.Sheet]().PkgPath():    "Sheet",
	reflect.TypeFor[store.Store]().PkgPath():    "Kept",
	reflect.TypeFor[measuring.Card]().PkgPath(): "Measuring",
}

// pages are the packages of the pages: what the whole of a page is called in the
// description, and what the names of its pieces begin with there.
var pages = map[string]struct{ whole, pieces string }{
	reflect.TypeFor[linkage.View]().PkgPath():  {"Linkage", "Linkage"},
	reflect.TypeFor[struts.View]().PkgPath():   {"Struts", "Strut"},
	reflect.TypeFor[corners.View]().PkgPath():  {"Corners", "Corner"},
	reflect.TypeFor[dampers.View]().PkgPath():  {"Dampers", "Damper"},
	reflect.TypeFor[roadtest.View]().PkgPath(): {"RoadTest", "RoadTest"},
	reflect.TypeFor[find.View]().PkgPath():     {"Found", "Found"},
	reflect.TypeFor[history.View]().PkgPath():  {"History", ""},
	reflect.TypeFor[support.View]().PkgPath():  {"Support", "Support"},
	reflect.TypeFor[scales.View]().PkgPath():   {"Scales", "Scales"},
	reflect.TypeFor[working.View]().PkgPath():  {"Working", ""},
	reflect.TypeFor[ride.View]().PkgPath():     {"Ride", "Ride"},
	reflect.TypeFor[order.View]().PkgPath():    {"Order", "Order"},
}

// schemaNames are the names in the description of types that the program calls
// otherwise: a name there stays what it is.
var schemaNames = map[reflect.Type]string{
	reflect.TypeFor[pastjobs.Line]():           "HistoryLine",
	reflect.TypeFor[pastjobs.Due]():            "DueLine",
	reflect.TypeFor[history.Entry]():           "HistoryEntry",
	reflect.TypeFor[history.Note]():            "NoteShown",
	reflect.TypeFor[support.SymptomRow]():      "SymptomRow",
	reflect.TypeFor[support.SymptomRows]():     "SymptomRows",
	reflect.TypeFor[view.ChartGroup]():         "CornerGroup",
	reflect.TypeFor[view.Missing]():            "StrutMissing",
	reflect.TypeFor[view.Slider]():             "StrutSlider",
	reflect.TypeFor[view.TravelMark]():         "StrutMark",
	reflect.TypeFor[corners.Steadiness]():      "Steadiness",
	reflect.TypeFor[corners.SteadinessBuild](): "SteadinessBuild",
	reflect.TypeFor[struts.MountRow]():         "MountRow",
	reflect.TypeFor[working.Remedy]():          "RemedyLine",
	reflect.TypeFor[working.Plan]():            "BuildPlan",
	reflect.TypeFor[working.Limit]():           "LimitText",
	reflect.TypeFor[working.Narrow]():          "NarrowText",
	reflect.TypeFor[ride.Trace]():              "Trace",
	reflect.TypeFor[ride.TraceUnits]():         "TraceUnits",
	reflect.TypeFor[ride.TraceRoad]():          "TraceRoad",
	reflect.TypeFor[ride.TraceLimits]():        "TraceLimits",
	reflect.TypeFor[order.Bought]():            "Bought",
}

// schemaName names a type in the description.
func schemaName(t reflect.Type, hint string) string {
	name := huma.DefaultSchemaNamer(t, hint)
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if said := schemaNames[t]; said != "" {
		return said
	}
	if page, ok := pages[t.PkgPath()]; ok {
		if name == "View" {
			return page.whole
		}
		return page.pieces + name
	}
	if prefix := schemaPrefixes[t.PkgPath()]; !strings.HasPrefix(name, prefix) {
		return prefix + name
	}
	return name
}

func (s *Server) config() huma.Config {
	c := huma.DefaultConfig("Trunnion", s.o.Version)
	c.Info.Description = "A workshop's jobs, tries and runs. Texts and figures are ready to show; plain numbers are for drawing, in the unit named beside them."
	c.OpenAPIPath, c.DocsPath, c.SchemasPath = "", "", ""
	c.CreateHooks = nil // no links to schemas in answers
	c.Components.Schemas = huma.NewMapRegistry("#/components/schemas/", schemaName)
	return c
}

// Description is the interface in OpenAPI 3.1.
func (s *Server) Description() ([]byte, error) {
	return json.MarshalIndent(s.api.OpenAPI(), "", "  ")
}
