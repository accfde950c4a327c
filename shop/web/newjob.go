package web

import (
	"context"
	"net/http"
	"strings"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
)

// Figures are what can be given on the telephone; each as it is typed.
type Figures struct {
	Owner          string `json:"owner" maxLength:"200"`
	Car            string `json:"car" maxLength:"200"`
	Plate          string `json:"plate,omitempty" maxLength:"60"`
	Wheelbase      string `json:"wheelbase" maxLength:"100"`
	Track          string `json:"track" maxLength:"100"`
	LoadFrontLeft  string `json:"loadFrontLeft" maxLength:"100"`
	LoadFrontRight string `json:"loadFrontRight" maxLength:"100"`
	LoadRearLeft   string `json:"loadRearLeft" maxLength:"100"`
	LoadRearRight  string `json:"loadRearRight" maxLength:"100"`
	ArchFront      string `json:"archFront" maxLength:"100"`
	ArchRear       string `json:"archRear" maxLength:"100"`
	SpringFront    string `json:"springFront" maxLength:"100"`
	SpringRear     string `json:"springRear" maxLength:"100"`
	LowerFront     string `json:"lowerFront" maxLength:"100"`
	LowerRear      string `json:"lowerRear" maxLength:"100"`
	Typical        string `json:"typical,omitempty" maxLength:"60" doc:"a kind of car whose figures stand in for what is empty, by id"`
}

// TypicalCar is a kind of car that a job can begin from.
type TypicalCar struct {
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	Says    string  `json:"says" doc:"what its figures rest on"`
	Figures Figures `json:"figures" doc:"each as an estimate, as it would be typed"`
}

// TypicalCars are those kinds.
type TypicalCars struct {
	Cars []TypicalCar `json:"cars"`
}

func (s *Server) typicalCars(context.Context, store.Person, *struct{}) (*body[TypicalCars], error) {
	out := TypicalCars{Cars: []TypicalCar{}}
	for _, t := range jobfile.Typicals() {
		f := t.Told()
		out.Cars = append(out.Cars, TypicalCar{ID: t.ID, Name: t.Name, Says: t.Says, Figures: Figures{
			Car: f.Car, Wheelbase: f.Wheelbase, Track: f.Track,
			LoadFrontLeft: f.LoadFrontLeft, LoadFrontRight: f.LoadFrontRight, LoadRearLeft: f.LoadRearLeft, LoadRearRight: f.LoadRearRight,
			ArchFront: f.ArchFront, ArchRear: f.ArchRear, SpringFront: f.SpringFront, SpringRear: f.SpringRear, Typical: t.ID,
		}})
	}
	return answer(out), nil
}

// fromFigures writes a job of twelve figures.
func (s *Server) fromFigures(f *Figures) ([]byte, error) {
	told := jobfile.Told{
		Number: s.nextNumber(), Date: s.o.Now().Format(time.DateOnly), Workshop: s.o.Workshop, Owner: f.Owner, Car: f.Car, Plate: f.Plate, Wheelbase: f.Wheelbase, Track: f.Track,
		LoadFrontLeft: f.LoadFrontLeft, LoadFrontRight: f.LoadFrontRight, LoadRearLeft: f.LoadRearLeft, LoadRearRight: f.LoadRearRight,
		ArchFront: f.ArchFront, ArchRear: f.ArchRear, SpringFront: f.SpringFront, SpringRear: f.SpringRear, LowerFront: f.LowerFront, LowerRear: f.LowerRear,
	}
	if f.Typical != "" {
		typical, err := jobfile.FindTypical(f.Typical)
		if err != nil {
			return nil, problem(http.StatusUnprocessableEntity, err.Error())
		}
		told.Fill(&typical)
	}
	text, faults := told.Text()
	if len(faults) == 0 {
		return text, nil
	}
	p := problem(http.StatusUnprocessableEntity, "some of the figures cannot be taken")
	p.Faults = faults
	for i := range faults {
		one := &faults[i]
		if one.Kind != jobfile.Refuse {
			continue
		}
		message := one.Want
		if one.Path == "" {
			one.Path = "figures." + one.Location
		} else {
			p.Detail, message = "the figures do not go together", one.Got+"; "+one.Want
		}
		one.Location = strings.TrimSuffix("figures."+one.Location, ".")
		p.Errors = append(p.Errors, Misplaced{one.Location, message})
	}
	return nil, p
}

// nextNumber is a job's number by the day and the minute: the workshop may write
// its own over it.
func (s *Server) nextNumber() string { return s.o.Now().Format("060102-1504") }
