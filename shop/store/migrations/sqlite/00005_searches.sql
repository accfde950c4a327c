-- +goose Up
-- A search whose steps are handed out in pieces: what it was made ready of, who waits
-- for it, and the pieces with what came out of them. The id of a search and of a piece
-- is the fingerprint of what it is computed from. All of it can be thrown away.
CREATE TABLE searches (
    id       TEXT    NOT NULL PRIMARY KEY,
    program  TEXT    NOT NULL,
    heard_at INTEGER NOT NULL,
    size     INTEGER NOT NULL,
    inputs   BLOB    NOT NULL
);

CREATE TABLE search_askers (
    search_id TEXT    NOT NULL REFERENCES searches (id),
    asker     TEXT    NOT NULL,
    heard_at  INTEGER NOT NULL,
    PRIMARY KEY (search_id, asker)
);

CREATE TABLE search_pieces (
    id        TEXT    NOT NULL PRIMARY KEY,
    search_id TEXT    NOT NULL REFERENCES searches (id),
    place     INTEGER NOT NULL,
    state     TEXT    NOT NULL,
    worker    TEXT    NOT NULL,
    asked_at  INTEGER NOT NULL,
    heard_at  INTEGER NOT NULL,
    taken     INTEGER NOT NULL,
    failed    INTEGER NOT NULL,
    fault     TEXT    NOT NULL,
    piece     BLOB    NOT NULL,
    size      INTEGER NOT NULL,
    result    BLOB    NOT NULL
);
CREATE INDEX search_pieces_next ON search_pieces (search_id, state, taken, asked_at, place);
