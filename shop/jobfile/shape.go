package jobfile

import (
	"slices"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// form is what may stand behind a key.
type form uint8

const (
	value  form = iota // a number with its unit
	spread             // a number or a range of two: a progressive spring's rates
	whole              // a whole number
	row                // numbers of one kind
	text               // words
	choice             // one of some words
	flag               // one of two words, or true and false
	ident              // the id of something in the job
	object             // fixed keys
	dict               // ids chosen by the workshop to one shape
	list               // one shape, repeated
	places             // one shape at each corner or axle, by name or as a list in their order
)

// shape says what may stand at a place in a job. The tree of shapes is the
// table of keys: the reader walks it and the schema is written from it.
type shape struct {
	form   form
	keys   []key             // object
	of     *shape            // dict, list, places
	names  []string          // places
	words  []string          // choice; flag: the word for true first
	kind   quantity.Kind     // value, spread, row
	origin figure.Origin     // of a value without a word for it
	bands  map[string]string // band by origin where none is typed, as it would be typed; "" is exact
	band   bool              // the value is a band by itself: "± 0.5 mm"
	name   bool              // object: an id may stand instead, naming a part
	least  int               // row: fewest entries
	most   int               // dict, list: most entries
	index  map[string]*shape // object: keys by name
}

type key struct {
	name  string
	need  bool
	about string
	shape *shape
}

// has finds a key of an object.
func (s *shape) has(name string) *shape { return s.index[name] }

func anObject(keys ...key) *shape {
	s := &shape{form: object, keys: keys, index: make(map[string]*shape, len(keys))}
	for _, k := range keys {
		if _, twice := s.index[k.name]; twice {
			panic("jobfile: the table of keys has " + k.name + " twice")
		}
		s.index[k.name] = k.shape
	}
	return s
}

// aPart is an object that may also be the id of one under parts, or that with
// changes: {use: id, …}.
func aPart(keys ...key) *shape {
	s := anObject(append([]key{may("use", "id of the part under parts that this one is, but for the keys that stand beside", anIdent)}, keys...)...)
	s.name = true
	return s
}

func must(name, about string, s *shape) key {
	return key{name: name, need: true, about: about, shape: s}
}
func may(name, about string, s *shape) key { return key{name: name, about: about, shape: s} }

var (
	someText = &shape{form: text}
	anIdent  = &shape{form: ident}
	aCount   = &shape{form: whole, kind: quantity.Count}
)

func oneOf(words ...string) *shape { return &shape{form: choice, words: words} }
func either(yes, no string) *shape { return &shape{form: flag, words: []string{yes, no}} }

// mostListed is how many entries a list or a section takes that says nothing else; what
// multiplies into work, builds by load states by roads, takes less, parts more. Chosen:
// several times what any job has had.
const (
	mostListed = 200
	mostBuilds = 50
	mostLoads  = 30
	mostDriven = 30 // roads, and events
	mostParts  = 2000
)

func listOf(of *shape) *shape { return &shape{form: list, of: of, most: mostListed} }
func byID(of *shape) *shape   { return &shape{form: dict, of: of, most: mostListed} }

// upTo is the shape with another limit.
func (s *shape) upTo(most int) *shape {
	s.most = most
	return s
}

func rowOf(kind quantity.Kind, least int) *shape { return &shape{form: row, kind: kind, least: least} }

var (
	cornerKeys = []string{"front_left", "front_right", "rear_left", "rear_right"}
	axleKeys   = []string{"front", "rear"}
)

// sideKeys are the sides of an axle, left first, as a job names them.
var sideKeys = []string{"left", "right"}

func corners(of *shape) *shape { return &shape{form: places, names: cornerKeys, of: of} }
func axles(of *shape) *shape   { return &shape{form: places, names: axleKeys, of: of} }

// axlesOrCorners is a value of an axle that a corner may have of its own. As a list
// it is two, of the axles, or four, of the corners.
func axlesOrCorners(of *shape) *shape {
	return &shape{form: places, names: slices.Concat(axleKeys, cornerKeys), of: of}
}

// listed are the places that the entries of a list of that many stand for; nil where
// no list is that long.
func (s *shape) listed(entries int) []string {
	for _, names := range [][]string{axleKeys, cornerKeys} {
		if len(names) == entries && has(s.names, names[0]) {
			return names
		}
	}
	return nil
}

var onOff, yesNo = either("on", "off"), either("yes", "no")

var tableOrigin = oneOf("measured", "maker", "est")

func has(names []string, name string) bool {
	for _, n := range names {
		if n == name {
			return true
		}
	}
	return false
}
