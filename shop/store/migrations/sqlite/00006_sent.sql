-- +goose Up
-- Saves by the name that the page gave them: one whose answer was lost on its way is
-- sent again, perhaps after others saved, and is kept once.
CREATE TABLE sent (
    id       TEXT    NOT NULL PRIMARY KEY,
    job_id   TEXT    NOT NULL REFERENCES jobs (id),
    revision INTEGER NOT NULL,
    saved_by TEXT    NOT NULL
);
