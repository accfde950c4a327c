-- +goose Up
-- A search whose steps are handed out in pieces: what it was made ready of, who waits
-- for it, and the pieces with what came out of them. The id of a search and of a piece
-- is the fingerprint of what it is computed from. All of it can be thrown away.
CREATE TABLE searches (
    id       TEXT    NOT NULL PRIMARY KEY,
    program  TEXT    NOT NULL,
    heard_at BIGINT  NOT NULL,
    size     BIGINT  NOT NULL,
    inputs   BYTEA    NOT NULL
);

CREATE TABLE search_askers (
    search_id TEXT    NOT NULL REFERENCES searches (id),
    asker     TEXT    NOT NULL,
    heard_at  BIGINT  NOT NULL,
    PRIMARY KEY (search_id, asker)
);

CREATE TABLE search_pieces (
    id        TEXT    NOT NULL PRIMARY KEY,
    search_id TEXT    NOT NULL REFERENCES searches (id),
    place     BIGINT  NOT NULL,
    state     TEXT    NOT NULL,
    worker    TEXT    NOT NULL,
    asked_at  BIGINT  NOT NULL,
    heard_at  BIGINT  NOT NULL,
    taken     BIGINT  NOT NULL,
    failed    BIGINT  NOT NULL,
    fault     TEXT    NOT NULL,
    piece     BYTEA    NOT NULL,
    size      BIGINT  NOT NULL,
    result    BYTEA    NOT NULL
);
CREATE INDEX search_pieces_next ON search_pieces (search_id, state, taken, asked_at, place);
