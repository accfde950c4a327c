package intake

// sorter makes runs of blocks.
type sorter struct {
	out     *Sweeps
	mapping *SweepMapping

	pieces  []*piece
	counted string
	unsure  bool
}

// piece is a block at one setting, in SI, with the signs it has in the file.
type piece struct {
	*block
	shape   string // table, loop, signed, gas
	values  map[string][]float64
	click   map[string]int
	flipX   bool // position falls in compression
	temp    float64
	hasTime bool
}

func (s *sorter) ask(q SweepQuestion) {
	for _, was := range s.out.Questions {
		if was.Code == q.Code && was.About == q.About {
			return
		}
	}
	s.out.Questions = append(s.out.Questions, q)
}

func (s *sorter) assume(a SweepAssumption) {
	for _, was := range s.out.Assumptions {
		if was.Code == a.Code && was.About == a.About && was.Value == a.Value {
			return
		}
	}
	s.out.Assumptions = append(s.out.Assumptions, a)
}

func (s *sorter) fault(b *block, line int, got, want string) {
	if len(s.out.Faults) < mostFaults {
		s.out.Faults = append(s.out.Faults, SweepFault{b.file, line, got, want})
	}
}
