package store

import (
	"context"
	"database/sql"
	"errors"
	"strings"
)

// check runs one of the database's own checks.
func check(ctx context.Context, db *sql.DB, where, pragma string) (err error) {
	damaged := func(what string) error {
		return &Trouble{Kind: Damaged, Where: where, Got: "is damaged: " + cut(oneLine(what), 300)}
	}
	pragmas := []string{pragma + "(20)"}
	if pragma == "integrity_check" {
		pragmas = append(pragmas, "foreign_key_check")
	}
	for _, pragma := range pragmas {
		rows, err := db.QueryContext(ctx, "PRAGMA "+pragma)
		if err != nil {
			return troubleAt(where, err)
		}
		var found []string
		columns, err := rows.Columns()
		for err == nil && rows.Next() {
			cells := make([]sql.NullString, len(columns))
			into := make([]any, len(columns))
			for i := range cells {
				into[i] = &cells[i]
			}
			if err = rows.Scan(into...); err == nil && cells[0].String != "ok" {
				text := cells[0].String
				if len(columns) > 1 {
					text = "a row of " + text + " points at nothing"
				}
				found = append(found, text)
			}
		}
		if err = errors.Join(err, rows.Err(), rows.Close()); err != nil {
			return troubleAt(where, err)
		}
		if found != nil {
			return damaged(strings.Join(found, ", "))
		}
	}
	return nil
}
