package store

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
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
// they have the same number and the rest is typed the same: 46 N/mm and 46.0
// N/mm. A value in another unit is shown as a difference.
func Differs(p Preset, job []byte, build string) ([]Difference, error) {
	parts, wanted, err := presetBuild(p.Text)
	if err != nil {
		return nil, err
	}
	o, err := readOutline("the job", job)
	if err != nil {
		return nil, err
	}
	has := o.at("builds", build)
	if has == nil {
		return nil, &NotFound{"build", build}
	}
	left, right := flatten(wanted, parts), flatten(has, o.at("parts"))
	var out []Difference
	for _, path := range left.paths {
		if r := right.values[path]; !sameValue(left.values[path], r) {
			out = append(out, Difference{path, left.values[path], r})
		}
	}
	for _, path := range right.paths {
		if _, both := left.values[path]; !both {
			out = append(out, Difference{path, "", right.values[path]})
		}
	}
	return out, nil
}

// presetBuild reads the text of a preset.
func presetBuild(text string) (parts, build *outline, err error) {
	o, err := readOutline("the preset", []byte(text))
	if err != nil {
		return nil, nil, err
	}
	for _, key := range o.keys {
		if key != "parts" && key != "builds" {
			return nil, nil, &Refused{"the preset", "holds " + quoted(key), "it holds parts and builds"}
		}
	}
	builds := o.at("builds")
	if builds == nil || len(builds.keys) != 1 || builds.under[builds.keys[0]].under == nil {
		return nil, nil, &Refused{"the preset", "does not hold one build", "one is due, under builds and its id"}
	}
	return o.at("parts"), builds.under[builds.keys[0]], nil
}

// flat is a tree of values as a list of places.
type flat struct {
	paths  []string
	values map[string]string
}

// sections is where a key of an axle finds a part that is named by its id.
var sections = map[string]string{
	"spring": "springs", "helper": "springs", "damper": "dampers", "stop": "stops", "mount": "mounts", "platform": "platforms",
}

var (
	compared = []string{"front", "rear", "setup", "mass"}
	fourOf   = []string{"front_left", "front_right", "rear_left", "rear_right"}
	twoOf    = []string{"front", "rear"}
)

// flatten lists the places of a build that a preset is about.
func flatten(build, parts *outline) flat {
	f := flat{values: map[string]string{}}
	for _, key := range compared {
		o := build.at(key)
		if o == nil {
			continue
		}
		if key == "setup" {
			for _, k := range o.keys {
				f.add("setup."+k, byPlace(o.under[k]))
			}
			continue
		}
		if o.under == nil {
			f.add(key, o)
			continue
		}
		for _, k := range o.keys {
			f.add(key+"."+k, resolve(o.under[k], parts.at(sections[k]), mostDepth))
		}
	}
	return f
}

// resolve puts the part itself in the place of its id, and in the place of {use:
// id, …} the part with what stands beside.
func resolve(o, section *outline, depth int) *outline {
	if o == nil || section == nil || depth == 0 {
		return o
	}
	if part := section.at(o.word); o.word != "" && part != nil {
		return resolve(part, section, depth-1)
	}
	used := section.at(o.text("use"))
	if used == nil {
		return o
	}
	used = resolve(used, section, depth-1)
	out := &outline{keys: slices.Clone(used.keys), under: map[string]*outline{}}
	for _, k := range used.keys {
		out.under[k] = used.under[k]
	}
	for _, k := range o.keys {
		if k == "use" {
			continue
		}
		if _, there := out.under[k]; !there {
			out.keys = append(out.keys, k)
		}
		out.under[k] = o.under[k]
	}
	return out
}

// byPlace names the entries of a list that stand for corners or axles.
func byPlace(o *outline) *outline {
	names := fourOf
	if len(o.items) == 2 {
		names = twoOf
	}
	if len(o.items) != len(names) {
		return o
	}
	out := &outline{keys: names, under: map[string]*outline{}}
	for i, name := range names {
		out.under[name] = o.items[i]
	}
	return out
}

// add lists the scalars below a place. A row of numbers is one value.
func (f *flat) add(path string, o *outline) {
	switch {
	case o == nil:
	case o.under != nil:
		for _, k := range o.keys {
			f.add(path+"."+k, o.under[k])
		}
	case o.items != nil && !slices.ContainsFunc(o.items, func(i *outline) bool { return i.under != nil || i.items != nil }):
		words := make([]string, len(o.items))
		for i, item := range o.items {
			words[i] = oneLine(item.word)
		}
		f.put(path, strings.Join(words, ", "))
	case o.items != nil:
		for i, item := range o.items {
			f.add(fmt.Sprintf("%s[%d]", path, i), item)
		}
	default:
		f.put(path, oneLine(o.word))
	}
}

func (f *flat) put(path, value string) {
	if _, twice := f.values[path]; !twice {
		f.paths = append(f.paths, path)
	}
	f.values[path] = value
}

// sameValue compares two values as typed.
func sameValue(a, b string) bool {
	if a == b {
		return true
	}
	left, right := strings.Fields(strings.ReplaceAll(a, ",", " , ")), strings.Fields(strings.ReplaceAll(b, ",", " , "))
	return slices.EqualFunc(left, right, func(x, y string) bool {
		if x == y {
			return true
		}
		n, errN := strconv.ParseFloat(x, 64)
		m, errM := strconv.ParseFloat(y, 64)
		return errN == nil && errM == nil && n == m
	})
}
