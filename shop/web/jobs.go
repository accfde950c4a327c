package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
	"trunnion/shop/view/order"
	"trunnion/shop/wording"
)

// JobLine is a job in the list.
type JobLine struct {
	ID        string `json:"id"`
	Number    string `json:"number"`
	Car       string `json:"car"`
	Owner     string `json:"owner"`
	Plate     string `json:"plate"`
	Changed   string `json:"changed"`
	ChangedBy string `json:"changedBy"`
	Builds    int    `json:"builds"`
	Worst     Worst  `json:"worst"`
	Demo      bool   `json:"demo"`
	Draft     bool   `json:"draft"`
	Matched   string `json:"matched,omitempty"`
}

// JobList is a page of jobs.
type JobList struct {
	Jobs  []JobLine `json:"jobs"`
	Total int       `json:"total"`
}

// DemoJob is the id of the job that every workshop begins with.
const DemoJob = "demo"

func (s *Server) jobs(ctx context.Context, who store.Person, in *struct {
	Search string `query:"search" maxLength:"200"`
	Limit  int    `query:"limit" minimum:"0" maximum:"500" default:"50"`
	Offset int    `query:"offset" minimum:"0" maximum:"10000000"`
},
) (*body[JobList], error) {
	page, err := s.store.Find(ctx, store.Query{Text: in.Search, Limit: in.Limit, Offset: in.Offset})
	if err != nil {
		return nil, err
	}
	drafts, err := s.store.Drafts(ctx, s.nameOf(who, ""))
	if err != nil {
		return nil, err
	}
	drafted := map[string]bool{}
	for _, d := range drafts {
		drafted[d.Job] = true
	}
	out := JobList{Jobs: []JobLine{}, Total: page.Total}
	for i := range page.Hits {
		h := &page.Hits[i]
		line := JobLine{
			ID: h.ID, Number: h.Number, Car: h.Car, Owner: h.Owner, Plate: h.Plate, Changed: view.When(h.SavedAt), ChangedBy: h.Who,
			Demo: h.ID == DemoJob, Draft: drafted[h.ID],
		}
		line.Builds, line.Worst = s.worst.of(h.ID, h.SHA256)
		if len(h.Found) > 0 {
			line.Matched = h.Found[0].Kind + ": " + h.Found[0].Text
		}
		out.Jobs = append(out.Jobs, line)
	}
	return answer(out), nil
}

// Job is a job as it was last saved.
type Job struct {
	ID       string     `json:"id"`
	Revision int        `json:"revision"`
	Number   string     `json:"number"`
	Text     string     `json:"text"`
	Draft    *DraftBody `json:"draft,omitempty"`
	SavedAt  string     `json:"savedAt"`
	SavedBy  string     `json:"savedBy"`
}

type jobAnswer struct {
	ETag string `header:"ETag"`
	Body Job
}

func (s *Server) answerJob(r store.Revision) *jobAnswer {
	info, _ := jobInfo(r.Text)
	return &jobAnswer{ETag: etag(r.Number), Body: Job{ID: r.Job, Revision: r.Number, Number: info, Text: string(r.Text), SavedAt: view.When(r.When), SavedBy: r.Who}}
}

func etag(revision int) string { return `"` + strconv.Itoa(revision) + `"` }

// jobInfo is the job's own number, read without judging the rest.
func jobInfo(text []byte) (number string, err error) {
	piece, err := jobfile.Piece(text, "job.number")
	return strings.Trim(piece, `'"`), err
}

func (s *Server) job(ctx context.Context, who store.Person, in *JobPath) (*jobAnswer, error) {
	r, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	out := s.answerJob(r)
	d, err := s.store.Draft(ctx, s.nameOf(who, ""), in.ID)
	var absent *store.NotFound
	switch {
	case errors.As(err, &absent):
	case err != nil:
		return nil, err
	default:
		out.Body.Draft = draftOf(d)
	}
	return out, nil
}

// DraftBody is what somebody typed and did not save.
type DraftBody struct {
	Revision int            `json:"revision" minimum:"0"`
	Edits    []jobfile.Edit `json:"edits" maxItems:"5000"`
	Undone   []jobfile.Edit `json:"undone" maxItems:"5000"`
	At       string         `json:"at" maxLength:"60"`
}

func draftOf(d store.Draft) *DraftBody {
	var out DraftBody
	if json.Unmarshal(d.Text, &out) != nil {
		return nil
	}
	if out.Edits == nil {
		out.Edits = []jobfile.Edit{}
	}
	if out.Undone == nil {
		out.Undone = []jobfile.Edit{}
	}
	return &out
}

func (s *Server) draft(ctx context.Context, who store.Person, in *JobPath) (*body[DraftBody], error) {
	d, err := s.store.Draft(ctx, s.nameOf(who, ""), in.ID)
	if err != nil {
		return nil, err
	}
	out := draftOf(d)
	if out == nil {
		return nil, &store.NotFound{What: "draft of job", ID: in.ID}
	}
	return answer(*out), nil
}

func (s *Server) keepDraft(ctx context.Context, who store.Person, in *struct {
	JobPath
	Body DraftBody
},
) (*nothing, error) {
	text, err := keptDraft(in.Body)
	if err != nil {
		return nil, err
	}
	if _, err := s.store.Head(ctx, in.ID); err != nil {
		return nil, err // a draft is of a job that is there
	}
	_, err = s.store.SaveDraft(ctx, store.Draft{Person: s.nameOf(who, ""), Job: in.ID, Base: in.Body.Revision, Text: text})
	return nil, err
}

func (s *Server) dropDraft(ctx context.Context, who store.Person, in *JobPath) (*nothing, error) {
	return nil, s.store.DropDraft(ctx, s.nameOf(who, ""), in.ID)
}

// SaveRequest is a text with edits that becomes the next revision.
type SaveRequest struct {
	Text  string         `json:"text" maxLength:"2097152"`
	Edits []jobfile.Edit `json:"edits" maxItems:"5000"`
	Who   string         `json:"who" maxLength:"100"`
	Why   string         `json:"why" maxLength:"500"`
	ID    string         `json:"id,omitempty" maxLength:"64" doc:"a name of the page's own: a save that is sent again, because its answer was lost, is made once"`
}

func (s *Server) saveJob(ctx context.Context, who store.Person, in *struct {
	JobPath
	IfMatch string `header:"If-Match" required:"true" maxLength:"40" doc:"the revision that the text started from, in quotes"`
	Body    SaveRequest
},
) (*jobAnswer, error) {
	expected, err := strconv.Atoi(strings.Trim(strings.TrimPrefix(in.IfMatch, "W/"), `"`))
	if err != nil || expected < 1 {
		return nil, problem(http.StatusPreconditionRequired, "If-Match is the revision that was changed, such as \"7\"")
	}
	if err := s.mayAsk(ctx, who, in.ID, expected, in.Body.Text, in.Body.Edits); err != nil {
		return nil, err
	}
	text, err := s.edited(ctx, in.Body.Text, in.Body.Edits)
	if err != nil {
		return nil, err
	}
	if err := mayChange(who, []byte(in.Body.Text), text); err != nil {
		return nil, err
	}
	r, err := s.store.Save(ctx, store.Change{Job: in.ID, Expected: expected, Who: s.nameOf(who, in.Body.Who), Why: strings.TrimSpace(in.Body.Why), Text: text, Name: in.Body.ID})
	var conflict *store.Conflict
	if errors.As(err, &conflict) {
		return nil, s.conflict(conflict)
	}
	if err != nil {
		return nil, err
	}
	if name := s.nameOf(who, ""); name != r.Who {
		if err := s.store.DropDraft(ctx, name, in.ID); err != nil {
			s.log.Warn("a draft stays", "job", in.ID, "err", err)
		}
	}
	s.hub.tell(Saved{Job: in.ID, Revision: r.Number, Who: r.Who})
	return s.answerJob(r), nil
}

// edited is a text with edits made; all faults at once where one cannot be.
func (s *Server) edited(ctx context.Context, text string, edits []jobfile.Edit) ([]byte, error) {
	system, err := wording.System(s.o.Units)
	if err != nil {
		system = quantity.Metric
	}
	ed := s.tries.Edited(ctx, []byte(text), edits, system)
	if len(ed.Faults) > 0 {
		return nil, &jobfile.Faults{Name: "job", List: ed.Faults}
	}
	return ed.Text, nil
}

// conflict shows both versions and what differs.
func (s *Server) conflict(c *store.Conflict) *Problem {
	p := problem(http.StatusConflict, c.Error())
	p.Mine = &Version{Text: string(c.Yours.Text), Revision: c.Yours.Expected, Who: c.Yours.Who, Why: c.Yours.Why}
	p.Theirs = &Version{Text: string(c.Theirs.Text), Revision: c.Theirs.Number, Who: c.Theirs.Who, When: view.When(c.Theirs.When), Why: c.Theirs.Why}
	base := c.Theirs.Text
	if c.Base != nil {
		base = c.Base.Text
		p.Base = &Version{Text: string(base), Revision: c.Base.Number, Who: c.Base.Who, When: view.When(c.Base.When), Why: c.Base.Why}
	}
	for _, d := range jobfile.Disputes(base, c.Yours.Text, c.Theirs.Text) {
		p.Fields = append(p.Fields, Disputed{Path: d.Path, Label: wording.Label(d.Path), Base: d.Base, Mine: d.Mine, Theirs: d.Theirs, Same: d.Same})
	}
	return p
}

// Changed is a value that a revision changed.
type Changed struct {
	Label string `json:"label"`
	Was   string `json:"was"`
	Now   string `json:"now"`
}

// RevisionLine is one save of a job.
type RevisionLine struct {
	Revision int       `json:"revision"`
	Who      string    `json:"who"`
	When     string    `json:"when"`
	Why      string    `json:"why"`
	Changed  []Changed `json:"changed"`
}

// Revisions is the history of a job.
type Revisions struct {
	Revisions []RevisionLine `json:"revisions"`
}

// revisionsCompared is how many of the newest revisions are told value by value. Chosen.
const revisionsCompared = 25

func (s *Server) revisions(ctx context.Context, _ store.Person, in *JobPath) (*body[Revisions], error) {
	list, err := s.store.History(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	out := Revisions{Revisions: []RevisionLine{}}
	var newer []byte
	for i, r := range list {
		out.Revisions = append(out.Revisions, RevisionLine{Revision: r.Number, Who: r.Who, When: view.When(r.When), Why: r.Why, Changed: []Changed{}})
		if i > revisionsCompared {
			continue
		}
		full, err := s.store.Revision(ctx, in.ID, r.Number)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			line := &out.Revisions[i-1]
			for _, d := range jobfile.Differ(full.Text, newer) {
				line.Changed = append(line.Changed, Changed{Label: wording.Label(d.Path), Was: d.From, Now: d.To})
			}
		}
		newer = full.Text
	}
	return answer(out), nil
}

// RevisionText is the text of one revision.
type RevisionText struct {
	Text string `json:"text"`
}

func (s *Server) revision(ctx context.Context, _ store.Person, in *struct {
	JobPath
	N int `path:"n" minimum:"1"`
},
) (*body[RevisionText], error) {
	r, err := s.store.Revision(ctx, in.ID, in.N)
	return answer(RevisionText{Text: string(r.Text)}), err
}

func (s *Server) jobOrder(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[order.View], error) {
	r, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	units := in.Units
	if units == "" {
		units = s.o.Units
	}
	t, err := s.tries.Compared(ctx, &view.TryRequest{Text: string(r.Text), Units: units, Full: true}, nil)
	if err != nil {
		return nil, err
	}
	v, err := builds.Of(ctx, t)
	if err != nil {
		return nil, err
	}
	return answer(v.Order), nil
}

// CreateRequest is a new job, one of three ways.
type CreateRequest struct {
	Figures *Figures `json:"figures,omitempty"`
	Text    string   `json:"text,omitempty" maxLength:"2097152"`
	Name    string   `json:"name,omitempty" maxLength:"300" doc:"of the file"`
	FromJob string   `json:"fromJob,omitempty" maxLength:"100"`
	Who     string   `json:"who,omitempty" maxLength:"100"`
}

func (s *Server) createJob(ctx context.Context, who store.Person, in *struct{ Body CreateRequest }) (*jobAnswer, error) {
	b := in.Body
	name := s.nameOf(who, b.Who)
	var r store.Revision
	var err error
	switch {
	case b.Figures != nil:
		var text []byte
		if text, err = s.fromFigures(b.Figures); err == nil {
			r, err = s.store.Save(ctx, store.Change{Job: store.NewID(), Who: name, Why: "taken on the telephone", Text: text})
		}
	case b.FromJob != "":
		var from store.Revision
		if from, err = s.store.Job(ctx, b.FromJob); err == nil {
			text := from.Text
			if changed, cerr := jobfile.Put(text, "job.date", s.o.Now().Format(time.DateOnly)); cerr == nil {
				text = changed
			}
			r, err = s.store.Save(ctx, store.Change{Job: store.NewID(), Who: name, Why: fmt.Sprintf("a copy of job %s, revision %d", b.FromJob, from.Number), Text: text})
		}
	case b.Text != "":
		// A job that cannot be assessed yet is taken in as it stands: a text that is no job is not.
		if err = aJob([]byte(b.Text)); err == nil {
			r, err = s.store.Import(ctx, []byte(b.Text), name, "from the file "+view.Cut(plainName(b.Name), 120))
		}
	default:
		err = problem(http.StatusUnprocessableEntity, "a new job is made of figures, of a text, or from another job")
	}
	if err != nil {
		return nil, err
	}
	s.hub.tell(Saved{Job: r.Job, Revision: r.Number, Who: r.Who})
	return s.answerJob(r), nil
}

// aJob reports why a text is no job that can be opened and mended on the page; nil for one
// that can, whether it can be assessed or not.
func aJob(text []byte) error {
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job != nil || jobfile.Mendable(text) {
		return nil
	}
	return jobfile.AsError("job.yaml", faults)
}

// plainName is the last part of a file's name: it is shown and never opened.
func plainName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, name)
	if at := strings.LastIndexAny(name, `/\`); at >= 0 {
		name = name[at+1:]
	}
	if name == "" {
		return "without a name"
	}
	return name
}

// keptDraft is a draft as it is stored.
func keptDraft(d DraftBody) ([]byte, error) { return json.Marshal(d) }
