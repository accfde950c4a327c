package answer

import (
	"encoding/json"
	"io"

	"trunnion/shop/wording"
)

// Table is figures in rows; null where one does not apply.
type Table struct {
	Columns []Column     `json:"columns"`
	Rows    [][]*float64 `json:"rows"` // [SI unit of the column]
}

// Column is a column of a table.
type Column struct {
	Name string `json:"name"` // with its SI unit
	Unit string `json:"unit"`
}

// TableOf lays rows out in columns.
func TableOf[T any](columns []wording.Column[T], rows []T) Table {
	t := Table{Columns: []Column{}, Rows: [][]*float64{}}
	for _, c := range columns {
		t.Columns = append(t.Columns, Column{c.Name, c.SI})
	}
	for i := range rows {
		row := make([]*float64, 0, len(columns))
		for _, c := range columns {
			row = append(row, Finite(c.Of(&rows[i])))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// WriteJSON writes a document, indented.
func WriteJSON(w io.Writer, document any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(document)
}
