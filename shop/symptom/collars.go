package symptom

import (
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// platforms moves collars by so much at each corner [m], within their thread.
func (m *mender) platforms(t *trial, by [4]float64, axles []int) *trial {
	var turned, back []string
	for i := range 4 {
		if by[i] == 0 {
			continue
		}
		p := t.build.Corner[i].Platform
		if p == nil || t.build.Setup.WantedHeight[i].Known() {
			return nil
		}
		in := &t.build.Setup.Platform[i]
		key := "platform"
		if p.Kind == "body" {
			in, key = &t.build.Setup.BodyLength[i], "body_length"
		}
		c := scales.Turned(p, by[i])
		if c.Turns == 0 {
			return nil
		}
		in.Value += c.Move
		if p.Up.Known() && in.Value > p.Up.Value+1e-9 || p.Down.Known() && in.Value < -p.Down.Value-1e-9 {
			return nil
		}
		m.turned(t, i, &c, in, key, &turned, &back)
	}
	if len(turned) == 0 {
		return nil
	}
	t.text = sentence("collars: " + strings.Join(turned, "; "))
	t.back = sentence("back: " + strings.Join(back, "; "))
	return t
}

var cornerKeys = [4]string{"front_left", "front_right", "rear_left", "rear_right"}

// turned tells the turn of one collar, and how to set it in the job.
func (m *mender) turned(t *trial, corner int, c *scales.Collar, in *figure.Input, key string, turned, back *[]string) {
	if !in.Known() {
		in.Origin = figure.Chosen
	}
	other := c.Back()
	*turned = append(*turned, wording.Corner(corner)+" "+m.tell.ScalesTurn(c))
	*back = append(*back, wording.Corner(corner)+" "+m.tell.ScalesTurn(&other))
	t.edits = append(t.edits, Edit{m.path("setup." + key + "." + cornerKeys[corner]), quantity.Format(in.Value, quantity.Length, quantity.Metric, 2)})
}

// levelled turns the collars as a session on the scales asks for.
func (m *mender) levelled(t *trial) *trial {
	plan := m.scene.level(m.scene.build)
	if plan == nil {
		return nil
	}
	var turned, back []string
	for i := range plan.Collar {
		c := plan.Collar[i]
		p := t.build.Corner[i].Platform
		if p == nil || c.Turns == 0 {
			continue
		}
		if t.build.Setup.WantedHeight[i].Known() {
			return nil
		}
		in, key := &t.build.Setup.Platform[i], "platform"
		if p.Kind == string(scales.Body) {
			in, key = &t.build.Setup.BodyLength[i], "body_length"
		}
		in.Value += c.Move
		c.Held = ""
		m.turned(t, i, &c, in, key, &turned, &back)
	}
	if len(turned) == 0 {
		return nil
	}
	t.text = sentence("collars, as on the scales: " + strings.Join(turned, "; "))
	t.back = sentence("back: " + strings.Join(back, "; "))
	return t
}
