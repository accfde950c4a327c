package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"

	"trunnion/chassis/axles"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// Ask is a question of the desk about a text of a job. Its answer is the very
// document that the command prints with --format json.
type Ask struct {
	Text  string          `json:"text"`
	Units string          `json:"units"`
	Words string          `json:"words"` // the owner's, of a symptom
	With  json.RawMessage `json:"with"`  // the question's own options
}

// document is an answer for programs.
type document interface{ WriteJSON(w io.Writer) error }

// question answers an ask about a job that was read.
type question func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error)

// questions are those that are answered over HTTP, by the name of their command.
var questions = map[string]question{
	"assess": func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error) {
		var with desk.AssessAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Assess(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version, wording.New(r.Answer, system), with.Keeps), nil
	},
	"ride": func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error) {
		var with desk.RideAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Ride(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version, wording.New(r.Answer, system), with.Keeps), nil
	},
	"corner": func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error) {
		var with desk.CornerAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Corner(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version, wording.New(r.Answer, system)), nil
	},
	"loads": func(ctx context.Context, s *Server, job *jobfile.Job, _ quantity.System, ask *Ask) (document, error) {
		var with desk.StrutsAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Struts(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version), nil
	},
	"damper-clicks": func(ctx context.Context, s *Server, job *jobfile.Job, _ quantity.System, ask *Ask) (document, error) {
		var with desk.ClicksAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Clicks(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version), nil
	},
	"damper-presets": func(ctx context.Context, s *Server, job *jobfile.Job, _ quantity.System, ask *Ask) (document, error) {
		var with desk.PresetsAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Presets(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version), nil
	},
	"damper-target": func(ctx context.Context, s *Server, job *jobfile.Job, _ quantity.System, ask *Ask) (document, error) {
		var with desk.TargetAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Target(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version), nil
	},
	"linkage": func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error) {
		var with desk.LinkageAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		m, err := s.tries.Linkage(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return desk.LinkageDocument(s.o.Version, job, m, wording.New(nil, system)), nil
	},
	"level": func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error) {
		var with desk.LevelAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Level(ctx, job, with, nil)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version, wording.New(nil, system)), nil
	},
	"search": func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error) {
		var with desk.SearchAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.Search(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version, system), nil
	},
	"roadtest-compare": func(ctx context.Context, s *Server, job *jobfile.Job, _ quantity.System, ask *Ask) (document, error) {
		var with desk.RoadTestAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.RoadTest(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version), nil
	},
	"roadtest-correct": func(ctx context.Context, s *Server, job *jobfile.Job, _ quantity.System, ask *Ask) (document, error) {
		var with desk.RoadTestAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		r, err := s.tries.RoadTestCorrect(ctx, job, with)
		if err != nil {
			return nil, err
		}
		return r.Document(s.o.Version), nil
	},
	"symptom": func(ctx context.Context, s *Server, job *jobfile.Job, system quantity.System, ask *Ask) (document, error) {
		var with desk.SymptomAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		rules, err := symptomTable()
		if err != nil {
			return nil, err
		}
		r, err := s.tries.Symptom(ctx, job, rules, ask.Words, system, with)
		if err != nil {
			return nil, err
		}
		return r.Document(), nil
	},
}

// fileQuestions are those about files of sweeps, logs and parts, which need no job.
var fileQuestions = map[string]func(ctx context.Context, s *Server, ask *Ask) (document, error){
	"catalogue-read": func(ctx context.Context, s *Server, ask *Ask) (document, error) {
		var with desk.PartsAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		got, err := s.tries.Parts(ctx, with)
		if err != nil {
			return nil, err
		}
		return got.Document(s.o.Version), nil
	},
	"damper-read": func(ctx context.Context, s *Server, ask *Ask) (document, error) {
		var with desk.SweepsAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		got, err := s.tries.Sweeps(ctx, with)
		if err != nil {
			return nil, err
		}
		return got.Document(s.o.Version), nil
	},
	"roadtest-read": func(ctx context.Context, s *Server, ask *Ask) (document, error) {
		var with desk.LogAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		got, err := s.tries.RoadTestRead(ctx, with)
		if err != nil {
			return nil, err
		}
		return got.Document(s.o.Version), nil
	},
	"damper-pair": func(ctx context.Context, s *Server, ask *Ask) (document, error) {
		var with desk.PairAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		got, err := s.tries.Pair(ctx, with)
		if err != nil {
			return nil, err
		}
		return got.Document(s.o.Version), nil
	},
	"damper-accept": func(ctx context.Context, s *Server, ask *Ask) (document, error) {
		var with desk.AcceptAsk
		if err := ask.read(&with); err != nil {
			return nil, err
		}
		got, err := s.tries.Accept(ctx, with)
		if err != nil {
			return nil, err
		}
		return got.Document(s.o.Version), nil
	},
}

// Questions are the names of the questions that are answered over HTTP.
func Questions() []string {
	var names []string
	for name := range questions {
		names = append(names, name)
	}
	for name := range fileQuestions {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// read reads the question's own options.
func (a *Ask) read(with any) error {
	if len(a.With) == 0 {
		return nil
	}
	if err := json.Unmarshal(a.With, with); err != nil {
		return problem(http.StatusUnprocessableEntity, view.Cut(fmt.Sprintf("the options cannot be read: %v", err), 300))
	}
	return nil
}

// askRoutes answer the desk's questions for programs.
func (s *Server) askRoutes() {
	s.mux.HandleFunc("POST /api/ask/{question}", func(w http.ResponseWriter, r *http.Request) {
		d, err := s.asked(r)
		if err != nil {
			var p *Problem
			if asProblem(s.problemOf(r.Context(), err), &p) {
				writeProblem(w, p)
			}
			return
		}
		w.Header().Set("Content-Type", "application/json")
		_ = d.WriteJSON(w)
	})
}

func (s *Server) asked(r *http.Request) (document, error) {
	who, err := s.guard.May(r.Context(), access.Read)
	if err != nil {
		return nil, err
	}
	ctx, done := context.WithTimeout(desk.For(r.Context(), who.Name), longest)
	defer done()
	ask, there := questions[r.PathValue("question")]
	ofFiles := fileQuestions[r.PathValue("question")]
	if !there && ofFiles == nil {
		return nil, problem(http.StatusNotFound, "no such question is answered")
	}
	var body Ask
	if err := json.NewDecoder(io.LimitReader(r.Body, mostOf(r.URL.Path))).Decode(&body); err != nil {
		return nil, problem(http.StatusUnprocessableEntity, view.Cut("the question cannot be read: "+err.Error(), 300))
	}
	if ofFiles != nil {
		d, err := ofFiles(ctx, s, &body)
		return d, askProblem(err)
	}
	system, err := wording.System(body.Units)
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	job, faults := jobfile.ReadBytes([]byte(body.Text), "job.yaml")
	if job == nil {
		p := problem(http.StatusUnprocessableEntity, "the job has faults; nothing was computed")
		p.Faults = faults
		return nil, p
	}
	d, err := ask(ctx, s, job, system, &body)
	return d, askProblem(err)
}

// askProblem is a question that cannot be answered as it is asked.
func askProblem(err error) error {
	var bad *desk.AskError
	var rest *levelling.NoRest
	if errors.As(err, &bad) || errors.As(err, &rest) || errors.Is(err, axles.ErrNoStrut) || errors.Is(err, axles.ErrNoGuide) || errors.Is(err, axles.ErrNoHardpoints) {
		return problem(http.StatusUnprocessableEntity, view.Cut(err.Error(), 300))
	}
	return err
}
