-- The second schema: what two stores tell by whether they hold the same of a record, without reading it.

-- SHA-256 of all that never changes of a record (host/sync/sync-format.md says in what form). Of a record that was kept by
-- the first schema it is added when it is first asked for.
CREATE TABLE digest (
    number INTEGER PRIMARY KEY REFERENCES record,
    sha256 BLOB NOT NULL
);

CREATE TRIGGER digest_stays BEFORE DELETE ON digest BEGIN SELECT RAISE (ABORT, 'records are never deleted'); END;
CREATE TRIGGER digest_is    BEFORE UPDATE ON digest BEGIN SELECT RAISE (ABORT, 'records are never changed'); END;
