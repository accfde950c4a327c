package desk

import (
	"runtime"

	"trunnion/chassis/study"
)

// How many draws stand behind the bands of a question that does not say. A try
// answers while the hand still moves; what is printed or kept has all of them.
// Chosen.
const (
	Draws        = 2000 // of an assessment and of paper
	TryDraws     = 120
	CornerDraws  = 200 // the study takes the first of them round corners
	SymptomDraws = 500
	summaryDraws = 60
)

// Seed is that of draws and roads where none is given.
const Seed = 1

// Settings say how a question is answered. The zero value is as usual.
type Settings struct {
	Draws   *int    // behind the bands; 0 leaves bands out; nil: the question's own number
	Seed    *uint64 // of draws and roads; nil: Seed
	Workers int     // goroutines; changes nothing in the answer; 0: one for every core

	// Progress, where given, is called while roads are driven, from several
	// goroutines.
	Progress func(done, total int)
}

func (s *Settings) seed() uint64 {
	if s.Seed == nil {
		return Seed
	}
	return *s.Seed
}

// Workers is how many goroutines a study has where nobody says: one for every
// core that the program may use.
func Workers() int { return runtime.GOMAXPROCS(0) }

// options are those of the study, with the draws of a question where the settings
// name none.
func (s *Settings) options(draws int) study.Options {
	opt := study.Defaults()
	opt.Samples, opt.Seed, opt.Workers = draws, s.seed(), s.Workers
	if s.Draws != nil {
		opt.Samples = *s.Draws
	}
	if opt.Workers <= 0 {
		opt.Workers = Workers()
	}
	return opt
}

// drive is how roads and obstacles are driven.
func (s *Settings) drive() study.RideOptions {
	opt := study.RideDefaults()
	opt.Seed = s.seed()
	return opt
}
