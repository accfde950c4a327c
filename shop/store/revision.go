package store

import (
	"time"
)

// Head is a job as it stands in a list: what it is called and who saved it last.
type Head struct {
	ID        string
	Revision  int
	CreatedAt time.Time
	SavedAt   time.Time
	Who       string
	Why       string
	SHA256    string // of the text, in hexadecimal
	Number    string
	Owner     string
	Plate     string
	Car       string
}

// title is what a job is called in a message.
func (h Head) title() string {
	for _, text := range []string{h.Owner + " " + h.Car, h.Plate, h.Number} {
		if text = oneLine(text); text != "" {
			return text
		}
	}
	return h.ID
}

// Revision is one save of a job. Text is the job file whole, to the byte; it is
// nil in a history.
type Revision struct {
	Job    string
	Number int // from 1
	When   time.Time
	Who    string
	Why    string
	SHA256 string // of the text, in hexadecimal
	Text   []byte
}

// Change is a save that somebody asks for.
type Change struct {
	Job      string // id; of a new job from NewID
	Expected int    // revision that the text started from; 0 for a new job
	Who      string
	Why      string // may be empty
	Text     []byte // the job file whole
	Name     string // the page's own name for the save, which makes it once however often it is sent; may be empty
}
