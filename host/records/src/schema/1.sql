-- The first schema. A store is never changed back: each later one is a file beside this, and adds to it.

-- What was measured, once and for all. `number` is this store's own, `id` (UUIDv7) is the same everywhere.
CREATE TABLE record (
    number         INTEGER PRIMARY KEY AUTOINCREMENT,
    id             TEXT NOT NULL UNIQUE,
    kind           TEXT NOT NULL,            -- check, to-earth, live, zero
    taken_ms       INTEGER,                  -- when it was measured, ms since 1970, UTC; null: that was not kept
    zone           TEXT NOT NULL,            -- of the computer that saved it, by its IANA name or as ±hh:mm
    saved_ms       INTEGER NOT NULL,         -- when it came into this store
    order_ms       INTEGER NOT NULL,         -- taken_ms, or else saved_ms
    verdict        TEXT,                     -- pass, fail, cannot-tell; null: a zero has none
    said           TEXT NOT NULL,            -- the verdict's reason, as it was said then
    found          TEXT NOT NULL,            -- the kinds of what was found, the gravest first, with spaces between
    simulated      INTEGER NOT NULL,         -- 1: no real jig
    jig            TEXT NOT NULL,            -- its serial
    board          TEXT NOT NULL,
    firmware       TEXT NOT NULL,
    program        TEXT NOT NULL,            -- that judged
    sheet          INTEGER REFERENCES sheet, -- the limits that it was held to; null: a zero is held to none
    told           TEXT NOT NULL,            -- what was told of the run, JSON
    capture_sha256 TEXT NOT NULL             -- of the capture's text, hexadecimal
);
CREATE INDEX record_order ON record (order_ms);
CREATE INDEX record_capture ON record (capture_sha256);

-- Texts that are read one at a time, each a zlib stream (RFC 1950) of UTF-8.
CREATE TABLE measured (
    number  INTEGER PRIMARY KEY REFERENCES record,
    capture BLOB NOT NULL, -- all that was measured, as `--save` writes it
    result  BLOB NOT NULL  -- what followed from it then, as `--json` prints it
);

-- Limit sheets as they were used, each text once; `text` is a zlib stream as well.
CREATE TABLE sheet (
    number  INTEGER PRIMARY KEY,
    name    TEXT NOT NULL,
    version TEXT NOT NULL,
    text    BLOB NOT NULL,
    UNIQUE (name, version, text)
);

-- What somebody said about a record, when. Nothing here is taken back: of a key that has one value the last one counts.
CREATE TABLE detail (
    number  INTEGER NOT NULL REFERENCES record,
    id      TEXT NOT NULL, -- UUIDv7
    said_ms INTEGER NOT NULL,
    key     TEXT NOT NULL,
    value   TEXT NOT NULL,
    PRIMARY KEY (number, id)
) WITHOUT ROWID;
CREATE INDEX detail_by ON detail (key, value);

-- What a record is found by.
CREATE VIRTUAL TABLE words USING fts5 (text, tokenize = 'trigram remove_diacritics 1');

-- Records are evidence.
CREATE TRIGGER record_stays   BEFORE DELETE ON record   BEGIN SELECT RAISE (ABORT, 'records are never deleted'); END;
CREATE TRIGGER record_is      BEFORE UPDATE ON record   BEGIN SELECT RAISE (ABORT, 'records are never changed'); END;
CREATE TRIGGER measured_stays BEFORE DELETE ON measured BEGIN SELECT RAISE (ABORT, 'records are never deleted'); END;
CREATE TRIGGER measured_is    BEFORE UPDATE ON measured BEGIN SELECT RAISE (ABORT, 'records are never changed'); END;
CREATE TRIGGER sheet_stays    BEFORE DELETE ON sheet    BEGIN SELECT RAISE (ABORT, 'records are never deleted'); END;
CREATE TRIGGER sheet_is       BEFORE UPDATE ON sheet    BEGIN SELECT RAISE (ABORT, 'records are never changed'); END;
CREATE TRIGGER detail_stays   BEFORE DELETE ON detail   BEGIN SELECT RAISE (ABORT, 'records are never deleted'); END;
CREATE TRIGGER detail_is      BEFORE UPDATE ON detail   BEGIN SELECT RAISE (ABORT, 'records are never changed'); END;
