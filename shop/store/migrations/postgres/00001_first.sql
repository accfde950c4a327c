-- +goose Up
CREATE TABLE jobs (
    id         TEXT    NOT NULL PRIMARY KEY,
    revision   BIGINT  NOT NULL,
    created_at BIGINT  NOT NULL,
    saved_at   BIGINT  NOT NULL,
    saved_by   TEXT    NOT NULL,
    why        TEXT    NOT NULL,
    sha256     TEXT    NOT NULL,
    number     TEXT    NOT NULL,
    owner      TEXT    NOT NULL,
    plate      TEXT    NOT NULL,
    car        TEXT    NOT NULL,
    haystack   TEXT    NOT NULL,
    by_number  TEXT    NOT NULL,
    by_owner   TEXT    NOT NULL,
    by_plate   TEXT    NOT NULL,
    by_car     TEXT    NOT NULL,
    by_build   TEXT    NOT NULL,
    by_part    TEXT    NOT NULL,
    by_serial  TEXT    NOT NULL
);
CREATE INDEX jobs_saved_at ON jobs (saved_at);
CREATE INDEX jobs_sha256 ON jobs (sha256);

CREATE TABLE job_revisions (
    job_id   TEXT    NOT NULL REFERENCES jobs (id),
    number   BIGINT  NOT NULL,
    saved_at BIGINT  NOT NULL,
    saved_by TEXT    NOT NULL,
    why      TEXT    NOT NULL,
    sha256   TEXT    NOT NULL,
    text     TEXT    NOT NULL,
    PRIMARY KEY (job_id, number)
);

CREATE TABLE job_words (
    job_id TEXT    NOT NULL REFERENCES jobs (id),
    place  BIGINT  NOT NULL,
    kind   TEXT    NOT NULL,
    word   TEXT    NOT NULL,
    PRIMARY KEY (job_id, place)
);

CREATE TABLE drafts (
    person   TEXT    NOT NULL,
    job_id   TEXT    NOT NULL,
    base     BIGINT  NOT NULL,
    saved_at BIGINT  NOT NULL,
    text     TEXT    NOT NULL,
    PRIMARY KEY (person, job_id)
);

CREATE TABLE parts (
    kind     TEXT    NOT NULL,
    slug     TEXT    NOT NULL,
    revision BIGINT  NOT NULL,
    PRIMARY KEY (kind, slug)
);

CREATE TABLE part_revisions (
    kind      TEXT    NOT NULL,
    slug      TEXT    NOT NULL,
    number    BIGINT  NOT NULL,
    saved_at  BIGINT  NOT NULL,
    saved_by  TEXT    NOT NULL,
    why       TEXT    NOT NULL,
    name      TEXT    NOT NULL,
    text      TEXT    NOT NULL,
    source    TEXT    NOT NULL,
    dated     TEXT    NOT NULL,
    stock     TEXT    NOT NULL,
    withdrawn BOOLEAN NOT NULL,
    PRIMARY KEY (kind, slug, number),
    FOREIGN KEY (kind, slug) REFERENCES parts (kind, slug)
);

CREATE TABLE presets (
    slug     TEXT    NOT NULL PRIMARY KEY,
    revision BIGINT  NOT NULL
);

CREATE TABLE preset_revisions (
    slug      TEXT    NOT NULL REFERENCES presets (slug),
    number    BIGINT  NOT NULL,
    saved_at  BIGINT  NOT NULL,
    saved_by  TEXT    NOT NULL,
    why       TEXT    NOT NULL,
    car       TEXT    NOT NULL,
    name      TEXT    NOT NULL,
    text      TEXT    NOT NULL,
    withdrawn BOOLEAN NOT NULL,
    PRIMARY KEY (slug, number)
);

CREATE TABLE rounds (
    id       TEXT    NOT NULL PRIMARY KEY,
    job_id   TEXT    NOT NULL REFERENCES jobs (id),
    build    TEXT    NOT NULL,
    kind     TEXT    NOT NULL,
    number   BIGINT  NOT NULL,
    taken_at BIGINT  NOT NULL,
    saved_at BIGINT  NOT NULL,
    taken_by TEXT    NOT NULL,
    text     TEXT    NOT NULL
);
CREATE UNIQUE INDEX rounds_number ON rounds (job_id, build, kind, number);

CREATE TABLE runs (
    id          TEXT             NOT NULL PRIMARY KEY,
    job_id      TEXT             NOT NULL,
    revision    BIGINT           NOT NULL,
    kind        TEXT             NOT NULL,
    state       TEXT             NOT NULL,
    progress    DOUBLE PRECISION NOT NULL,
    stage       TEXT             NOT NULL,
    fault       TEXT             NOT NULL,
    worker      TEXT             NOT NULL,
    asked_by    TEXT             NOT NULL,
    created_at  BIGINT           NOT NULL,
    heard_at    BIGINT           NOT NULL,
    finished_at BIGINT           NOT NULL,
    FOREIGN KEY (job_id, revision) REFERENCES job_revisions (job_id, number)
);
CREATE INDEX runs_job ON runs (job_id, revision);
CREATE INDEX runs_state ON runs (state, created_at);

CREATE TABLE run_answers (
    run_id TEXT    NOT NULL PRIMARY KEY REFERENCES runs (id),
    size   BIGINT  NOT NULL,
    answer BYTEA    NOT NULL
);

CREATE TABLE people (
    folded     TEXT    NOT NULL PRIMARY KEY,
    name       TEXT    NOT NULL,
    role       TEXT    NOT NULL,
    passphrase TEXT    NOT NULL,
    created_at BIGINT  NOT NULL,
    barred     BOOLEAN NOT NULL
);

CREATE TABLE sessions (
    token_hash TEXT    NOT NULL PRIMARY KEY,
    data       BYTEA    NOT NULL,
    expires_at BIGINT  NOT NULL
);
CREATE INDEX sessions_expires_at ON sessions (expires_at);
