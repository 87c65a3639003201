//! What is here, told by marks: which records, and what was said about them.

use rusqlite::{Connection, params};
use uuid::Uuid;

use crate::digest::{Digest, of_detail};
use crate::{Detail, Store, StoreError, one};

/// Of so many records the digests are added in one transaction.
const AT_ONCE: usize = 500;

/// What tells a record from every other, and from what somebody made of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// Everywhere's.
    pub id: Uuid,
    /// Of all that never changes of it.
    pub digest: Digest,
}

/// The same of something that was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DetailMark {
    /// About which record.
    pub record: Uuid,
    /// Which of the things that were said.
    pub id: Uuid,
    /// Of all of it.
    pub digest: Digest,
}

impl Store {
    /// Of all records, by their ids.
    pub fn marks(&mut self) -> Result<Vec<Mark>, StoreError> {
        self.digest_the_old()?;
        let all = || {
            let mut all = self
                .connection
                .prepare("SELECT id, sha256 FROM record JOIN digest USING (number) ORDER BY id")?;
            let marks =
                all.query_map([], |row| Ok(Mark { id: one::id(row, 0)?, digest: row.get(1)? }))?;
            marks.collect::<rusqlite::Result<_>>()
        };
        all().map_err(|source| self.wrong(source))
    }

    /// Of all that was said about them, by the records' ids and then by their own.
    pub fn detail_marks(&self) -> Result<Vec<DetailMark>, StoreError> {
        let all = || {
            let mut all = self.connection.prepare(
                "SELECT record.id, detail.id, said_ms, key, value FROM detail JOIN record USING (number) \
                 ORDER BY record.id, detail.id",
            )?;
            let marks = all.query_map([], |row| {
                let [id, key, value]: [String; 3] = [row.get(1)?, row.get(3)?, row.get(4)?];
                let digest = of_detail(&id, row.get(2)?, &key, &value);
                Ok(DetailMark { record: one::id(row, 0)?, id: one::id(row, 1)?, digest })
            })?;
            marks.collect::<rusqlite::Result<_>>()
        };
        all().map_err(|source| self.wrong(source))
    }

    /// What was said about the record of this number, in the order it was said.
    pub fn said(&self, number: i64) -> Result<Vec<Detail>, StoreError> {
        self.details(number).map_err(|source| self.wrong(source))
    }

    /// Those that an older schema kept.
    fn digest_the_old(&mut self) -> Result<(), StoreError> {
        let old = "SELECT number FROM record WHERE number NOT IN (SELECT number FROM digest)";
        let numbers = self.connection.prepare(old).and_then(|mut old| {
            old.query_map([], |row| row.get(0))?.collect::<rusqlite::Result<Vec<i64>>>()
        });
        for numbers in numbers.map_err(|source| self.wrong(source))?.chunks(AT_ONCE) {
            let digest = |number: &i64| Ok((*number, self.record(*number)?.digest()));
            let digests = numbers.iter().map(digest).collect::<Result<Vec<_>, StoreError>>()?;
            self.at_once(|all| {
                digests.iter().try_for_each(|(number, digest)| keep(all, *number, digest))
            })?;
        }
        Ok(())
    }
}

/// Another program may have been quicker.
pub(crate) fn keep(all: &Connection, number: i64, digest: &Digest) -> rusqlite::Result<()> {
    all.prepare_cached("INSERT INTO digest (number, sha256) VALUES (?, ?) ON CONFLICT DO NOTHING")?
        .execute(params![number, digest])?;
    Ok(())
}
