package store

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
)

// Difference is one place at which a build is not as the preset says, each side
// as it was typed; empty where nothing was.
type Difference struct {
	Path   string // "front.spring.rate", "setup.click.rear"
	Preset string
	Job    string
}

// Differs compares a build of a job with a preset: the figures of the parts
// they use, not the ids; platforms, heights and clicks. What only the job's own
// readings, price, hours, name and notes say is not compared.
//
// Two values are the same when they are typed the same, blanks apart, or when
// they are the same in SI with the same band and origin.
func Differs(p Preset, job []byte, build string) ([]Difference, error) {
	ours, id, err := presetFields(p)
	if err != nil {
		return nil, err
	}
	theirs, err := readFields("the job", job)
	if err != nil {
		return nil, err
	}
	if _, err := jobfile.Piece(job, "builds."+build); err != nil {
		return nil, &NotFound{"build", build}
	}
	left, right := flatten(ours, id), flatten(theirs, build)
	var out []Difference
	for _, path := range left.paths {
		if r := right.values[path]; !sameValue(left.values[path], r) {
			out = append(out, Difference{path, oneLine(left.values[path].Typed), oneLine(r.Typed)})
		}
	}
	for _, path := range right.paths {
		if _, both := left.values[path]; !both {
			out = append(out, Difference{path, "", oneLine(right.values[path].Typed)})
		}
	}
	return out, nil
}

// compared is what of a build a preset is about.
var compared = []string{"front", "rear", "setup", "mass"}

// flat is a build as a list of places, the parts it names put in their place.
type flat struct {
	paths  []string
	values map[string]jobfile.Field
	fields []jobfile.Field
}

func flatten(fields []jobfile.Field, build string) *flat {
	f := &flat{values: map[string]jobfile.Field{}, fields: fields}
	for _, field := range fields {
		path, ok := strings.CutPrefix(field.Path, "builds."+build+".")
		if !ok || !slices.ContainsFunc(compared, func(key string) bool {
			return strings.HasPrefix(path, key+".") || strings.HasPrefix(path, key+"[")
		}) {
			continue
		}
		f.add(path, field, false, 0)
	}
	return f
}

// mostUses is how often a part may use another one. Chosen.
const mostUses = 10

// add puts a value at its place; a weak one, of a part that is used, only where
// none stands beside the use.
func (f *flat) add(path string, field jobfile.Field, weak bool, depth int) {
	if place, section, tail, ok := jobfile.PartPlace(path); ok && depth < mostUses && (tail == "" || tail == "use") {
		part, found := "parts."+section+"."+strings.TrimSpace(field.Typed)+".", false
		for _, of := range f.fields {
			if rest, ok := strings.CutPrefix(of.Path, part); ok {
				f.add(place+"."+rest, of, tail == "use" || weak, depth+1)
				found = true
			}
		}
		if found {
			return
		}
	}
	if _, there := f.values[path]; !there {
		f.paths = append(f.paths, path)
	} else if weak {
		return
	}
	f.values[path] = field
}

// sameValue compares two values.
func sameValue(a, b jobfile.Field) bool {
	if sameWords(a.Typed, b.Typed) {
		return true
	}
	return a.In.Known() && b.In.Known() && sameInput(a.In, b.In) && sameInput(a.To, b.To)
}

func sameInput(a, b figure.Input) bool {
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*max(math.Abs(x), math.Abs(y)) }
	return near(a.Value, b.Value) && near(a.Half, b.Half) && a.Shape == b.Shape && a.Origin == b.Origin
}

// sameWords compares two texts word by word, numbers by their value.
func sameWords(a, b string) bool {
	words := func(text string) []string { return strings.Fields(strings.ReplaceAll(text, ",", " , ")) }
	return slices.EqualFunc(words(a), words(b), func(x, y string) bool {
		if x == y {
			return true
		}
		n, errN := strconv.ParseFloat(x, 64)
		m, errM := strconv.ParseFloat(y, 64)
		return errN == nil && errM == nil && n == m
	})
}

// PresetOf makes the text of a preset from a build of a job: the build's parts
// and setup, without readings, price, hours and notes.
func PresetOf(job []byte, build string) (string, error) {
	fields, err := readFields("the job", job)
	if err != nil {
		return "", err
	}
	if _, err := jobfile.Piece(job, "builds."+build); err != nil {
		return "", &NotFound{"build", build}
	}
	var keys []string
	for _, key := range append([]string{"name"}, compared...) {
		if piece, err := jobfile.Piece(job, "builds."+build+"."+key); err == nil {
			keys = append(keys, key+": "+piece)
		}
	}
	text := "builds:\n  " + build + ": {" + strings.Join(keys, ", ") + "}\n"
	if parts := usedParts(fields, build); len(parts) > 0 {
		bySection := map[string][]string{}
		var order []string
		for _, part := range parts {
			piece, err := jobfile.Piece(job, part.path())
			if err != nil {
				continue // named and not there: the preset says so as the job does
			}
			if bySection[part.section] == nil {
				order = append(order, part.section)
			}
			bySection[part.section] = append(bySection[part.section], "    "+part.id+": "+piece+"\n")
		}
		head := "parts:\n"
		for _, section := range order {
			head += "  " + section + ":\n" + strings.Join(bySection[section], "")
		}
		if len(order) > 0 {
			text = head + text
		}
	}
	if _, _, err := presetFields(Preset{Text: text}); err != nil {
		return "", err
	}
	return text, nil
}

// named is a part as a job names it.
type named struct{ section, id string }

func (n named) path() string { return "parts." + n.section + "." + n.id }

// usedParts are the parts a build names, and those that they use.
func usedParts(fields []jobfile.Field, build string) []named {
	var out []named
	var use func(n named, depth int)
	use = func(n named, depth int) {
		if slices.Contains(out, n) || depth > mostUses {
			return
		}
		out = append(out, n)
		for _, f := range fields {
			if f.Path == n.path()+".use" || f.Path == n.path() {
				use(named{n.section, strings.TrimSpace(f.Typed)}, depth+1)
			}
		}
	}
	for _, f := range fields {
		path, ok := strings.CutPrefix(f.Path, "builds."+build+".")
		if !ok {
			continue
		}
		if _, section, tail, ok := jobfile.PartPlace(path); ok && (tail == "" && f.Form == "part" || tail == "use") {
			use(named{section, strings.TrimSpace(f.Typed)}, 0)
		}
	}
	return out
}
