package symptom

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/finding"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Change is the first change that is proposed.
type Change struct {
	Text string `json:"text"` // what to do, with its size on this car
	// Computed says that it was put through the same study: Then, Betters and
	// Worsens are what came of it.
	Computed bool     `json:"computed"`
	Then     []string `json:"then"` // the cause's own figures, before and after
	Betters  []string `json:"betters"`
	Worsens  []string `json:"worsens"`
	Edits    []Edit   `json:"edits"` // of the job, that do the same; nil where parts must be chosen
	Back     string   `json:"back"`  // how to undo it; empty: as the cause says
}

// Edit is a value of the job to be put at a path.
type Edit struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

// mender finds the first change that this car allows.
type mender struct {
	ctx      context.Context
	scene    *scene
	tell     *wording.Teller
	cause    *cause
	findings []finding.Finding
	again    []car.Load
}

// trial is a changed build and how it is told.
type trial struct {
	build *car.Build
	text  string
	back  string
	edits []Edit
}

// base is the build as it is.
func (m *mender) base() *car.Build {
	for _, b := range m.scene.was.Job.Builds {
		if b.ID == m.scene.build {
			return b
		}
	}
	return nil
}

func axleWords(axles []int) string {
	if len(axles) == 2 {
		return "front and rear"
	}
	return car.AxleNames[axles[0]]
}

func (m *mender) path(rest string) string { return "builds." + m.scene.build + "." + rest }

// spot is where a part is changed: at both corners of an axle that are alike, or at
// one.
type spot struct {
	corners []int
}

// spots are those of an axle.
func spots(axle int, alike bool) []spot {
	if l := 2 * axle; !alike {
		return []spot{{[]int{l}}, {[]int{l + 1}}}
	} else {
		return []spot{{[]int{l, l + 1}}}
	}
}

func (s spot) sided() bool { return len(s.corners) == 1 }

// name is "front", or "front left".
func (s spot) name() string {
	if s.sided() {
		return wording.Corner(s.corners[0])
	}
	return car.AxleNames[car.AxleOf(s.corners[0])]
}

// key is where a job says what is there: "front", or "front.left".
func (s spot) key() string { return strings.ReplaceAll(s.name(), " ", ".") }

func (s spot) change(b *car.Build, f func(p *car.BuildCorner)) {
	if s.sided() {
		f(&b.Corner[s.corners[0]])
		return
	}
	b.Both(car.AxleOf(s.corners[0]), f)
}

// put makes the edits of a value at a spot; what both sides get goes over what one has
// of its own.
func (m *mender) put(t *trial, s spot, path, value string) {
	paths := []string{m.path(path)}
	if !s.sided() && m.scene.bothSides != nil {
		paths = m.scene.bothSides(paths[0])
	}
	for _, p := range paths {
		t.edits = append(t.edits, Edit{p, value})
	}
}

// alike says that both sides get the same, where no spot is one side's.
func alike(any []spot) string {
	if slices.ContainsFunc(any, spot.sided) {
		return ""
	}
	return ", left and right alike"
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

func (m *mender) length(v float64) string {
	return quantity.Format(v, quantity.Length, m.tell.System, 0)
}

// sentence begins a text with a capital and ends it with a stop.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	r := []rune(text)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
