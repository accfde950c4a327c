package web

import (
	"bytes"
	"context"
	"errors"
	"net"
	"net/http"
	"strconv"
	"time"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/sheet"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/scales"
	"trunnion/shop/wording"
)

// handoverRoutes are what the page asks about the handover.
func (s *Server) handoverRoutes() {
	route(s, op(http.MethodPost, "sheet", "/api/sheet", "The sheet of a job with edits, as it would print", 200), access.Read, s.sheet)
	route(s, get("workshop", "/api/workshop", "What the workshop says of itself on its sheets"), access.Read, s.workshop)
	route(s, op(http.MethodPut, "save-workshop", "/api/workshop", "Save the next revision of that", 200), access.Overseer, s.saveWorkshop)
	route(s, get("due", "/api/due", "Services and follow-up checks, the most overdue first"), access.Read, s.due)
	s.mux.HandleFunc("GET /api/jobs/{id}/sheet", s.sheetFile)
	s.mux.HandleFunc("GET /api/jobs/{id}/measure", s.measureFile)
	s.mux.HandleFunc("GET /api/workshop/logo", s.logo)
}

// SheetRequest is a job with edits, and which build leaves.
type SheetRequest struct {
	Text  string         `json:"text" maxLength:"2097152"`
	Edits []jobfile.Edit `json:"edits" maxItems:"500"`
	Units string         `json:"units" enum:"metric,imperial,mixed"`
	Build string         `json:"build,omitempty" maxLength:"100"`
	Load  string         `json:"load,omitempty" maxLength:"100"`
	Job   string         `json:"job,omitempty" maxLength:"100" doc:"under which rounds on the scales are kept"`
}

func (s *Server) sheet(ctx context.Context, _ store.Person, in *struct{ Body SheetRequest }) (*body[*sheet.Sheet], error) {
	b := in.Body
	system, err := wording.System(b.Units)
	if err != nil {
		return nil, err
	}
	typed, _ := s.tries.Edit(ctx, &view.TryRequest{Text: b.Text, Edits: b.Edits, Units: b.Units}, system)
	job, faults := jobfile.ReadBytes(typed.Text, "job.yaml")
	faults = append(faults, typed.Faults...)
	if job == nil {
		p := problem(http.StatusUnprocessableEntity, "the job has no answer to print")
		p.Faults = faults
		return nil, p
	}
	seen, err := s.tries.Figures(ctx, job, desk.Settings{})
	if err != nil {
		return nil, noStudy(ctx, err)
	}
	shop, err := s.ownWords(ctx)
	if err != nil {
		return nil, err
	}
	src := sheet.Source{
		Job: seen.Job, Answer: seen.Answer, Findings: seen.Findings, InShort: seen.InShort, Build: b.Build, Load: b.Load, System: system, Program: s.o.Version,
		Printed: s.o.Now().Format(time.DateOnly), Workshop: shop,
	}
	src.Opened, src.Moved = s.moved(ctx, b.Job, src.Leaves())
	made, err := sheet.New(src)
	return answer(made), sheetProblem(err)
}

// moved is what the moves on the scales have opened again, and the day of the
// last of them. Nothing where no round is kept of the build, or where it cannot
// be gone through: then the scales' own page says why.
func (s *Server) moved(ctx context.Context, job, build string) (opened []string, day string) {
	if job == "" || build == "" {
		return nil, ""
	}
	st, err := (&roundKeeper{Server: s}).stand(ctx, job, scales.Settings{Build: build}, nil)
	if err != nil {
		return nil, ""
	}
	return st.Opened()
}

func sheetProblem(err error) error {
	if errors.Is(err, sheet.ErrNoBuild) || errors.Is(err, sheet.ErrNoLoad) || errors.Is(err, sheet.ErrNoCar) {
		return problem(http.StatusUnprocessableEntity, err.Error())
	}
	return err
}

// ownWords is what the workshop prints of itself.
func (s *Server) ownWords(ctx context.Context) (sheet.Workshop, error) {
	w, err := s.store.Workshop(ctx)
	return sheet.Workshop{Name: w.Name, Words: w.Words, Logo: w.Logo}, err
}

// sheetForms are the files that a sheet is given as.
var sheetForms = map[string]struct {
	media, end string
}{
	"pdf":  {"application/pdf", "pdf"},
	"card": {"application/pdf", "card.pdf"},
	"xlsx": {"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "xlsx"},
	"csv":  {"text/csv; charset=utf-8", "csv"},
	"json": {"application/json", "json"},
	// What somebody licensed to judge asks for: figures, rules, blanks to sign.
	"certifier": {"text/plain; charset=utf-8", "certifier.txt"},
}

// sheetFile gives the sheet of a job as it was last saved, in one of its forms.
func (s *Server) sheetFile(w http.ResponseWriter, r *http.Request) {
	out, name, media, err := s.sheetAs(r)
	s.giveFile(w, r, out, name, media, err)
}

// measureFile gives what a job as it was last saved still lacks, as a sheet to write on.
func (s *Server) measureFile(w http.ResponseWriter, r *http.Request) {
	out, name, err := s.measureSheet(r)
	s.giveFile(w, r, out, name, "application/pdf", err)
}

func (s *Server) measureSheet(r *http.Request) (out []byte, name string, err error) {
	ctx, ask := r.Context(), r.URL.Query()
	if _, err := s.guard.May(ctx, access.Read); err != nil {
		return nil, "", err
	}
	kept, err := s.store.Job(ctx, r.PathValue("id"))
	if err != nil {
		return nil, "", err
	}
	system, err := wording.System(ask.Get("units"))
	if err != nil {
		return nil, "", problem(http.StatusUnprocessableEntity, err.Error())
	}
	made := sheet.MeasuringOf(kept.Text, system, s.o.Version, s.o.Now().Format(time.DateOnly))
	if made.Workshop == "" {
		own, err := s.ownWords(ctx)
		if err != nil {
			return nil, "", err
		}
		made.Workshop = own.Name
	}
	var file bytes.Buffer
	err = sheet.WriteMeasuringPDF(&file, made, paperOf(ask.Get("paper")))
	return file.Bytes(), "measure-" + jobfile.IDFrom(made.Number+" "+made.Title) + ".pdf", err
}

func paperOf(name string) sheet.Paper {
	if name == string(sheet.Letter) {
		return sheet.Letter
	}
	return sheet.A4
}

func (s *Server) giveFile(w http.ResponseWriter, r *http.Request, out []byte, name, media string, err error) {
	if err != nil {
		var p *Problem
		if asProblem(s.problemOf(r.Context(), err), &p) {
			writeProblem(w, p)
		}
		return
	}
	w.Header().Set("Content-Type", media)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Header().Set("Content-Length", strconv.Itoa(len(out)))
	_, _ = w.Write(out)
}

func (s *Server) sheetAs(r *http.Request) (out []byte, name, media string, err error) {
	ctx, ask := r.Context(), r.URL.Query()
	if _, err := s.guard.May(ctx, access.Read); err != nil {
		return nil, "", "", err
	}
	form, ok := sheetForms[ask.Get("format")]
	if !ok {
		return nil, "", "", problem(http.StatusUnprocessableEntity, "a sheet is given as pdf, card, xlsx, csv, json or certifier")
	}
	paper := paperOf(ask.Get("paper"))
	saved, err := s.savedAnswer(r)
	if err != nil {
		return nil, "", "", err
	}
	made, err := s.savedSheet(r, saved)
	if err != nil {
		return nil, "", "", err
	}
	var file bytes.Buffer
	switch ask.Get("format") {
	case "certifier":
		var pack *pastjobs.Pack
		if pack, err = pastjobs.EvidencePack(saved.Job, saved.Answer, made.Build, made.Load, saved.system); err == nil {
			err = pack.WriteText(&file)
		}
	case "pdf":
		err = sheet.WritePDF(&file, made, paper)
	case "card":
		err = sheet.WriteCardPDF(&file, made)
	case "xlsx":
		err = sheet.WriteXLSX(&file, made)
	case "csv":
		err = sheet.WriteCSV(&file, made)
	default:
		err = sheet.WriteJSON(&file, made)
	}
	return file.Bytes(), "sheet-" + jobfile.IDFrom(made.Number+" "+made.Title) + "." + form.end, form.media, err
}

// saved is a job as it was last saved, answered for paper.
type saved struct {
	*desk.Result
	system quantity.System
}

// savedAnswer studies the saved job with all its draws: paper outlives a try.
func (s *Server) savedAnswer(r *http.Request) (*saved, error) {
	ctx, ask := r.Context(), r.URL.Query()
	kept, err := s.store.Job(ctx, r.PathValue("id"))
	if err != nil {
		return nil, err
	}
	system, err := wording.System(ask.Get("units"))
	if err != nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	job, faults := jobfile.ReadBytes(kept.Text, "job.yaml")
	if job == nil {
		p := problem(http.StatusUnprocessableEntity, "the job has faults: no sheet was made")
		p.Faults = faults
		return nil, p
	}
	got, err := s.tries.Figures(ctx, job, desk.Settings{})
	if err != nil {
		return nil, noStudy(ctx, err)
	}
	return &saved{got, system}, nil
}

// savedSheet makes the sheet of it.
func (s *Server) savedSheet(r *http.Request, of *saved) (*sheet.Sheet, error) {
	ctx, ask := r.Context(), r.URL.Query()
	shop, err := s.ownWords(ctx)
	if err != nil {
		return nil, err
	}
	src := sheet.Source{
		Job: of.Job, Answer: of.Answer, Findings: of.Findings, Build: ask.Get("build"), Load: ask.Get("load"), System: of.system, Program: s.o.Version,
		Printed: s.o.Now().Format(time.DateOnly), Find: s.findAt(r), Workshop: shop,
	}
	src.Opened, src.Moved = s.moved(ctx, r.PathValue("id"), src.Leaves())
	made, err := sheet.New(src)
	return made, sheetProblem(err)
}

func noStudy(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return problem(http.StatusUnprocessableEntity, "the job has no answer to print: "+err.Error())
}

// findAt is the address that the code on the paper holds: only one that another
// machine can reach; else the job's number and fingerprint.
func (s *Server) findAt(r *http.Request) string {
	host := hostOf(r.Host)
	if ip := net.ParseIP(host); host == "localhost" || ip != nil && ip.IsLoopback() {
		return ""
	}
	scheme := "http"
	if s.o.TLS {
		scheme = "https"
	}
	return scheme + "://" + r.Host + "/jobs/" + r.PathValue("id") + "/handover"
}

// WorkshopView is what the workshop says of itself.
type WorkshopView struct {
	Name        string `json:"name" maxLength:"200"`
	Words       string `json:"words" maxLength:"1000"`
	HasLogo     bool   `json:"hasLogo"`
	RecheckDays int    `json:"recheckDays" minimum:"0" maximum:"3650"`
	RecheckKm   int    `json:"recheckKm" minimum:"0" maximum:"1000000"`
	Revision    int    `json:"revision" minimum:"0"`
	When        string `json:"when"`
	Who         string `json:"who"`
}

// WorkshopRequest is that to be saved.
type WorkshopRequest struct {
	Name        string `json:"name" maxLength:"200"`
	Words       string `json:"words" maxLength:"1000"`
	RecheckDays int    `json:"recheckDays" minimum:"0" maximum:"3650"`
	RecheckKm   int    `json:"recheckKm" minimum:"0" maximum:"1000000"`
	Revision    int    `json:"revision" minimum:"0"`
	Logo        []byte `json:"logo,omitempty" doc:"PNG or JPEG; absent leaves the one that is there"`
	NoLogo      bool   `json:"noLogo,omitempty" doc:"takes the one that is there away"`
	Who         string `json:"who,omitempty" maxLength:"100"`
	Why         string `json:"why,omitempty" maxLength:"300"`
}

func (s *Server) workshopView(w store.Workshop) WorkshopView {
	return WorkshopView{
		Name: w.Name, Words: w.Words, HasLogo: len(w.Logo) > 0, RecheckDays: w.RecheckDays, RecheckKm: w.RecheckKm, Revision: w.Revision,
		When: view.When(w.When), Who: w.Who,
	}
}

func (s *Server) workshop(ctx context.Context, _ store.Person, _ *struct{}) (*body[WorkshopView], error) {
	w, err := s.store.Workshop(ctx)
	return answer(s.workshopView(w)), err
}

func (s *Server) saveWorkshop(ctx context.Context, who store.Person, in *struct{ Body WorkshopRequest }) (*body[WorkshopView], error) {
	b := in.Body
	old, err := s.store.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	logo := old.Logo
	switch {
	case b.NoLogo:
		logo = nil
	case len(b.Logo) > 0:
		if err := sheet.CheckLogo(b.Logo); err != nil {
			return nil, problem(http.StatusUnprocessableEntity, err.Error())
		}
		logo = b.Logo
	}
	why := b.Why
	if why == "" {
		why = "as the workshop wants it"
	}
	w, err := s.store.SaveWorkshop(ctx, store.Workshop{
		Name: b.Name, Words: b.Words, Logo: logo, RecheckDays: b.RecheckDays, RecheckKm: b.RecheckKm, Revision: b.Revision, Who: s.nameOf(who, b.Who), Why: why,
	})
	return answer(s.workshopView(w)), err
}

// logo gives the workshop's picture.
func (s *Server) logo(w http.ResponseWriter, r *http.Request) {
	_, err := s.guard.May(r.Context(), access.Read)
	var shop store.Workshop
	if err == nil {
		shop, err = s.store.Workshop(r.Context())
	}
	if err == nil && len(shop.Logo) == 0 {
		err = problem(http.StatusNotFound, "the workshop has no picture")
	}
	if err != nil {
		var p *Problem
		if asProblem(s.problemOf(r.Context(), err), &p) {
			writeProblem(w, p)
		}
		return
	}
	w.Header().Set("Content-Type", http.DetectContentType(shop.Logo))
	_, _ = w.Write(shop.Logo)
}

// DueList is what is to be done again.
type DueList struct {
	Due []pastjobs.Due `json:"due"`
}

// soon is how many days ahead a workshop is reminded. Chosen.
const soon = 14

func (s *Server) due(ctx context.Context, _ store.Person, _ *struct{}) (*body[DueList], error) {
	list, err := pastjobs.DueList(ctx, s.store, s.o.Now(), soon)
	return answer(DueList{Due: view.Listed(list)}), err
}
