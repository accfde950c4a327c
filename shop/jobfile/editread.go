package jobfile

import (
	"regexp"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// The keys of a build's readings that say where its seats stood when they were taken.
var seatReadingKeys = []string{"platform", "body_length", "heights", "seats_closer"}

// seatsOf reads where the seats stood when readings were taken; nil where they still
// stand so.
func seatsOf(r *entry) *car.Seats {
	for _, key := range seatReadingKeys {
		if r.at(key) != nil {
			return &car.Seats{
				Platform: cornersOf(r, "platform"), BodyLength: cornersOf(r, "body_length"),
				WantedHeight: cornersOf(r, "heights"), SeatsCloser: cornersOf(r, "seats_closer"),
			}
		}
	}
	return nil
}

// seatsTyped are the values of seats under those keys.
func seatsTyped(s *car.Seats) [4]*[4]figure.Input {
	return [4]*[4]figure.Input{&s.Platform, &s.BodyLength, &s.WantedHeight, &s.SeatsCloser}
}

// What of a build's text moves its seats, and what puts other parts under the car.
var (
	seatKeys = []string{"setup.platform", "setup.body_length", "setup.heights", "seats_closer"}
	partKeys = []string{"spring", "helper", "damper", "mount", "tyre", "wheel", "mounts_closer", "tyre_rate", "unsprung_more"}
)

// readBefore looks after the readings of builds that edits have changed: those of a
// build whose seats were turned keep where these stood before, as was has them, and
// those of other parts are taken out. It is the rule of car.Build's ReadAs, in text.
func (ed *Editor) readBefore(was []byte, edits []Applied) error {
	var before *Job
	for _, e := range edits {
		id, key, ok := buildKey(e.Path)
		readings := "builds." + id + ".readings"
		if !ok || ed.at(readings) == "" {
			continue
		}
		if before == nil {
			if before, _ = ReadBytes(was, "job.yaml"); before == nil {
				return nil // what cannot be read has neither parts nor seats
			}
		}
		switch {
		case samePart(before, id, e):
		case underAny(key, partKeys) || key == "mass":
			old := ed.at(readings)
			if err := ed.take(Remove(ed.Text, readings)); err != nil {
				return err
			}
			ed.note(readings, "", old, "they were taken before this change: read the car again once it is made")
		case underAny(key, seatKeys):
			if err := ed.keepSeats(before, id); err != nil {
				return err
			}
		}
	}
	return nil
}

// usedPart finds the part that a piece of a job is made of: "{use: kit-front, rate: 52 N/mm}".
var usedPart = regexp.MustCompile(`^\{use: ([^,}]+)[,}]`)

// samePart reports whether an edit tells more of the part that is fitted already: a rate
// that was found otherwise is no other spring.
func samePart(before *Job, id string, e Applied) bool {
	use := usedPart.FindStringSubmatch(e.Value)
	at := slices.IndexFunc(before.Builds, func(b *car.Build) bool { return b.ID == id })
	words := strings.Split(e.Path, ".")
	if use == nil || at < 0 || len(words) < 4 {
		return false
	}
	for i := range before.Builds[at].Corner {
		corner := &before.Builds[at].Corner[i]
		if words[2] != axleKeys[i/2] || slices.Contains(sideKeys, words[3]) && words[3] != sideKeys[i&1] {
			continue
		}
		switch fitted := strings.TrimSpace(use[1]); words[len(words)-1] {
		case "spring":
			if corner.Spring == nil || corner.Spring.ID != fitted {
				return false
			}
		case "damper":
			if corner.Damper == nil || corner.Damper.ID != fitted {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// keepSeats types where the seats of a build stood beside its readings, once.
func (ed *Editor) keepSeats(before *Job, id string) error {
	at := slices.IndexFunc(before.Builds, func(b *car.Build) bool { return b.ID == id })
	if at < 0 || before.Builds[at].Readings == nil || before.Builds[at].Readings.Seats != nil {
		return nil
	}
	seats := before.Builds[at].Seats()
	kept := false
	for k, values := range seatsTyped(&seats) {
		for i := range values {
			if !values[i].Known() {
				continue
			}
			kept = true
			if err := ed.take(Put(ed.Text, "builds."+id+".readings."+seatReadingKeys[k]+"."+cornerKeys[i], lengthTyped(&values[i]))); err != nil {
				return err
			}
		}
	}
	if kept {
		return nil
	}
	return ed.take(Insert(ed.Text, "builds."+id+".readings.platform", "[0 mm, 0 mm, 0 mm, 0 mm]"))
}

func lengthTyped(in *figure.Input) string {
	if in.Typed != "" {
		return in.Typed
	}
	return quantity.Format(in.Value, quantity.Length, quantity.Metric, quantity.Auto)
}

// buildKey takes a path into a build apart: its id and the key within, of an axle or a
// side of it alike.
func buildKey(path string) (id, key string, ok bool) {
	words := strings.Split(path, ".")
	if len(words) < 3 || words[0] != "builds" {
		return "", "", false
	}
	id, words = words[1], words[2:]
	if slices.Contains(axleKeys[:], words[0]) {
		words = words[1:]
		if len(words) > 0 && slices.Contains(sideKeys[:], words[0]) {
			words = words[1:]
		}
	}
	return id, strings.Join(words, "."), true
}

// underAny reports whether a key is one of a list or lies under it. The whole of an
// axle, or of a side, is all of them.
func underAny(key string, list []string) bool {
	if key == "" {
		return true
	}
	return slices.ContainsFunc(list, func(k string) bool { return key == k || strings.HasPrefix(key, k+".") })
}
