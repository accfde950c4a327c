package scales

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/levelling"
)

// ask reads what is asked for. What cannot be read is named, and the preset's
// stands in its place.
func (st *Session) ask() error {
	s := &st.settings
	fault := func(field string, err error) {
		if err != nil {
			st.faults = append(st.faults, intake.FieldFault{Field: field, Text: err.Error()})
		}
	}
	if s.Only == nil {
		s.Only = []string{}
	}
	if s.Preset == "" {
		s.Preset = string(scales.Road)
	}
	preset := scales.Preset(s.Preset)
	if !slices.Contains(scales.Presets(), preset) {
		fault("preset", fmt.Errorf("%q is no preset: road, track or race", s.Preset))
		preset = scales.Road
	}
	if s.Diagonal == "" {
		s.Diagonal = string(scales.FrontRightRearLeft)
	}
	diagonal := scales.Diagonal(s.Diagonal)
	if diagonal != scales.FrontRightRearLeft && diagonal != scales.FrontLeftRearRight {
		fault("diagonal", fmt.Errorf("%q is no diagonal: front-right-rear-left or front-left-rear-right", s.Diagonal))
		diagonal = scales.FrontRightRearLeft
	}
	st.target = preset.Level(diagonal)
	switch s.Price {
	case "":
	case "level":
		st.target.CrossPerMetre = 0
	default:
		price, err := levelling.Price(s.Price)
		if fault("price", err); err == nil {
			st.target.CrossPerMetre = price
		}
	}
	flats := 0
	if s.Flats != "" {
		var err error
		if flats, err = strconv.Atoi(strings.TrimSpace(s.Flats)); err != nil || flats == 0 {
			fault("flats", fmt.Errorf("%q is no number of flats: 2 to 60", s.Flats))
			flats = 0
		}
	}
	step, err := levelling.Step(s.Step, flats)
	if err != nil {
		var ask *levelling.AskError
		if errors.As(err, &ask) {
			fault(ask.Field, fmt.Errorf("it %s", ask.Text))
		}
		step = 0
	}
	fault("only", levelling.Only(&st.target, s.Only))
	w := &s.Wishes
	for _, x := range []struct{ field, name, typed string }{
		{"front", "front", w.Front},
		{"rear", "rear", w.Rear},
		{"rake", "rake", w.Rake},
		{"levelFront", "level-front", w.LevelFront},
		{"levelRear", "level-rear", w.LevelRear},
		{"cross", "cross", w.Cross},
		{"frontShare", "front-share", w.FrontShare},
		{"leftShare", "left-share", w.LeftShare},
	} {
		if typed := strings.TrimSpace(x.typed); typed != "" {
			fault("wishes."+x.field, levelling.Wish(&st.target, x.name, typed))
		}
	}
	st.rig, err = levelling.Stand(st.job, st.build, st.load, st.history.Collars(), step)
	if err != nil {
		return refused(err)
	}
	if s.Step == "" && s.Flats == "" {
		// What the job's collars are turned by.
		s.Step = "1/8"
		for i := range st.build.Corner {
			if p := st.build.Corner[i].Platform; p != nil && p.Flats > 0 {
				s.Step, s.Flats = "", strconv.Itoa(p.Flats)
				break
			}
		}
	}
	return nil
}
