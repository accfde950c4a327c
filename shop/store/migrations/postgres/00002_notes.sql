-- +goose Up
CREATE TABLE notes (
    id       TEXT    NOT NULL PRIMARY KEY,
    job_id   TEXT    NOT NULL REFERENCES jobs (id),
    kind     TEXT    NOT NULL,
    revision BIGINT  NOT NULL,
    taken_at BIGINT  NOT NULL,
    saved_at BIGINT  NOT NULL,
    who      TEXT    NOT NULL,
    text     TEXT    NOT NULL
);
CREATE INDEX notes_job ON notes (job_id, saved_at);
CREATE INDEX notes_kind ON notes (kind, saved_at);

CREATE TABLE workshop_revisions (
    number       BIGINT  NOT NULL PRIMARY KEY,
    saved_at     BIGINT  NOT NULL,
    saved_by     TEXT    NOT NULL,
    why          TEXT    NOT NULL,
    name         TEXT    NOT NULL,
    words        TEXT    NOT NULL,
    logo         BYTEA   NOT NULL,
    recheck_days BIGINT  NOT NULL,
    recheck_km   BIGINT  NOT NULL
);
