-- +goose Up
-- What was derived from a revision's text and takes time to derive: it can be
-- thrown away and made again.
CREATE TABLE derived (
    job_id TEXT    NOT NULL,
    number BIGINT  NOT NULL,
    kind   TEXT    NOT NULL,
    text   TEXT    NOT NULL,
    PRIMARY KEY (job_id, number, kind),
    FOREIGN KEY (job_id, number) REFERENCES job_revisions (job_id, number)
);
CREATE INDEX derived_kind ON derived (kind);
