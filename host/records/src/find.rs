//! Which record is meant: by this store's number, or by its id's beginning or end.

use rusqlite::OptionalExtension;
use uuid::Uuid;

use crate::{Store, StoreError, one};

/// Of an id; less is a number, or too little to mean one.
const LETTERS_MIN: usize = 4;

impl Store {
    /// The number of the record that is meant.
    pub fn find(&self, which: &str) -> Result<i64, StoreError> {
        let which = which.trim().to_ascii_lowercase();
        let number = which.parse::<i64>().ok();
        let found = number.map(|number| self.has(number)).transpose()?;
        if let (Some(number), Some(true)) = (number, found) {
            return Ok(number);
        }
        let is_id =
            which.len() >= LETTERS_MIN && which.chars().all(|c| c.is_ascii_hexdigit() || c == '-');
        let numbers = if is_id { self.by_id(&which)? } else { vec![] };
        match numbers.as_slice() {
            [number] => Ok(*number),
            [] => Err(StoreError::NoRecord { which }),
            several => Err(StoreError::Several { which, count: several.len() }),
        }
    }

    /// The numbers of all records of this very capture.
    pub fn of_capture(&self, sha256: &str) -> Result<Vec<i64>, StoreError> {
        self.numbers("SELECT number FROM record WHERE capture_sha256 = ? ORDER BY number", sha256)
    }

    /// The number of the record of this id; none where it is not here.
    pub fn number(&self, id: Uuid) -> Result<Option<i64>, StoreError> {
        let numbers = self.numbers("SELECT number FROM record WHERE id = ?", &id.to_string())?;
        Ok(numbers.first().copied())
    }

    /// The id of the record of this number.
    pub fn id(&self, number: i64) -> Result<Uuid, StoreError> {
        let sql = "SELECT id FROM record WHERE number = ?";
        let found = self.connection.query_row(sql, [number], |row| one::id(row, 0)).optional();
        let none = || StoreError::NoRecord { which: number.to_string() };
        found.map_err(|source| self.wrong(source))?.ok_or_else(none)
    }

    fn has(&self, number: i64) -> Result<bool, StoreError> {
        let found = self
            .connection
            .query_row("SELECT 1 FROM record WHERE number = ?", [number], |_| Ok(()))
            .optional();
        Ok(found.map_err(|source| self.wrong(source))?.is_some())
    }

    fn by_id(&self, part: &str) -> Result<Vec<i64>, StoreError> {
        let begins = "SELECT number FROM record WHERE id >= ?1 AND id < ?1 || 'g' ORDER BY number";
        let found = self.numbers(begins, part)?;
        if !found.is_empty() {
            return Ok(found);
        }
        self.numbers("SELECT number FROM record WHERE id LIKE '%' || ? ORDER BY number", part)
    }

    fn numbers(&self, sql: &str, parameter: &str) -> Result<Vec<i64>, StoreError> {
        let all = || {
            let mut all = self.connection.prepare_cached(sql)?;
            let numbers = all.query_map([parameter], |row| row.get(0))?;
            numbers.collect::<rusqlite::Result<Vec<i64>>>()
        };
        all().map_err(|source| self.wrong(source))
    }
}
