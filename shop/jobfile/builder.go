package jobfile

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

// builder makes the physics' inputs of entries. Parts that are named by id are
// made once, so that all builds share their draws.
type builder struct {
	*walker
	parts     *entry
	springs   map[string]*car.SpringSpec
	dampers   map[string]*car.DamperSpec
	stops     map[string]*car.StopSpec
	mounts    map[string]*car.MountSpec
	platforms map[string]*car.PlatformSpec
	tyres     map[string]*car.TyreSpec
	wheels    map[string]*car.WheelSpec
}

func newBuilder(w *walker, parts *entry) *builder {
	return &builder{
		walker: w, parts: parts,
		springs:   map[string]*car.SpringSpec{},
		dampers:   map[string]*car.DamperSpec{},
		stops:     map[string]*car.StopSpec{},
		mounts:    map[string]*car.MountSpec{},
		platforms: map[string]*car.PlatformSpec{},
		tyres:     map[string]*car.TyreSpec{},
		wheels:    map[string]*car.WheelSpec{},
	}
}

// into sets an input when something stands behind the key.
func into(target *figure.Input, e *entry, name string) {
	if e = e.at(name); e != nil {
		*target = e.in
	}
}

// cornersOf reads a value at each corner.
func cornersOf(e *entry, name string) (out [4]figure.Input) {
	e = e.at(name)
	for i, corner := range cornerKeys {
		out[i] = e.input(corner)
	}
	return out
}

// axlesOf reads a value at each axle.
func axlesOf(e *entry, name string) (out [2]figure.Input) {
	e = e.at(name)
	for i, axle := range axleKeys {
		out[i] = e.input(axle)
	}
	return out
}

func payloads(e *entry) []car.Payload {
	var out []car.Payload
	for _, item := range e.each() {
		out = append(out, car.Payload{
			Name: item.word("name"), Mass: item.input("mass"),
			Behind: item.input("behind_front_axle"), Left: item.input("left"), Height: item.input("height"),
		})
	}
	return out
}
