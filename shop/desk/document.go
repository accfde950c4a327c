package desk

import (
	"io"

	"trunnion/chassis/axles"

	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
	"trunnion/shop/symptom"
	"trunnion/shop/wording"
)

// Document is a result for programs: trunnion.answer/2. keep leaves out what it
// says no to; nil keeps all.
func (r *Result) Document(program string, t *wording.Teller, keep func(build, load string) bool) *answer.Document {
	return answer.New(answer.Source{
		Answer: r.Answer, Findings: r.Findings, Plans: r.Plans, InShort: r.InShort, Filled: r.Job.Filled, Teller: t, Program: program, SHA256: r.Job.SHA256, Keep: keep,
	})
}

// Document is how builds corner, for programs.
func (c *Cornered) Document(program string, t *wording.Teller) *answer.Corner {
	d := &answer.Corner{
		Format: answer.CornerFormat, Program: program, JobSHA256: c.Job.SHA256, Load: c.Load, Lateral: c.Ask.Lateral, Longitudinal: c.Ask.Longitudinal, Builds: []answer.CornerBuild{},
	}
	values := c.Result.Document(program, t, func(_, load string) bool { return load == "" || load == c.Load }).Values
	for i := range c.Builds {
		b := &c.Builds[i]
		if b.Err != nil {
			d.Builds = append(d.Builds, answer.FailedCornerBuild(b.Build.ID, b.Err))
			continue
		}
		one := answer.NewCornerBuild(b.Build.ID, c.Load, values, b.Car, &b.Swept, b.Holes)
		if y := c.Steady.Of(b.Build.ID); y != nil {
			one.AtSpeed = &answer.CornerAtSpeed{
				Speed: c.Steady.At, Top: c.Steady.Top, Critical: answer.Finite(y.Critical), Sharp: answer.Finite(y.Nerves.Sharp), Swings: answer.Finite(y.Nerves.Swings),
				Steering: t.Steering(y.Yaw, c.Steady.Top), Says: y.Says(t, &c.Steady),
			}
		}
		d.Builds = append(d.Builds, one)
	}
	return d
}

// Document is what the struts carry, for programs.
func (s *Strutted) Document(program string) *answer.Struts {
	return answer.NewStruts(program, s.Job.SHA256, s.Struts, s.NoPower, func(one *axles.BuildStrut) [][]axles.StrutFound {
		return s.Drawn(one, &StrutMove{})
	})
}

// LinkageDocument is how a linkage moves, for programs.
func LinkageDocument(program string, job *jobfile.Job, m *axles.Moved, t *wording.Teller) *answer.Linkage {
	return answer.NewLinkage(program, job.SHA256, m, t)
}

// SymptomFormat names the contract of what may be behind a symptom.
const SymptomFormat = "trunnion.symptom/1"

// SymptomDocument is trunnion.symptom/1.
type SymptomDocument struct {
	Format string `json:"format"`
	*symptom.Asked
}

// Document is what may be behind a symptom, for programs.
func (s *Symptomatic) Document() SymptomDocument { return SymptomDocument{SymptomFormat, s.Asked} }

// WriteJSON writes the document.
func (d SymptomDocument) WriteJSON(w io.Writer) error { return answer.WriteJSON(w, d) }
