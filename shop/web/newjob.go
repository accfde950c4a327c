package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"trunnion/chassis/part"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// Figures are what can be given on the telephone; each as it is typed.
type Figures struct {
	Owner          string `json:"owner" maxLength:"200"`
	Car            string `json:"car" maxLength:"200"`
	Plate          string `json:"plate,omitempty" maxLength:"60"`
	Wheelbase      string `json:"wheelbase" maxLength:"100"`
	Track          string `json:"track" maxLength:"100"`
	LoadFrontLeft  string `json:"loadFrontLeft" maxLength:"100"`
	LoadFrontRight string `json:"loadFrontRight" maxLength:"100"`
	LoadRearLeft   string `json:"loadRearLeft" maxLength:"100"`
	LoadRearRight  string `json:"loadRearRight" maxLength:"100"`
	ArchFront      string `json:"archFront" maxLength:"100"`
	ArchRear       string `json:"archRear" maxLength:"100"`
	SpringFront    string `json:"springFront" maxLength:"100"`
	SpringRear     string `json:"springRear" maxLength:"100"`
	LowerFront     string `json:"lowerFront" maxLength:"100"`
	LowerRear      string `json:"lowerRear" maxLength:"100"`
}

// figureReader reads the figures, all faults at once.
type figureReader struct {
	places []Misplaced
}

func (a *figureReader) bad(key, message string) {
	a.places = append(a.places, Misplaced{"figures." + key, message})
}

// value reads one figure; least and most bound what a car can have. [SI]
func (a *figureReader) value(key, typed string, kind quantity.Kind, least, most float64) (float64, string) {
	typed = strings.TrimSpace(typed)
	t, err := quantity.Parse(typed, kind)
	switch {
	case err != nil:
		a.bad(key, err.Error())
	case !(t.Value >= least && t.Value <= most):
		u := quantity.Shown(kind, quantity.Metric)
		a.bad(key, "it must be "+u.Number(least, quantity.Auto)+" to "+u.Format(most, quantity.Auto))
	}
	return t.Value, typed
}

// spring reads "25 N/mm, 361 mm free": a rate, and a free length where it is
// known.
func (a *figureReader) spring(key, typed string) (rate float64, piece string) {
	first, second, both := strings.Cut(strings.TrimSpace(typed), ",")
	if strings.Contains(second, ",") || !both && strings.Count(typed, ",") > 0 {
		a.bad(key, "enter a rate and a free length, such as 25 N/mm, 361 mm free")
		return 0, ""
	}
	rate, text := a.value(key, first, quantity.Stiffness, 5e3, 5e5)
	piece = "rate: " + yamlText(text)
	if second = strings.TrimSpace(strings.ReplaceAll(second, "free", "")); second != "" {
		_, text := a.value(key, second, quantity.Length, 0.05, 0.8)
		piece += ", free: " + yamlText(text)
	}
	return rate, piece
}

// yamlText writes a text as a job holds it.
func yamlText(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// fromFigures writes a job of twelve figures. What is not known is left out: the
// reader estimates it and marks it as an estimate.
func (s *Server) fromFigures(f Figures) ([]byte, error) {
	a := &figureReader{}
	if strings.TrimSpace(f.Car) == "" {
		a.bad("car", "what car is it?")
	}
	_, wheelbase := a.value("wheelbase", f.Wheelbase, quantity.Length, 1.5, 4.5)
	_, track := a.value("track", f.Track, quantity.Length, 0.9, 2.3)
	loads := make([]string, 4)
	for i, one := range []struct{ key, typed string }{
		{"loadFrontLeft", f.LoadFrontLeft}, {"loadFrontRight", f.LoadFrontRight}, {"loadRearLeft", f.LoadRearLeft}, {"loadRearRight", f.LoadRearRight},
	} {
		_, loads[i] = a.value(one.key, one.typed, quantity.Mass, 100, 1200)
	}
	_, archFront := a.value("archFront", f.ArchFront, quantity.Length, 0.2, 0.7)
	_, archRear := a.value("archRear", f.ArchRear, quantity.Length, 0.2, 0.7)
	rateFront, springFront := a.spring("springFront", f.SpringFront)
	rateRear, springRear := a.spring("springRear", f.SpringRear)
	var lower [2]float64
	var lowerTyped [2]string
	for i, one := range []struct{ key, typed string }{{"lowerFront", f.LowerFront}, {"lowerRear", f.LowerRear}} {
		if t := strings.TrimSpace(one.typed); t == "" || t == "0" {
			continue
		}
		lower[i], lowerTyped[i] = a.value(one.key, one.typed, quantity.Length, 0, 0.12)
	}
	if len(a.places) > 0 {
		p := problem(http.StatusUnprocessableEntity, "some of the figures cannot be taken")
		p.Errors = a.places
		for _, m := range a.places {
			p.Faults = append(p.Faults, jobfile.Fault{Path: m.Location, Got: "cannot be taken", Want: m.Message, Kind: jobfile.Refuse, Location: m.Location})
		}
		return nil, p
	}
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("# Taken on the telephone: the figures that were given stand here, everything")
	line("# else is estimated by the program and marked as an estimate.")
	line("trunnion: %s\n", jobfile.Version)
	line("job:")
	line("  number: %s", yamlText(s.nextNumber()))
	line("  date: %s", s.o.Now().Format(time.DateOnly))
	if s.o.Workshop != "" {
		line("  workshop: %s", yamlText(s.o.Workshop))
	}
	if owner := strings.TrimSpace(f.Owner); owner != "" {
		line("  owner: %s", yamlText(owner))
	}
	line("\ncar:")
	line("  name: %s", yamlText(strings.TrimSpace(f.Car)))
	if plate := strings.TrimSpace(f.Plate); plate != "" {
		line("  plate: %s", yamlText(plate))
	}
	line("  wheelbase: %s", yamlText(wheelbase))
	line("  track: {front: %s, rear: %s}", yamlText(track), yamlText(track))
	line("  weighed:")
	line("    build: arrived")
	line("    load: {front_left: %s, front_right: %s, rear_left: %s, rear_right: %s}", yamlText(loads[0]), yamlText(loads[1]), yamlText(loads[2]), yamlText(loads[3]))
	line("    arch_height: {front_left: %[1]s, front_right: %[1]s, rear_left: %[2]s, rear_right: %[2]s}", yamlText(archFront), yamlText(archRear))
	line("  front: {}")
	line("  rear: {}")
	line("\nparts:\n  springs:")
	line("    old-front: {%s}", springFront)
	line("    old-rear: {%s}", springRear)
	low := lower[0] > 0 || lower[1] > 0
	axles := [2]string{"front", "rear"}
	if low {
		for i, rate := range []float64{rateFront, rateRear} {
			if lower[i] > 0 {
				line("    lower-%s: {rate: est %s, drop: %s}   # a fifth firmer than the old one, until a spring is chosen",
					axles[i], quantity.Format(part.LoweringRate(rate), quantity.Stiffness, quantity.Metric, quantity.Auto), yamlText(lowerTyped[i]))
			}
		}
	}
	line("\nbuilds:")
	line("  arrived:\n    name: As it stands\n    front: {spring: old-front}\n    rear: {spring: old-rear}")
	if low {
		line("  lower:\n    name: Lower springs")
		for i := range axles {
			if lower[i] > 0 {
				line("    %s: {spring: lower-%s}", axles[i], axles[i])
			}
		}
	}
	text := []byte(b.String())
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		// The figures are each right, but not together: the faults say where.
		p := problem(http.StatusUnprocessableEntity, "the figures do not go together")
		p.Faults = faults
		for i := range p.Faults {
			if p.Faults[i].Kind == jobfile.Refuse {
				p.Faults[i].Location = figureOf(p.Faults[i].Path)
				p.Errors = append(p.Errors, Misplaced{p.Faults[i].Location, p.Faults[i].Got + "; " + p.Faults[i].Want})
			}
		}
		return nil, p
	}
	return text, nil
}

// figureOf is the figure of the page that a path of the job came from.
func figureOf(path string) string {
	for _, row := range [][2]string{
		{"car.weighed.load.front_left", "loadFrontLeft"},
		{"car.weighed.load.front_right", "loadFrontRight"},
		{"car.weighed.load.rear_left", "loadRearLeft"},
		{"car.weighed.load.rear_right", "loadRearRight"},
		{"car.weighed.arch_height.front", "archFront"},
		{"car.weighed.arch_height.rear", "archRear"},
		{"parts.springs.old-front", "springFront"},
		{"parts.springs.old-rear", "springRear"},
		{"parts.springs.lower-front", "lowerFront"},
		{"parts.springs.lower-rear", "lowerRear"},
		{"builds.arrived.front", "springFront"},
		{"builds.arrived.rear", "springRear"},
		{"builds.lower.front", "lowerFront"},
		{"builds.lower.rear", "lowerRear"},
		{"car.wheelbase", "wheelbase"},
		{"car.track", "track"},
		{"car.name", "car"},
	} {
		if strings.HasPrefix(path, row[0]) {
			return "figures." + row[1]
		}
	}
	return "figures"
}

// nextNumber is a job's number by the day and the minute: the workshop may write
// its own over it.
func (s *Server) nextNumber() string { return s.o.Now().Format("060102-1504") }
