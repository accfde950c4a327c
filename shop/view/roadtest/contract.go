package roadtest

import (
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// Request is a log of a drive, what it does not say, and the build it is of.
type Request struct {
	view.TryRequest
	File    intake.SweepFile  `json:"file"`
	Mapping intake.LogMapping `json:"mapping"`
	Build   string            `json:"build" maxLength:"100" doc:"that was driven; empty: nobody said"`
}

// View is a log beside its prediction.
type View struct {
	Ms        int             `json:"ms"`
	Faults    []jobfile.Fault `json:"faults" doc:"of the job"`
	Refused   string          `json:"refused,omitempty" doc:"why nothing was compared"`
	Unread    []string        `json:"unread" doc:"what of the log cannot be read, where, and what to do"`
	Questions []Question      `json:"questions" doc:"what the log does not say"`
	Basis     []string        `json:"basis" doc:"what was understood"`
	Roles     []view.Choice   `json:"roles" doc:"that a channel may have"`
	Build     string          `json:"build"`
	Builds    []view.Choice   `json:"builds"`
	Channels  []Channel       `json:"channels"`
	Headline  string          `json:"headline"`
	Verdict   string          `json:"verdict" enum:"clear,close,over,unknown"`
	Wrong     []string        `json:"wrong" doc:"channels that are not what they are said to be, and what to do"`
	Outside   []Figure        `json:"outside" doc:"the furthest first"`
	Inside    []Figure        `json:"inside"`
	Travel    []view.Chart    `json:"travel" doc:"share of time over damper travel, predicted and measured, corner by corner"`
	Velocity  []view.Chart    `json:"velocity" doc:"the same over damper speed"`
	Roads     []string        `json:"roads" doc:"stretch by stretch"`
	Offers    []Offer         `json:"offers"`
	Note      string          `json:"note"`
}

// Question is something the log does not say.
type Question struct {
	Code    string        `json:"code" enum:"decimal,rate,role,unit,gain,sign,zero,rest,along"`
	About   string        `json:"about"`
	Text    string        `json:"text"`
	Points  string        `json:"points" doc:"the choice that the file speaks for"`
	Choices []view.Choice `json:"choices"`
	Typed   string        `json:"typed" doc:"what may be typed instead; empty: nothing"`
}

// Channel is one channel with its grade.
type Channel struct {
	Name    string `json:"name"`
	Rate    string `json:"rate"`
	Floor   string `json:"floor"`
	Found   string `json:"found"`
	Grade   string `json:"grade"`
	Verdict string `json:"verdict" enum:"clear,close,over"`
}

// Figure is one figure beside its prediction.
type Figure struct {
	Name      string `json:"name"`
	Where     string `json:"where"`
	Measured  string `json:"measured"`
	Predicted string `json:"predicted"`
}

// Offer is a correction that the log speaks for.
type Offer struct {
	Name     string         `json:"name"`
	Title    string         `json:"title"`
	Change   string         `json:"change" doc:"from what to what, with its band"`
	Why      string         `json:"why"`
	NotApart string         `json:"notApart,omitempty" doc:"what the log cannot tell from it"`
	Explains int            `json:"explains"`
	Left     int            `json:"left" doc:"figures outside with it"`
	Edits    []jobfile.Edit `json:"edits"`
	Unable   string         `json:"unable,omitempty"`
	Changes  []string       `json:"changes" doc:"what it does to the findings"`
}
