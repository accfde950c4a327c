package web

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"
	"time"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// HistoryLine is one change of a value.
type HistoryLine struct {
	Path  string `json:"path"`
	Label string `json:"label"`
	From  string `json:"from"`
	To    string `json:"to"`
	Kind  string `json:"kind" enum:"setup,part,reading,load,brief,handover,words"`
}

// HistoryEntry is a revision, or a note that was written beside one.
type HistoryEntry struct {
	ID       string        `json:"id"`
	Revision int           `json:"revision"`
	Who      string        `json:"who"`
	When     string        `json:"when"`
	Why      string        `json:"why,omitempty" doc:"of a revision"`
	Lines    []HistoryLine `json:"lines"`
	More     int           `json:"more,omitempty" doc:"changes that are not listed here"`
	Note     *NoteShown    `json:"note,omitempty"`
}

// History is all that happened to a job, the newest first.
type History struct {
	Newest  int            `json:"newest" doc:"revision"`
	Entries []HistoryEntry `json:"entries"`
}

// mostLines is how many changes of one revision are listed in the history; the
// difference of two revisions lists all. Chosen.
const mostLines = 12

func historyLines(list []jobfile.Difference) []HistoryLine { return shownLines(pastjobs.Lines(list)) }

func shownLines(list []pastjobs.Line) []HistoryLine {
	out := make([]HistoryLine, len(list))
	for i, l := range list {
		out[i] = HistoryLine{Path: l.Path, Label: l.Label, From: l.From, To: l.To, Kind: l.Kind}
	}
	return out
}

func (s *Server) history(ctx context.Context, _ store.Person, in *JobPath) (*body[*History], error) {
	steps, err := s.store.Steps(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	notes, err := s.store.FindNotes(ctx, store.NoteQuery{Job: in.ID})
	if err != nil {
		return nil, err
	}
	out := &History{Entries: []HistoryEntry{}}
	type entry struct {
		at time.Time
		HistoryEntry
	}
	list := make([]entry, 0, len(steps)+len(notes))
	for i := range steps {
		st := &steps[i]
		lines := historyLines(st.Changes)
		e := entry{st.When, HistoryEntry{ID: fmt.Sprintf("r%d", st.Number), Revision: st.Number, Who: st.Who, When: view.When(st.When), Why: st.Why, Lines: lines}}
		if len(lines) > mostLines {
			e.Lines, e.More = lines[:mostLines], len(lines)-mostLines
		}
		list = append(list, e)
		out.Newest = max(out.Newest, st.Number)
	}
	for i := range notes {
		n := s.noteShown(&notes[i])
		list = append(list, entry{notes[i].Saved, HistoryEntry{ID: "n" + n.ID, Revision: n.Revision, Who: n.Who, When: n.When, Lines: []HistoryLine{}, Note: &n}})
	}
	// A note stands above the revision that it was written beside, whatever a clock
	// says that was set back.
	slices.SortStableFunc(list, func(a, b entry) int {
		noted := func(e *entry) int {
			if e.Note != nil {
				return 1
			}
			return 0
		}
		return -cmp.Or(cmp.Compare(a.Revision, b.Revision), cmp.Compare(noted(&a), noted(&b)), a.at.Compare(b.at))
	})
	for i := range list {
		out.Entries = append(out.Entries, list[i].HistoryEntry)
	}
	return answer(out), nil
}

// WayRequest names two states of a job.
type WayRequest struct {
	Text   string         `json:"text,omitempty" maxLength:"2097152" doc:"what is on the desk, where from is 0"`
	Edits  []jobfile.Edit `json:"edits" maxItems:"500"`
	Units  string         `json:"units" enum:"metric,imperial,mixed"`
	From   int            `json:"from" minimum:"0" doc:"revision; 0 for what is on the desk"`
	To     int            `json:"to" minimum:"1" doc:"revision"`
	Builds []string       `json:"builds,omitempty" maxItems:"100" doc:"only these"`
}

// WayBack is what differs between two states, and how to bring the car from one
// to the other.
type WayBack struct {
	From     string         `json:"from"`
	To       string         `json:"to"`
	Lines    []HistoryLine  `json:"lines" doc:"all that differs"`
	Turns    []WayTurn      `json:"turns"`
	Cautions []string       `json:"cautions" doc:"before the first turn"`
	After    []string       `json:"after" doc:"to be looked at when all is done"`
	Record   []HistoryLine  `json:"record" doc:"what differs on paper only"`
	Edits    []jobfile.Edit `json:"edits" doc:"that put the builds on the desk as they were"`
	Refuse   string         `json:"refuse,omitempty" doc:"why there is no list of turns, or no edits"`
	Builds   []view.Choice  `json:"builds" doc:"that both states have"`
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

func (s *Server) way(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Body WayRequest
},
) (*body[*WayBack], error) {
	b := in.Body
	system, err := wording.System(b.Units)
	if err != nil {
		return nil, err
	}
	then, err := s.store.Revision(ctx, in.ID, b.To)
	if err != nil {
		return nil, err
	}
	out := &WayBack{To: s.revisionName(&then), From: "what is on the desk"}
	var now []byte
	if b.From == 0 {
		if b.Text == "" {
			return nil, problem(http.StatusUnprocessableEntity, "what is on the desk is due, or a revision to start from")
		}
		now = s.tries.TextOf(ctx, &view.TryRequest{Text: b.Text, Edits: b.Edits, Units: b.Units})
	} else {
		from, err := s.store.Revision(ctx, in.ID, b.From)
		if err != nil {
			return nil, err
		}
		now, out.From = from.Text, s.revisionName(&from)
	}
	return answer(out), s.fillWay(ctx, out, now, then.Text, system, b.Builds)
}

func (s *Server) revisionName(r *store.Revision) string {
	return fmt.Sprintf("revision %d, %s, %s", r.Number, view.When(r.When), r.Who)
}

func (s *Server) fillWay(ctx context.Context, out *WayBack, now, then []byte, system quantity.System, builds []string) error {
	out.Lines = historyLines(jobfile.Differ(now, then))
	out.Turns, out.Cautions, out.After, out.Record, out.Edits, out.Builds = []WayTurn{}, []string{}, []string{}, []HistoryLine{}, []jobfile.Edit{}, []view.Choice{}
	w, err := pastjobs.WayBack(now, then, system, builds...)
	var faults *jobfile.Faults
	if errors.As(err, &faults) {
		out.Refuse = cut("One of the two is no whole job, so no turn can be told: "+faults.Error(), 600)
		return nil
	}
	if err != nil {
		return problem(http.StatusUnprocessableEntity, err.Error())
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
	out.Cautions, out.After, out.Record = view.Listed(w.Cautions), view.Listed(w.After), shownLines(w.Record)
	if len(w.Edits) == 0 {
		return nil
	}
	edits, ok := s.wayEdits(ctx, now, w, system)
	if !ok {
		out.Refuse = "The values cannot be put on the desk one by one; go back to the whole revision instead."
		return nil
	}
	out.Edits = edits
	return nil
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
func (s *Server) wayEdits(ctx context.Context, now []byte, w *pastjobs.Way, system quantity.System) ([]jobfile.Edit, bool) {
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
				e := jobfile.Edit{Path: above, Value: view.Ref(piece), Label: wording.Label(above)}
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
			e.Value = view.Ref(d.To)
		}
		values = append(values, e)
	}
	for _, list := range [][]jobfile.Edit{append(slices.Clone(parts), values...), append(slices.Clone(parts), wholes...)} {
		ed := s.tries.Edited(ctx, now, list, system)
		if len(ed.Faults) == 0 && len(jobfile.Differ(ed.Text, w.Text)) == 0 && len(list) <= mostEdits {
			return list, true
		}
	}
	return nil, false
}

// mostEdits is how many a try takes.
const mostEdits = 500

// RemeasureRequest is what was measured at the end of a day.
type RemeasureRequest struct {
	view.TryRequest
	Build   string   `json:"build" maxLength:"100"`
	Heights []string `json:"heights" maxItems:"4" doc:"hub to arch, front left first, as typed"`
	Loads   []string `json:"loads" maxItems:"4" doc:"at the tyres"`
}

// Remeasured is that against the record.
type Remeasured struct {
	BuildName string          `json:"buildName"`
	State     string          `json:"state" doc:"what the record is of"`
	Record    []RecordLine    `json:"record"`
	Off       []RemeasureLine `json:"off"`
	Faults    []jobfile.Fault `json:"faults"`
}

// RecordLine is what a corner should measure.
type RecordLine struct {
	Corner string `json:"corner"`
	Height string `json:"height"`
	Load   string `json:"load"`
	From   string `json:"from"`
}

// RemeasureLine is one figure that was measured again.
type RemeasureLine struct {
	Corner string `json:"corner"`
	What   string `json:"what" enum:"height,load"`
	Over   bool   `json:"over" doc:"off by more than both bands together"`
	Text   string `json:"text"`
}

func (s *Server) remeasure(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Body RemeasureRequest
},
) (*body[*Remeasured], error) {
	b := in.Body
	seen, err := s.tries.Ask(ctx, &b.TryRequest, s.tries.Try)
	if err != nil {
		return nil, err
	}
	if seen.Job == nil {
		p := problem(http.StatusUnprocessableEntity, "the job cannot be read")
		p.Faults = seen.Faults
		return nil, p
	}
	record, err := pastjobs.RecordOf(seen.Job, b.Build, seen.Answer)
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	out := &Remeasured{BuildName: cmp.Or(buildNames(seen.Text)[b.Build], b.Build), State: "as it was weighed", Record: []RecordLine{}, Off: []RemeasureLine{}, Faults: []jobfile.Fault{}}
	if record.State != "" {
		out.State = seen.Teller.Load(record.State)
	}
	known := func(k pastjobs.Known, kind quantity.Kind) string {
		if !k.There {
			return quantity.Nothing
		}
		return quantity.Format(k.Value, kind, seen.System, quantity.Auto)
	}
	for i := range 4 {
		h, l := record.Height[i], record.Load[i]
		out.Record = append(out.Record, RecordLine{
			Corner: figure.CornerNames[i], Height: known(h, quantity.Length), Load: known(l, quantity.Mass), From: cmp.Or(h.From, l.From, "not on record"),
		})
	}
	read := func(list []string, kind quantity.Kind, what string) (four [4]figure.Input) {
		for i, typed := range list {
			typed = strings.TrimSpace(typed)
			if typed == "" {
				continue
			}
			t, err := quantity.Parse(typed, kind)
			if err != nil && !strings.ContainsFunc(typed, func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '"' }) {
				// A bare figure is in the unit that stands beside the field.
				t, err = quantity.Parse(typed+" "+quantity.Units(kind, seen.System), kind)
			}
			if err != nil {
				out.Faults = append(out.Faults, jobfile.Fault{
					Path: what + "." + figure.CornerNames[i], Got: typed, Want: "a " + what + " with its unit is due, such as " + map[string]string{"height": "352 mm", "load": "318 kg"}[what],
					Kind: jobfile.Warn,
				})
				continue
			}
			four[i] = figure.Input{Value: t.Value, Half: t.Half, Origin: figure.Measured, Typed: typed}
		}
		return four
	}
	heights, loads := read(b.Heights, quantity.Length, "height"), read(b.Loads, quantity.Mass, "load")
	for _, o := range pastjobs.Remeasure(record, heights, loads, seen.System) {
		out.Off = append(out.Off, RemeasureLine{Corner: figure.CornerNames[o.Corner], What: o.What, Over: o.Over, Text: o.Text})
	}
	return answer(out), nil
}

// NearestJobs are past jobs that are like this one.
type NearestJobs struct {
	Jobs  []NearJob `json:"jobs"`
	Of    int       `json:"of" doc:"jobs that could be compared"`
	Doubt string    `json:"doubt,omitempty"`
}

// NearJob is one of them.
type NearJob struct {
	ID       string   `json:"id"`
	Number   string   `json:"number"`
	Car      string   `json:"car"`
	Owner    string   `json:"owner"`
	Saved    string   `json:"saved"`
	Build    string   `json:"build"`
	Distance string   `json:"distance"`
	Why      []string `json:"why"`
	Became   []string `json:"became"`
	Left     bool     `json:"left" doc:"it was handed over"`
}

func (s *Server) nearest(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[*NearestJobs], error) {
	kept, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	system, err := wording.System(cmp.Or(in.Units, s.o.Units))
	if err != nil {
		return nil, err
	}
	out := &NearestJobs{Jobs: []NearJob{}}
	found, err := s.tries.Nearest(ctx, s.store, kept.Text, in.ID, nil, system)
	if err != nil {
		if job, _ := jobfile.ReadBytes(kept.Text, "job.yaml"); job == nil && ctx.Err() == nil {
			out.Doubt = "This job cannot be compared: it is not whole yet."
			return answer(out), nil
		}
		return nil, err
	}
	out.Of, out.Doubt = found.Of, found.Doubt
	for i := range found.Near {
		n := &found.Near[i]
		out.Jobs = append(out.Jobs, NearJob{
			ID: n.Job.ID, Number: n.Job.Number, Car: n.Job.Car, Owner: n.Job.Owner, Saved: view.When(n.Job.SavedAt), Build: n.Build,
			Distance: fmt.Sprintf("%.1f standard deviations away", n.Distance), Why: view.Listed(n.Why), Became: view.Listed(n.Became), Left: n.Left,
		})
	}
	return answer(out), nil
}
