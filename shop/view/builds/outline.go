package builds

import (
	"strconv"
	"strings"

	"trunnion/shop/jobfile"
)

// outline lists the parts that stand in the job.
func (s *page) outline(v *View) {
	fields := jobfile.Fields(s.Text)
	ids := func(section string) []string {
		var out []string
		prefix := "parts." + section + "."
		for i := range fields {
			rest, ok := strings.CutPrefix(fields[i].Path, prefix)
			if !ok {
				continue
			}
			id, _, _ := strings.Cut(rest, ".")
			if len(out) == 0 || out[len(out)-1] != id {
				out = append(out, id)
			}
		}
		return out
	}
	// What a part does not say itself is as on the one that it is like.
	at := func(path string) string {
		for range 5 {
			if f := v.Fields[path]; f.Shown != "" {
				return f.Shown
			}
			words := strings.Split(path, ".")
			if len(words) != 4 {
				break
			}
			like := v.Fields[strings.Join(words[:3], ".")+".use"].Typed
			if like == "" {
				break
			}
			words[2] = like
			path = strings.Join(words, ".")
		}
		return ""
	}
	for _, id := range ids("springs") {
		p := "parts.springs." + id
		label := at(p + ".rate")
		if free := at(p + ".free"); free != "" {
			label += ", " + free + " free"
		} else if drop := at(p + ".drop"); drop != "" {
			label += ", lowers " + drop
		}
		v.Outline.Springs = append(v.Outline.Springs, Outlined{ID: id, Label: label})
	}
	for _, id := range ids("dampers") {
		p := "parts.dampers." + id
		label := strings.ReplaceAll(v.Fields[p+".construction"].Typed, "-", " ")
		clicks, _ := strconv.Atoi(v.Fields[p+".clicks"].Typed)
		if clicks > 0 {
			label += ", " + strconv.Itoa(clicks) + " clicks"
		}
		if open := at(p + ".open"); open != "" {
			label += ", open " + open
		}
		v.Outline.Dampers = append(v.Outline.Dampers, Outlined{ID: id, Label: strings.TrimPrefix(label, ", "), Clicks: clicks})
	}
	for _, id := range ids("stops") {
		v.Outline.Stops = append(v.Outline.Stops, Outlined{ID: id, Label: at("parts.stops." + id + ".length")})
	}
	for _, id := range ids("platforms") {
		p := "parts.platforms." + id
		label := v.Fields[p+".type"].Typed
		if thread := at(p + ".thread"); thread != "" {
			label += ", " + thread
		}
		v.Outline.Platforms = append(v.Outline.Platforms, Outlined{ID: id, Label: label})
	}
	for _, list := range [][]Outlined{v.Outline.Springs, v.Outline.Dampers, v.Outline.Stops, v.Outline.Platforms} {
		named(list)
	}
}

// named calls the parts of a list as a person tells them apart: by what they are, after
// their id in words where that says more than a code. Parts that would be called alike
// have their ids behind them.
func named(list []Outlined) {
	alike := map[string]int{}
	for i := range list {
		alike[list[i].Label]++
	}
	for i := range list {
		o := &list[i]
		words := strings.NewReplacer("-", " ", "_", " ").Replace(o.ID)
		switch {
		case o.Label == "":
			o.Label = words
		case !strings.ContainsAny(o.ID, "0123456789"):
			o.Label = words + ": " + o.Label
		case alike[o.Label] > 1:
			o.Label += ", " + words
		}
	}
}
