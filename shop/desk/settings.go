package desk

import (
	"os"
	"runtime"

	"trunnion/chassis/drives"

	"trunnion/chassis/ride"
	"trunnion/chassis/study"
)

// How many draws stand behind the bands of a question that does not say. Whatever
// is printed, kept or left standing has Draws, so that no two questions differ in a
// figure; a quick answer stands while the full one is worked out. Chosen.
const (
	Draws       = 2000
	TryDraws    = 120 // while the hand still moves
	glanceDraws = 60  // of the list of jobs
)

// Seed is that of draws and roads where none is given.
const Seed = 1

// most draws and workers that are taken for meant.
const (
	mostDraws   = 200_000
	mostWorkers = 256
)

// Settings say how a question is answered. The zero value is as usual. The tags
// are those of the command line and of the page's requests.
type Settings struct {
	Draws   *int    `help:"Draws behind the bands; 0 leaves bands out; as many as the question needs without it." json:"samples,omitempty" maximum:"200000" minimum:"0" name:"samples" placeholder:"N"`
	Seed    *uint64 `help:"Seed of draws and roads; 1 without it." json:"seed,omitempty" placeholder:"N"`
	Workers *int    `help:"How many at once, every core without it; changes nothing in the answer." json:"-" placeholder:"N"`

	// Progress, where given, is called while roads are driven, from several
	// goroutines.
	Progress func(done, total int) `json:"-" kong:"-"`
}

func (s *Settings) check() error {
	switch {
	case s.Draws != nil && (*s.Draws < 0 || *s.Draws > mostDraws):
		return bad("samples", "is 0 to %d", mostDraws)
	case s.Workers != nil && (*s.Workers < 1 || *s.Workers > mostWorkers):
		return bad("workers", "is 1 to %d", mostWorkers)
	}
	return nil
}

// Workers is how many goroutines a study has where nobody says: one for every
// core that the program may use.
func Workers() int { return runtime.GOMAXPROCS(0) }

// options are those of the study, with the draws of a question where the settings
// name none.
func (s *Settings) options(draws int) study.Options {
	opt := study.Defaults()
	opt.Samples, opt.Seed, opt.Workers = or(s.Draws, draws), or(s.Seed, Seed), or(s.Workers, Workers())
	return opt
}

// lanesVariable of the environment, set to off, drives one car after the other where the program could drive several at
// once; see ride.Lanes.
const lanesVariable = "TRUNNION_LANES"

// drive is how roads and obstacles are driven.
func (s *Settings) drive() drives.Options {
	opt := drives.Defaults()
	opt.Seed = or(s.Seed, Seed)
	if s.Draws != nil {
		opt.Draws = min(opt.Draws, *s.Draws)
	}
	if os.Getenv(lanesVariable) == "off" {
		opt.Lanes = ride.Alone
	}
	return opt
}

// Lanes are how many cars are driven side by side on this machine.
func Lanes() ride.Lanes { return min((&Settings{}).drive().Lanes, ride.Most()) }
