package builds

import (
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// tabled are the figures that nothing judges, in the order they are shown.
var tabled = []struct {
	id, title string
	codes     []string
	ofCar     bool // one row for the whole car, in place of four for its corners
}{
	{"heights", "Heights and loads", []string{"arch-height", "corner-load"}, false},
	{"rates", "Rates and frequencies", []string{"wheel-rate", "corner-frequency", "corner-frequency-on-tyre", "damping-ratio"}, false},
	{"margins", "What is left of the travel", []string{"travel-to-stop-firm", "travel-to-solid", "travel-to-closed", "travel-to-arch", "hang-up", "catch-speed"}, false},
	{"tyres", "Tyres and wheels", []string{"tyre-load-share", "body-height-change", "wheel-outward", "lip-gap", "strut-gap", "liner-gap", "scrub-radius"}, false},
	{"rolling", "Gears and speedometer", []string{"rake-change", "gearing-change", "speed-over-shown"}, true},
	{"struts", "Struts", []string{"strut-side-load", "strut-side-load-in-bend", "strut-bending-stress"}, false},
	{"car", "The car as a whole", []string{"sprung-mass", "front-share", "left-share", "cross-share-front-right-rear-left", "frequency-ratio"}, true},
	{"bends", "In a corner", []string{
		"roll-gradient", "front-transfer-share", "front-roll-share", "bar-roll-share", "understeer-gradient", "critical-speed", "yaw-settling", "yaw-damping", "yaw-frequency",
	}, true},
}

// tables show figures without a limit, in the load state that is looked at.
func (s *page) tables(v *View) {
	a := s.Answer
	columns := make([]Column, len(a.Job.Builds))
	for i, b := range a.Job.Builds {
		columns[i] = Column{Build: b.ID}
	}
	for _, t := range tabled {
		table := Table{ID: t.id, Title: t.title + ", " + strings.ToLower(s.Teller.Load(s.Load)), Columns: columns, Rows: []TableRow{}}
		for _, code := range t.codes {
			corners := []int{0, 1, 2, 3}
			if t.ofCar {
				corners = []int{figure.NoCorner}
			}
			for _, c := range corners {
				name := wording.Name(code)
				row := TableRow{Label: strings.ToUpper(name[:1]) + name[1:], Sub: wording.Corner(c), Cells: []view.Cell{}}
				there := false
				for _, b := range a.Job.Builds {
					value := a.Get(code, b.ID, s.Load, c)
					there = there || value != nil
					verdict, _ := finding.One(a, value)
					row.Cells = append(row.Cells, s.Cell(value, verdict))
				}
				if there {
					table.Rows = append(table.Rows, row)
				}
			}
		}
		if len(table.Rows) > 0 {
			v.Tables = append(v.Tables, table)
		}
	}
	s.modes(v, columns)
}

// modes are the car's own movements in the load state that is looked at.
func (s *page) modes(v *View, columns []Column) {
	a := s.Answer
	var names []string
	found := map[string]map[string][2]*figure.Value{}
	for i := range a.Values {
		m := &a.Values[i]
		if m.Place.Load != s.Load || m.Code != "mode-frequency" && m.Code != "mode-damping" || m.Place.Mode == "" {
			continue
		}
		if found[m.Place.Mode] == nil {
			found[m.Place.Mode] = map[string][2]*figure.Value{}
			names = append(names, m.Place.Mode)
		}
		pair := found[m.Place.Mode][m.Place.Build]
		if m.Code == "mode-frequency" {
			pair[0] = m
		} else {
			pair[1] = m
		}
		found[m.Place.Mode][m.Place.Build] = pair
	}
	if names == nil {
		return
	}
	table := Table{ID: "modes", Title: "The car's own movements, " + strings.ToLower(s.Teller.Load(s.Load)), Columns: columns, Rows: []TableRow{}}
	for _, name := range names {
		for k, sub := range [2]string{"frequency", "damping ratio"} {
			row := TableRow{Label: strings.ToUpper(name[:1]) + view.Spaced(name[1:]), Sub: sub, Cells: []view.Cell{}}
			for _, c := range columns {
				row.Cells = append(row.Cells, s.Cell(found[name][c.Build][k], finding.NoLimit))
			}
			table.Rows = append(table.Rows, row)
		}
	}
	v.Tables = append(v.Tables, table)
}
