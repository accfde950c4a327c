package history

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// WayRequest names two states of a job.
type WayRequest struct {
	Text   string         `json:"text,omitempty" maxLength:"2097152" doc:"the trial, where from is 0"`
	Edits  []jobfile.Edit `json:"edits" maxItems:"500"`
	Units  string         `json:"units" enum:"metric,imperial,mixed"`
	From   int            `json:"from" minimum:"0" doc:"revision; 0 for the trial"`
	To     int            `json:"to" minimum:"1" doc:"revision"`
	Builds []string       `json:"builds,omitempty" maxItems:"100" doc:"only these"`
}

// WayBack is what differs between two states, and how to bring the car from one
// to the other.
type WayBack struct {
	From     string          `json:"from"`
	To       string          `json:"to"`
	Lines    []pastjobs.Line `json:"lines" doc:"all that differs"`
	Turns    []WayTurn       `json:"turns"`
	Cautions []string        `json:"cautions" doc:"before the first turn"`
	After    []string        `json:"after" doc:"to be looked at when all is done"`
	Record   []pastjobs.Line `json:"record" doc:"what differs on paper only"`
	Edits    []jobfile.Edit  `json:"edits" doc:"that put the builds of the trial as they were"`
	Refuse   string          `json:"refuse,omitempty" doc:"why there is no list of turns, or no edits"`
	Builds   []view.Choice   `json:"builds" doc:"that both states have"`
}

// WayTurn is one thing to do on the car.
type WayTurn struct {
	Order  int    `json:"order"`
	Kind   string `json:"kind"`
	Build  string `json:"build" doc:"its name"`
	Place  string `json:"place"`
	Text   string `json:"text"`
	From   string `json:"from"`
	To     string `json:"to"`
	Refuse string `json:"refuse,omitempty" doc:"why no figure is told"`
}

// RevisionName is a revision in words.
func RevisionName(r *store.Revision) string {
	return fmt.Sprintf("revision %d, %s, %s", r.Number, view.When(r.When), r.Who)
}

// WayOf shows what differs between two texts, and how to bring the car from the one to
// the other.
func WayOf(ctx context.Context, d *view.Desk, now, then []byte, system quantity.System, builds []string) (*WayBack, error) {
	out := &WayBack{}
	out.Lines = pastjobs.Lines(jobfile.Differ(now, then))
	out.Turns, out.Cautions, out.After, out.Record, out.Edits, out.Builds = []WayTurn{}, []string{}, []string{}, []pastjobs.Line{}, []jobfile.Edit{}, []view.Choice{}
	w, err := pastjobs.WayBack(now, then, system, builds...)
	var faults *jobfile.Faults
	if errors.As(err, &faults) {
		out.Refuse = view.Cut("One of the two is no whole job, so no turn can be told: "+faults.Error(), 600)
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	names := buildNames(now)
	before := buildNames(then)
	for _, id := range slices.Sorted(maps.Keys(names)) {
		if _, both := before[id]; both {
			out.Builds = append(out.Builds, view.Choice{Value: id, Label: names[id]})
		}
	}
	for i := range w.Turns {
		t := &w.Turns[i]
		out.Turns = append(out.Turns, WayTurn{
			Order: t.Order, Kind: t.Kind, Build: cmp.Or(names[t.Build], t.Build), Place: t.Place, Text: t.Text, From: t.From, To: t.To, Refuse: t.Refuse,
		})
	}
	out.Cautions, out.After, out.Record = view.Listed(w.Cautions), view.Listed(w.After), view.Listed(w.Record)
	if len(w.Edits) == 0 {
		return out, nil
	}
	edits, ok := wayEdits(ctx, d, now, w, system)
	if !ok {
		out.Refuse = "The values cannot be loaded into the trial one by one; restore the whole revision instead."
		return out, nil
	}
	out.Edits = edits
	return out, nil
}

// buildNames are the builds of a text by their ids.
func buildNames(text []byte) map[string]string {
	out := map[string]string{}
	for _, f := range jobfile.Fields(text) {
		words := strings.Split(f.Path, ".")
		if words[0] != "builds" || len(words) < 3 {
			continue
		}
		if out[words[1]] == "" {
			out[words[1]] = words[1]
		}
		if len(words) == 3 && words[2] == "name" {
			out[words[1]] = f.Typed
		}
	}
	return out
}

// wayEdits are the edits of the page that make of a text what a way back says.
// They are made here first: those that come out otherwise are not offered. Where
// value by value does not do, a build is put back whole.
func wayEdits(ctx context.Context, d *view.Desk, now []byte, w *pastjobs.Way, system quantity.System) ([]jobfile.Edit, bool) {
	var parts, values, wholes []jobfile.Edit
	whole := map[string]bool{}
	for _, d := range w.Edits {
		words := strings.SplitN(d.Path, ".", 4)
		deep := map[string]int{"parts": 3, "builds": 2}[words[0]]
		if deep > 0 && len(words) >= deep {
			above := strings.Join(words[:deep], ".")
			_, err := jobfile.Piece(now, above)
			if !whole[above] && (words[0] == "builds" || err != nil) {
				whole[above] = true
				piece, perr := jobfile.Piece(w.Text, above)
				if perr != nil {
					return nil, false
				}
				e := jobfile.Edit{Path: above, Value: new(piece), Label: wording.Label(above)}
				if words[0] == "parts" {
					parts = append(parts, e)
				} else {
					wholes = append(wholes, e)
				}
			}
			if err != nil {
				continue // it came with the whole
			}
		}
		e := jobfile.Edit{Path: d.Path, Label: wording.Label(d.Path)}
		if d.To != "" {
			e.Value = new(d.To)
		}
		values = append(values, e)
	}
	for _, list := range [][]jobfile.Edit{append(slices.Clone(parts), values...), append(slices.Clone(parts), wholes...)} {
		ed := d.Edited(ctx, now, list, system)
		if len(ed.Faults) == 0 && len(jobfile.Differ(ed.Text, w.Text)) == 0 && len(list) <= mostEdits {
			return list, true
		}
	}
	return nil, false
}

// mostEdits is how many a try takes.
const mostEdits = 500
