package jobfile

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
)

// Edit is one change of a job. Which keys stand in it says which kind it is.
type Edit struct {
	Path   string  `json:"path" maxLength:"2000"`
	Value  *string `json:"value,omitempty" nullable:"true" maxLength:"4000" doc:"what is typed there; null takes the key out"`
	Part   string  `json:"part,omitempty" maxLength:"200" doc:"id of the catalogue's part that is copied into the job and used at the path"`
	Move   string  `json:"move,omitempty" maxLength:"60" doc:"how far the static line is pulled at the wheel; minus is lower"`
	CopyOf string  `json:"copyOf,omitempty" maxLength:"100" doc:"build that the build at the path is a copy of"`
	Preset string  `json:"preset,omitempty" maxLength:"100" doc:"preset of the workshop that the build at the path is made of"`
	Name   string  `json:"name,omitempty" maxLength:"2000" doc:"of the copy"`
	Label  string  `json:"label,omitempty" maxLength:"2500" doc:"the page's own"`
	Step   int     `json:"step,omitempty" doc:"the page's own"`
}

// Applied is what an edit became.
type Applied struct {
	Path  string `json:"path"`
	Value string `json:"value"`
	Was   string `json:"was"`
	Label string `json:"label"`
	Note  string `json:"note,omitempty"`
}

// Stocked is a part of a catalogue, or a preset, as an edit copies it into a job.
type Stocked struct {
	Kind     string // of a part: "spring"
	Section  string // where a part stands in a job: "springs"; empty where no job holds it
	Slug     string // id of a part in a job
	Name     string
	Text     string // a part as it stands behind its id; a preset: parts and one build
	Revision int
}

// Shelf is where an editor finds the part or preset that an edit names.
type Shelf interface {
	StockedParts(ctx context.Context) ([]Stocked, error) // all that can be bought
	StockedPart(ctx context.Context, kind, slug string) (Stocked, error)
	StockedPreset(ctx context.Context, slug string) (Stocked, error)
}

// Ratios gives spring and damper travel per wheel travel [-] where the two sides of an
// axle of a build rest, left first. What is physics is asked of whoever has it.
type Ratios func(ctx context.Context, job *Job, build *car.Build, axle int) (spring, damper [2]float64, err error)

// Editor changes the text of a job edit by edit. An edit that cannot be made is a
// fault; the others stand.
type Editor struct {
	Text    []byte
	Applied []Applied
	Faults  []Fault

	System quantity.System          // in which what is moved is written
	Shelf  Shelf                    // nil: there is no catalogue
	Ratios Ratios                   // for edits that move a build; nil: they are refused
	Label  func(path string) string // what a path is called

	cut map[string]string // path of a build whose id was too long, by the path that was asked for
}

func (ed *Editor) refuse(path, got, want string) {
	ed.Faults = append(ed.Faults, Fault{Path: path, Got: got, Want: want, Kind: Refuse})
}

// owned reports whether the build, part or load state that a path leads into
// stands in the job: a slip of a name must not make a new one.
func (ed *Editor) owned(path string) bool {
	words := strings.Split(path, ".")
	deep := 2
	switch words[0] {
	case "parts":
		deep = 3
	case "builds", "loads":
	default:
		return true
	}
	if len(words) <= deep {
		return true
	}
	_, err := Piece(ed.Text, strings.Join(words[:deep], "."))
	return err == nil
}

// take keeps a changed text; the old one stays where the change failed.
func (ed *Editor) take(text []byte, err error) error {
	if err == nil {
		ed.Text = text
	}
	return err
}

func (ed *Editor) note(path, value, was, note string) {
	label := path
	if ed.Label != nil {
		label = ed.Label(path)
	}
	ed.Applied = append(ed.Applied, Applied{Path: path, Value: value, Was: was, Label: label, Note: note})
}

// at is what stands at a path, on one line; empty where nothing does.
func (ed *Editor) at(path string) string {
	piece, err := Piece(ed.Text, path)
	if err != nil {
		return ""
	}
	return strings.Trim(piece, `'"`)
}

// newBuild is the path under which a new build is put.
//
// A page makes ids of names, and a name may be longer than an id: such an id is
// cut to what a job takes, and later edits under the path that was asked for are
// led to the build.
func (ed *Editor) newBuild(path, want string) (string, error) {
	id, ok := strings.CutPrefix(path, "builds.")
	if !ok || id == "" || strings.ContainsAny(id, ".[") {
		return "", errors.New(want)
	}
	if len(id) <= mostID {
		if ed.at(path) != "" {
			return "", errors.New("a build of this id is there already")
		}
		return path, nil
	}
	for n := 1; ; n++ {
		tail := ""
		if n > 1 {
			tail = fmt.Sprintf("-%d", n)
		}
		to := "builds." + strings.TrimRight(id[:mostID-len(tail)], "-") + tail
		if ed.at(to) != "" {
			continue
		}
		if ed.cut == nil {
			ed.cut = map[string]string{}
		}
		ed.cut[path] = to
		return to, nil
	}
}

// shortened leads a path to the build whose id was cut.
func (ed *Editor) shortened(path string) string {
	for long, to := range ed.cut {
		if rest, ok := strings.CutPrefix(path, long); ok && (rest == "" || rest[0] == '.') {
			return to + rest
		}
	}
	return path
}
