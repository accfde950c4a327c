package scales

import (
	"strconv"
	"strings"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
)

// wish is a target by its field of the page and by its name.
type wish struct{ field, name, typed string }

func (w *Wishes) list() []wish {
	return []wish{
		{"front", "front", w.Front},
		{"rear", "rear", w.Rear},
		{"rake", "rake", w.Rake},
		{"levelFront", "level-front", w.LevelFront},
		{"levelRear", "level-rear", w.LevelRear},
		{"cross", "cross", w.Cross},
		{"frontShare", "front-share", w.FrontShare},
		{"leftShare", "left-share", w.LeftShare},
	}
}

// asked are the settings as the desk is asked; flats says what is wrong with the
// number of them, empty where nothing is.
func (st *Session) asked() (ask desk.LevelAsk, flats string) {
	s := &st.settings
	ask = desk.LevelAsk{Build: s.Build, Load: s.Load, Preset: s.Preset, Price: s.Price, Diagonal: s.Diagonal, Only: s.Only, Step: s.Step}
	if s.Flats != "" {
		n, err := strconv.Atoi(strings.TrimSpace(s.Flats))
		if err != nil || n == 0 {
			flats = "“" + s.Flats + "” is no number of flats: 2 to 60"
		} else {
			ask.Flats = n
		}
	}
	for _, w := range s.Wishes.list() {
		if typed := strings.TrimSpace(w.typed); typed != "" {
			ask.Target = append(ask.Target, w.name+"="+typed)
		}
	}
	return ask, flats
}

// listFaults puts what cannot be read beside the field of the page it was typed in.
func (st *Session) listFaults(flats string) {
	fault := func(field, text string) {
		st.faults = append(st.faults, intake.FieldFault{Field: field, Text: text})
	}
	if flats != "" {
		fault("flats", flats)
	}
	for _, f := range st.Faults {
		switch f.Field {
		case "target":
			for _, w := range st.settings.Wishes.list() {
				if w.name == f.Wish {
					fault("wishes."+w.field, f.Text)
				}
			}
		case "only":
			fault(f.Field, f.Text)
		default:
			fault(f.Field, "it "+f.Text)
		}
	}
	st.faults = append(st.faults, st.Unread...)
}

// fill shows what is meant by a setting that was left empty.
func (st *Session) fill() {
	s := &st.settings
	if s.Only == nil {
		s.Only = []string{}
	}
	if s.Preset == "" {
		s.Preset = string(desk.UsualPreset)
	}
	if s.Diagonal == "" {
		s.Diagonal = string(desk.UsualDiagonal)
	}
	if s.Step != "" || s.Flats != "" {
		return
	}
	// What the job's collars are turned by.
	s.Step = "1/8"
	for i := range st.Build.Corner {
		if p := st.Build.Corner[i].Platform; p != nil && p.Flats > 0 {
			s.Step, s.Flats = "", strconv.Itoa(p.Flats)
			break
		}
	}
}
