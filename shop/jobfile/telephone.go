package jobfile

import (
	"fmt"
	"strings"

	"trunnion/chassis/part"
	"trunnion/shop/quantity"
)

// Told is what can be told of a car on the telephone, each figure as it is typed.
type Told struct {
	Number, Date, Workshop                                     string // of the job
	Owner, Car, Plate                                          string
	Wheelbase, Track                                           string
	LoadFrontLeft, LoadFrontRight, LoadRearLeft, LoadRearRight string
	ArchFront, ArchRear                                        string
	SpringFront, SpringRear                                    string // "25 N/mm, 361 mm free"
	LowerFront, LowerRear                                      string // by how much it is to stand lower; empty: not at all
	Typical                                                    string // the kind of car whose figures stand in for what was not told; empty: none do
}

// toldReader reads the figures, all faults at once.
type toldReader struct {
	faults []Fault
}

func (a *toldReader) bad(key, message string) {
	a.faults = append(a.faults, Fault{Location: key, Got: "cannot be taken", Want: message, Kind: Refuse})
}

// value reads one figure; least and most bound what a car can have. [SI]
func (a *toldReader) value(key, typed string, kind quantity.Kind, least, most float64) (float64, string) {
	typed = strings.TrimSpace(typed)
	_, bare := cutOrigin(typed)
	t, err := quantity.Parse(bare, kind)
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
func (a *toldReader) spring(key, typed string) (rate float64, piece string) {
	first, second, _ := strings.Cut(strings.TrimSpace(typed), ",")
	if strings.Contains(second, ",") {
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

// Text writes a job of the figures. What is not known is left out: the reader estimates
// it and marks it as an estimate. A fault's location is the figure's key; it has a path in
// the job where the figures are each right, but not together.
func (f *Told) Text() ([]byte, []Fault) {
	a := &toldReader{}
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
	if len(a.faults) > 0 {
		return nil, a.faults
	}
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("# Taken on the telephone: the figures that were given stand here, everything")
	line("# else is estimated by the program and marked as an estimate.")
	if f.Typical != "" {
		line("# What begins with “est” is no reading of this car: %s.", strings.ToLower(f.Typical[:1])+f.Typical[1:])
		line("# %s", typicalBasis)
	}
	line("trunnion: %s\n", Version)
	line("job:")
	line("  number: %s", yamlText(f.Number))
	line("  date: %s", f.Date)
	if f.Workshop != "" {
		line("  workshop: %s", yamlText(f.Workshop))
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
	job, faults := ReadBytes(text, "job.yaml")
	if job != nil {
		return text, nil
	}
	for i := range faults {
		if faults[i].Kind == Refuse {
			faults[i].Location = toldAt(faults[i].Path)
		}
	}
	return nil, faults
}

// toldAt is the figure that a path of the job came from; empty where that is not known.
func toldAt(path string) string {
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
			return row[1]
		}
	}
	return ""
}

// typicalBasis is what every figure of a typical car rests on.
const typicalBasis = "Typical of its kind: common practice, no source. Every figure is an estimate; measure and replace it."
