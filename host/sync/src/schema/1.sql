-- The first schema of the server. It is never changed back: each later one is a file beside this, and adds to it.
-- The columns mean what they mean in a store (host/records/src/schema/1.sql).

-- Limit sheets as they were used, each once, by the SHA-256 of name, version and text.
CREATE TABLE runproof.sheet (
    sha256  bytea PRIMARY KEY,
    name    text NOT NULL,
    version text NOT NULL,
    text    text NOT NULL -- TOML
);

-- What was measured, once and for all.
CREATE TABLE runproof.record (
    id             uuid PRIMARY KEY,
    digest         bytea NOT NULL, -- SHA-256 of all that never changes of it; says whether two sides hold the same
    kind           text NOT NULL,
    taken          timestamptz,    -- by the clock of the computer that measured; null: that was not kept
    zone           text NOT NULL,
    verdict        text,
    said           text NOT NULL,
    found          text NOT NULL,
    simulated      boolean NOT NULL,
    jig            text NOT NULL,
    board          text NOT NULL,
    firmware       text NOT NULL,
    program        text NOT NULL,
    sheet          bytea REFERENCES runproof.sheet,
    told           text NOT NULL,  -- JSON
    capture_sha256 text NOT NULL,
    capture        bytea NOT NULL, -- a zlib stream (RFC 1950) of UTF-8
    result         bytea NOT NULL, -- the same, of JSON
    arrived        timestamptz NOT NULL DEFAULT now() -- by the server's clock; nothing follows from it
);
ALTER TABLE runproof.record ALTER COLUMN capture SET STORAGE EXTERNAL, ALTER COLUMN result SET STORAGE EXTERNAL;
CREATE INDEX record_taken ON runproof.record (taken);

-- What somebody said about a record, when. Of a key that has one value the last one counts, by its id.
CREATE TABLE runproof.detail (
    record  uuid NOT NULL REFERENCES runproof.record,
    id      uuid NOT NULL,
    digest  bytea NOT NULL,
    said    timestamptz NOT NULL,
    key     text NOT NULL,
    value   text NOT NULL,
    arrived timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (record, id)
);
CREATE INDEX detail_key ON runproof.detail (key);

-- Records are evidence.
CREATE FUNCTION runproof.stays () RETURNS trigger LANGUAGE plpgsql AS
    'BEGIN RAISE EXCEPTION ''records are never changed or deleted''; END';
CREATE TRIGGER stays BEFORE UPDATE OR DELETE OR TRUNCATE ON runproof.sheet  EXECUTE FUNCTION runproof.stays ();
CREATE TRIGGER stays BEFORE UPDATE OR DELETE OR TRUNCATE ON runproof.record EXECUTE FUNCTION runproof.stays ();
CREATE TRIGGER stays BEFORE UPDATE OR DELETE OR TRUNCATE ON runproof.detail EXECUTE FUNCTION runproof.stays ();
