package view

import "trunnion/shop/jobfile"

// TryRequest is a job with changes that are tried and not saved.
type TryRequest struct {
	Text  string         `json:"text" maxLength:"2097152"`
	Edits []jobfile.Edit `json:"edits" maxItems:"500"`
	Units string         `json:"units" enum:"metric,imperial,mixed"`
	Load  string         `json:"load,omitempty" maxLength:"100"`
	Road  *RoadAsked     `json:"road,omitempty"`
	Event *int           `json:"event,omitempty" minimum:"0" maximum:"1000"`
	Speed string         `json:"speed,omitempty" maxLength:"60"`
	Full  bool           `json:"full,omitempty" doc:"answered as the command does: every draw, every road driven; without it at once, and bands are rough"`
	Run   string         `json:"run,omitempty" maxLength:"100" doc:"of a finished run on this very text: its full judgement is shown in place of a try"`
}

// RoadAsked is a road of the brief at a speed.
type RoadAsked struct {
	Name  string `json:"name" maxLength:"100"`
	Speed string `json:"speed" maxLength:"60"`
}

// Choice is something to pick.
type Choice struct {
	Value string `json:"value"`
	Label string `json:"label"`
	Group string `json:"group,omitempty" doc:"what it stands under in a list; empty for what is meant first"`
}
