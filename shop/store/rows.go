package store

import "github.com/uptrace/bun"

// The rows as they stand in the tables. Times are in µs since 1970, in UTC.

type jobRow struct {
	bun.BaseModel `bun:"table:jobs,alias:j"`

	ID        string `bun:"id,pk"`
	Revision  int    `bun:"revision"`
	CreatedAt int64  `bun:"created_at"`
	SavedAt   int64  `bun:"saved_at"`
	SavedBy   string `bun:"saved_by"`
	Why       string `bun:"why"`
	SHA256    string `bun:"sha256"`
	Number    string `bun:"number"`
	Owner     string `bun:"owner"`
	Plate     string `bun:"plate"`
	Car       string `bun:"car"`
	Haystack  string `bun:"haystack"`
	ByNumber  string `bun:"by_number"`
	ByOwner   string `bun:"by_owner"`
	ByPlate   string `bun:"by_plate"`
	ByCar     string `bun:"by_car"`
	ByBuild   string `bun:"by_build"`
	ByPart    string `bun:"by_part"`
	BySerial  string `bun:"by_serial"`
}

type revisionRow struct {
	bun.BaseModel `bun:"table:job_revisions,alias:r"`

	JobID   string `bun:"job_id,pk"`
	Number  int    `bun:"number,pk"`
	SavedAt int64  `bun:"saved_at"`
	SavedBy string `bun:"saved_by"`
	Why     string `bun:"why"`
	SHA256  string `bun:"sha256"`
	Text    string `bun:"text"`
	Chain   string `bun:"chain"`
}

type sentRow struct {
	bun.BaseModel `bun:"table:sent,alias:s"`

	ID       string `bun:"id,pk"`
	JobID    string `bun:"job_id"`
	Revision int    `bun:"revision"`
	SavedBy  string `bun:"saved_by"`
}

type wordRow struct {
	bun.BaseModel `bun:"table:job_words,alias:w"`

	JobID string `bun:"job_id,pk"`
	Place int    `bun:"place,pk"`
	Kind  string `bun:"kind"`
	Word  string `bun:"word"`
}

type draftRow struct {
	bun.BaseModel `bun:"table:drafts,alias:d"`

	Person  string `bun:"person,pk"`
	JobID   string `bun:"job_id,pk"`
	Base    int    `bun:"base"`
	SavedAt int64  `bun:"saved_at"`
	Text    string `bun:"text"`
}

type partRow struct {
	bun.BaseModel `bun:"table:parts,alias:p"`

	Kind     string `bun:"kind,pk"`
	Slug     string `bun:"slug,pk"`
	Revision int    `bun:"revision"`
}

type partRevisionRow struct {
	bun.BaseModel `bun:"table:part_revisions,alias:r"`

	Kind      string `bun:"kind,pk"`
	Slug      string `bun:"slug,pk"`
	Number    int    `bun:"number,pk"`
	SavedAt   int64  `bun:"saved_at"`
	SavedBy   string `bun:"saved_by"`
	Why       string `bun:"why"`
	Name      string `bun:"name"`
	Text      string `bun:"text"`
	Source    string `bun:"source"`
	Dated     string `bun:"dated"`
	Stock     string `bun:"stock"`
	Withdrawn bool   `bun:"withdrawn"`
}

type presetRow struct {
	bun.BaseModel `bun:"table:presets,alias:p"`

	Slug     string `bun:"slug,pk"`
	Revision int    `bun:"revision"`
}

type presetRevisionRow struct {
	bun.BaseModel `bun:"table:preset_revisions,alias:r"`

	Slug      string `bun:"slug,pk"`
	Number    int    `bun:"number,pk"`
	SavedAt   int64  `bun:"saved_at"`
	SavedBy   string `bun:"saved_by"`
	Why       string `bun:"why"`
	Car       string `bun:"car"`
	Name      string `bun:"name"`
	Text      string `bun:"text"`
	Withdrawn bool   `bun:"withdrawn"`
}

type roundRow struct {
	bun.BaseModel `bun:"table:rounds,alias:r"`

	ID      string `bun:"id,pk"`
	JobID   string `bun:"job_id"`
	Build   string `bun:"build"`
	Kind    string `bun:"kind"`
	Number  int    `bun:"number"`
	TakenAt int64  `bun:"taken_at"`
	SavedAt int64  `bun:"saved_at"`
	TakenBy string `bun:"taken_by"`
	Text    string `bun:"text"`
}

type runRow struct {
	bun.BaseModel `bun:"table:runs,alias:r"`

	ID         string  `bun:"id,pk"`
	JobID      string  `bun:"job_id"`
	Revision   int     `bun:"revision"`
	Kind       string  `bun:"kind"`
	State      string  `bun:"state"`
	Progress   float64 `bun:"progress"` // done, 0 to 1 [-]
	Stage      string  `bun:"stage"`
	Fault      string  `bun:"fault"`
	Worker     string  `bun:"worker"`
	AskedBy    string  `bun:"asked_by"`
	CreatedAt  int64   `bun:"created_at"`
	HeardAt    int64   `bun:"heard_at"`
	FinishedAt int64   `bun:"finished_at"`
}

type answerRow struct {
	bun.BaseModel `bun:"table:run_answers,alias:a"`

	RunID  string `bun:"run_id,pk"`
	Size   int    `bun:"size"`
	Answer []byte `bun:"answer"`
}

type personRow struct {
	bun.BaseModel `bun:"table:people,alias:p"`

	Folded     string `bun:"folded,pk"`
	Name       string `bun:"name"`
	Role       string `bun:"role"`
	Passphrase string `bun:"passphrase"`
	CreatedAt  int64  `bun:"created_at"`
	Barred     bool   `bun:"barred"`
}

type sessionRow struct {
	bun.BaseModel `bun:"table:sessions,alias:s"`

	TokenHash string `bun:"token_hash,pk"`
	Data      []byte `bun:"data"`
	ExpiresAt int64  `bun:"expires_at"`
}
