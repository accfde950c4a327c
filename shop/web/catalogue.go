package web

import (
	"context"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// Part is an entry of the catalogue.
type Part struct {
	ID       string `json:"id"`
	Kind     string `json:"kind"`
	Name     string `json:"name"`
	Line     string `json:"line"`
	Source   string `json:"source"`
	Date     string `json:"date"`
	Stock    string `json:"stock"`
	Text     string `json:"text"`
	Revision int    `json:"revision"`
	Price    string `json:"price,omitempty"`
	// Withdrawn: no longer offered; kept for the jobs that name it.
	Withdrawn bool   `json:"withdrawn"`
	Who       string `json:"who"`
	Why       string `json:"why"`
}

// Parts is a list of the catalogue.
type Parts struct {
	Parts []Part `json:"parts"`
}

func partOf(p store.Part) Part {
	return Part{
		ID: p.Kind + ":" + p.Slug, Kind: p.Kind, Name: p.Name, Line: partLine(p), Source: p.Source, Date: p.Dated, Stock: p.Stock, Text: p.Text, Revision: p.Revision,
		Withdrawn: p.Withdrawn, Who: p.Who, Why: p.Why,
	}
}

func (s *Server) catalogue(ctx context.Context, _ store.Person, in *struct {
	Kind   string `query:"kind" maxLength:"40"`
	Search string `query:"search" maxLength:"200"`
	All    bool   `query:"all" doc:"those too that are no longer offered"`
},
) (*body[Parts], error) {
	list, err := s.store.Parts(ctx, store.PartQuery{Kind: in.Kind, Text: in.Search, Withdrawn: in.All})
	out := Parts{Parts: []Part{}}
	for _, p := range list {
		out.Parts = append(out.Parts, partOf(p))
	}
	return answer(out), err
}

// PartRequest is a part to be saved.
type PartRequest struct {
	Kind      string `json:"kind" enum:"spring,damper,stop,mount,platform,tyre,wheel"`
	Slug      string `json:"slug" maxLength:"80"`
	Name      string `json:"name" maxLength:"200"`
	Text      string `json:"text" maxLength:"200000"`
	Source    string `json:"source" maxLength:"300"`
	Date      string `json:"date" maxLength:"10"`
	Stock     string `json:"stock" maxLength:"300"`
	Withdrawn bool   `json:"withdrawn,omitempty"`
	Revision  int    `json:"revision" minimum:"0"`
	Why       string `json:"why" maxLength:"300"`
	Who       string `json:"who,omitempty" maxLength:"100"`
}

func (s *Server) savePart(ctx context.Context, who store.Person, in *struct{ Body PartRequest }) (*body[Part], error) {
	b := in.Body
	p, err := s.store.SavePart(ctx, store.Part{
		Kind: b.Kind, Slug: b.Slug, Name: b.Name, Text: b.Text, Source: b.Source, Dated: b.Date, Stock: b.Stock, Withdrawn: b.Withdrawn,
		Revision: b.Revision, Who: s.nameOf(who, b.Who), Why: b.Why,
	})
	return answer(partOf(p)), err
}

// Preset is the workshop's own build for a type of car.
type Preset struct {
	ID       string `json:"id"`
	Car      string `json:"car"`
	Name     string `json:"name"`
	Text     string `json:"text"`
	Revision int    `json:"revision"`
	When     string `json:"when"`
	Who      string `json:"who"`
}

// Presets is a list of presets.
type Presets struct {
	Presets []Preset `json:"presets"`
}

func (s *Server) presetOf(p store.Preset) Preset {
	return Preset{ID: p.Slug, Car: p.Car, Name: p.Name, Text: p.Text, Revision: p.Revision, When: view.When(p.When), Who: p.Who}
}

func (s *Server) presets(ctx context.Context, _ store.Person, in *struct {
	Car string `query:"car" maxLength:"200"`
},
) (*body[Presets], error) {
	list, err := s.store.Presets(ctx, in.Car)
	out := Presets{Presets: []Preset{}}
	for _, p := range list {
		out.Presets = append(out.Presets, s.presetOf(p))
	}
	return answer(out), err
}

// PresetRequest is a preset to be saved.
type PresetRequest struct {
	ID        string `json:"id" maxLength:"80"`
	Car       string `json:"car" maxLength:"200"`
	Name      string `json:"name" maxLength:"200"`
	Text      string `json:"text" maxLength:"200000"`
	Withdrawn bool   `json:"withdrawn,omitempty"`
	Revision  int    `json:"revision" minimum:"0"`
	Why       string `json:"why" maxLength:"300"`
	Who       string `json:"who,omitempty" maxLength:"100"`
}

func (s *Server) savePreset(ctx context.Context, who store.Person, in *struct{ Body PresetRequest }) (*body[Preset], error) {
	b := in.Body
	p, err := s.store.SavePreset(ctx, store.Preset{
		Slug: b.ID, Car: b.Car, Name: b.Name, Text: b.Text, Withdrawn: b.Withdrawn, Revision: b.Revision, Who: s.nameOf(who, b.Who), Why: b.Why,
	})
	return answer(s.presetOf(p)), err
}

// Difference is one place at which a build is not as the preset says.
type Difference struct {
	Path   string `json:"path"`
	Label  string `json:"label"`
	Preset string `json:"preset"`
	Job    string `json:"job"`
}

// Differences are all of them; none where the build is as the preset says.
type Differences struct {
	Differences []Difference `json:"differences"`
}

func (s *Server) differences(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Preset string `query:"preset" required:"true" maxLength:"100"`
	Build  string `query:"build" required:"true" maxLength:"100"`
},
) (*body[Differences], error) {
	p, err := s.store.Preset(ctx, in.Preset)
	if err != nil {
		return nil, err
	}
	r, err := s.store.Job(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	list, err := store.Differs(p, r.Text, in.Build)
	out := Differences{Differences: []Difference{}}
	for _, d := range list {
		out.Differences = append(out.Differences, Difference{Path: d.Path, Label: wording.Label("builds." + in.Build + "." + d.Path), Preset: d.Preset, Job: d.Job})
	}
	return answer(out), err
}

// partLine is a part of the catalogue in one line.
func partLine(p store.Part) string {
	piece, err := jobfile.OnOneLine(p.Text)
	if err != nil {
		return ""
	}
	piece = strings.NewReplacer("{", "", "}", "", "'", "", "[", "", "]", "", "_", " ").Replace(piece)
	return view.Cut(piece, 160)
}
