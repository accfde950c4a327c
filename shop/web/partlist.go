package web

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/dampers"
	"trunnion/shop/wording"
)

// partListRoutes take lists of parts into the catalogue and write it out as one.
func (s *Server) partListRoutes() {
	route(s, op(http.MethodPost, "read-parts", "/api/catalogue/list", "Read a list of parts: what it holds, what it does not say, and with save into the catalogue", 200), access.Work, s.readParts)
	route(s, get("parts-file", "/api/catalogue/file", "The catalogue's parts of a kind as a file"), access.Read, s.partsFile)
}

// PartListRequest is a list of parts, and what it does not say.
type PartListRequest struct {
	desk.PartsAsk
	Partial bool   `json:"partial,omitempty" doc:"go on with the rows that can be read when some cannot"`
	Save    bool   `json:"save,omitempty"`
	Who     string `json:"who,omitempty" maxLength:"100"`
}

// PartList is a list of parts as the page shows it.
type PartList struct {
	Questions []PartListQuestion `json:"questions"`
	Faults    []string           `json:"faults"`
	Assumed   []string           `json:"assumed"`
	Parts     []PartListLine     `json:"parts" doc:"the first of them"`
	Count     int                `json:"count" doc:"of all that can be read"`
	Taken     string             `json:"taken" doc:"what taking it in does to the catalogue, or did"`
	Saved     bool               `json:"saved"`
}

// PartListQuestion is something a list does not say.
type PartListQuestion struct {
	Code    string           `json:"code"`
	About   string           `json:"about"`
	Text    string           `json:"text"`
	Choices []PartListChoice `json:"choices"`
	Columns []string         `json:"columns" doc:"first cell of each, where columns are asked for"`
}

// PartListChoice is an answer, and how it is called on a button.
type PartListChoice struct {
	Value string `json:"value"`
	Label string `json:"label"`
}

// PartListLine is a part of the list in one line.
type PartListLine struct {
	Name string `json:"name"`
	Line string `json:"line"`
}

// mostShownParts are as many as the page shows of a list before it is taken in. Chosen.
const mostShownParts = 200

func (s *Server) readParts(ctx context.Context, who store.Person, in *struct{ Body PartListRequest }) (*body[PartList], error) {
	got, err := s.tries.Parts(ctx, in.Body.PartsAsk)
	var bad *desk.AskError
	if errors.As(err, &bad) {
		return nil, problem(http.StatusUnprocessableEntity, view.Cut(err.Error(), 300))
	}
	if err != nil {
		return nil, err
	}
	out := partListOf(got)
	if len(got.Questions) > 0 || len(out.Parts) == 0 {
		return answer(out), nil
	}
	source := in.Body.Mapping.Source
	if source == "" {
		source = in.Body.File.Name
	}
	save := in.Body.Save && (len(got.Faults) == 0 || in.Body.Partial)
	took, err := s.store.TakeParts(ctx, got.Stock(view.Cut(source, 200), s.nameOf(who, in.Body.Who)), !save)
	if err != nil {
		return nil, err
	}
	out.Saved, out.Taken = save, wording.PartsTaken(took.New, took.Changed, took.Same, save)
	return answer(out), nil
}

func partListOf(got *desk.PartsListed) PartList {
	out := PartList{Questions: []PartListQuestion{}, Faults: []string{}, Assumed: []string{}, Parts: []PartListLine{}, Count: len(got.PartsList.Parts)}
	for i := range got.Questions {
		q := &got.Questions[i]
		one := PartListQuestion{Code: q.Code, About: q.About, Text: wording.PartsAsks(q.Code, q.About, q.Seen), Choices: []PartListChoice{}, Columns: []string{}}
		for _, c := range q.Choices {
			label := wording.PartsAnswer(q.Code, c)
			if q.Code == "columns" {
				label = wording.PartRole(c)
			}
			one.Choices = append(one.Choices, PartListChoice{c, label})
		}
		if q.Code == "columns" {
			one.Columns = strings.Split(q.Seen, " | ")
		}
		out.Questions = append(out.Questions, one)
	}
	for _, f := range got.Faults {
		out.Faults = append(out.Faults, wording.PartsFault(f.Line, f.Got, f.Want))
	}
	for _, a := range got.Assumptions {
		out.Assumed = append(out.Assumed, wording.PartsAssumed(a.Code, a.About, a.Value, a.Line))
	}
	for i := range got.PartsList.Parts {
		if i == mostShownParts {
			break
		}
		p := &got.PartsList.Parts[i]
		out.Parts = append(out.Parts, PartListLine{p.Name, partLine(store.Part{Text: p.Text})})
	}
	return out
}

func (s *Server) partsFile(ctx context.Context, _ store.Person, in *struct {
	Kind   string `query:"kind" enum:"spring,damper,stop,mount,platform,tyre,wheel"`
	Format string `query:"format" enum:"csv,xlsx"`
},
) (*body[dampers.File], error) {
	parts, err := s.store.Parts(ctx, store.PartQuery{Kind: in.Kind})
	if err != nil {
		return nil, err
	}
	var file bytes.Buffer
	media := "text/csv"
	if in.Format == "xlsx" {
		media = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	}
	_, err = desk.WriteParts(&file, parts, in.Kind, in.Format, s.o.Version, s.o.Now().Format(time.DateOnly))
	return answer(dampers.File{Name: "catalogue-" + in.Kind + "s." + in.Format, Media: media, Data: file.Bytes()}), err
}
