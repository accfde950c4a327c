package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"trunnion/shop/access"
	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
)

// keepRoutes put what stands in a job into the workshop's own shelves, for the
// next car.
func (s *Server) keepRoutes() {
	route(s, op(http.MethodPost, "keep-part", "/api/catalogue/keep", "Keep a part of a job in the catalogue", 200), access.Work, s.keepPart)
	route(s, op(http.MethodPost, "keep-preset", "/api/presets/keep", "Keep a build of a job as a preset", 200), access.Work, s.keepPreset)
}

// KeepRequest is what of a job is kept.
type KeepRequest struct {
	Text   string         `json:"text" maxLength:"2097152"`
	Edits  []jobfile.Edit `json:"edits" maxItems:"500"`
	Units  string         `json:"units" enum:"metric,imperial,mixed"`
	Path   string         `json:"path" maxLength:"300" doc:"of the part in its build, builds.kit.front.spring, or of a build, builds.kit"`
	Name   string         `json:"name" maxLength:"200"`
	Car    string         `json:"car,omitempty" maxLength:"200" doc:"type of car that a preset is for"`
	Source string         `json:"source,omitempty" maxLength:"300" doc:"where a part's figures come from"`
	Why    string         `json:"why,omitempty" maxLength:"300"`
	Who    string         `json:"who,omitempty" maxLength:"100"`
}

// errNotKept says that nothing of the kind stands at a path.
var errNotKept = errors.New("nothing that can be kept stands there")

func (s *Server) keepPart(ctx context.Context, who store.Person, in *struct{ Body KeepRequest }) (*body[Part], error) {
	b := in.Body
	text := s.tries.TextOf(ctx, &view.TryRequest{Text: b.Text, Edits: b.Edits, Units: b.Units})
	key := b.Path[strings.LastIndexByte(b.Path, '.')+1:]
	section := jobfile.Sections[key]
	piece, err := jobfile.Piece(text, b.Path)
	if err != nil || section == "" {
		return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("%s: %v", b.Path, errNotKept))
	}
	slug := jobfile.IDFrom(b.Name)
	if !strings.HasPrefix(piece, "{") {
		// The build names a part of the job.
		id := strings.Trim(piece, `'"`)
		if piece, err = jobfile.Piece(text, "parts."+section+"."+id); err != nil {
			return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("parts.%s.%s: %v", section, id, errNotKept))
		}
		slug = id
	}
	p := store.Part{
		Kind: strings.TrimSuffix(section, "s"), Slug: slug, Name: strings.TrimSpace(b.Name), Text: piece, Source: b.Source,
		Dated: s.o.Now().Format("2006-01-02"), Who: s.nameOf(who, b.Who), Why: b.Why,
	}
	if p.Why == "" {
		p.Why = "kept from a job"
	}
	if old, err := s.store.Part(ctx, p.Kind, p.Slug); err == nil {
		if old.Text == p.Text && old.Name == p.Name && !old.Withdrawn {
			return answer(partOf(old)), nil
		}
		p.Revision, p.Stock = old.Revision, old.Stock
	}
	p, err = s.store.SavePart(ctx, p)
	return answer(partOf(p)), err
}

func (s *Server) keepPreset(ctx context.Context, who store.Person, in *struct{ Body KeepRequest }) (*body[Preset], error) {
	b := in.Body
	text := s.tries.TextOf(ctx, &view.TryRequest{Text: b.Text, Edits: b.Edits, Units: b.Units})
	id, ok := strings.CutPrefix(b.Path, "builds.")
	if !ok {
		return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("%s: %v", b.Path, errNotKept))
	}
	// What was read of it after fitting is one car's, and stays there.
	out, err := store.PresetOf(text, id)
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("%s: %v", b.Path, errNotKept))
	}
	p := store.Preset{Slug: jobfile.IDFrom(b.Car + " " + b.Name), Car: strings.TrimSpace(b.Car), Name: strings.TrimSpace(b.Name), Text: out, Who: s.nameOf(who, b.Who), Why: b.Why}
	if p.Why == "" {
		p.Why = "kept from a job"
	}
	if old, err := s.store.Preset(ctx, p.Slug); err == nil {
		if old.Text == p.Text && !old.Withdrawn {
			return answer(s.presetOf(old)), nil
		}
		p.Revision = old.Revision
	}
	p, err = s.store.SavePreset(ctx, p)
	return answer(s.presetOf(p)), err
}
