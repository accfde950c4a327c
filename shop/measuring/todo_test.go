package measuring_test

import (
	"slices"
	"strings"
	"testing"

	"trunnion/shop/measuring"
	"trunnion/shop/quantity"
)

const told = `trunnion: job/1
job: {number: "7", owner: A, date: 2026-01-02}
car:
  name: Quillon
  wheelbase: 2480 mm
  track: {front: 1460 mm, rear: 1450 mm}
  weighed:
    build: arrived
    load: {front_left: 338 kg, front_right: 331 kg, rear_left: 205 kg, rear_right: 212 kg}
    rod_showing: {front_left: 38 mm, front_right: 36 mm}
parts:
  springs:
    old: {rate: 22 N/mm}
builds:
  arrived: {front: {spring: old}}
`

func TestAMeasuringSheetAsksOnlyForWhatIsLacking(t *testing.T) {
	todo := measuring.ToMeasure([]byte(told), quantity.Metric)
	by := map[string]measuring.Todo{}
	var groups []string
	for _, one := range todo {
		by[one.ID] = one
		if !slices.Contains(groups, one.Group) {
			groups = append(groups, one.Group)
		}
	}
	if got := strings.Join(groups, " "); got != "scales tape lift bench" {
		t.Errorf("the groups come as %q, not in the order of work", got)
	}
	if _, there := by["corner-load"]; there {
		t.Error("corner loads are asked for that were typed")
	}
	rod := by["rod-showing"]
	if len(rod.Rows) != 4 || len(rod.Columns) != 3 || rod.Unit != "mm" {
		t.Fatalf("rod showing has %d rows, %d boxes each, in %q", len(rod.Rows), len(rod.Columns), rod.Unit)
	}
	if rod.Rows[0].Typed[0] != "38 mm" || rod.Rows[2].Typed[0] != "" {
		t.Errorf("what was typed of four wheels stands as %q and %q", rod.Rows[0].Typed, rod.Rows[2].Typed)
	}
	spring := by["spring"]
	for _, row := range spring.Rows {
		if row.Label == "Rate" && (row.Typed[0] != "22 N/mm" || row.Typed[1] != "") {
			t.Errorf("the rate of the front spring is known and that of the rear is not: %q", row.Typed)
		}
	}
	motion := by["motion"]
	if len(motion.Tables) != 2 || motion.Tables[0].Title != "front" || len(motion.Tables[0].Columns) != 3 {
		t.Errorf("travel of the wheels has the tables %+v", motion.Tables)
	}
	for _, one := range todo {
		if !slices.ContainsFunc(one.Rows, func(r measuring.TodoRow) bool { return slices.Contains(r.Typed, "") }) && len(one.Tables) == 0 {
			t.Errorf("%s asks for nothing", one.Title)
		}
	}
}
