//! One record, read back whole.

use jiff::Timestamp;
use rusqlite::types::Type;
use rusqlite::{Error, Row};
use uuid::Uuid;

use crate::pack::unpacked;
use crate::record::verdict_of;
use crate::{Detail, Packed, Record, Sheet, Store, StoreError};

impl Store {
    /// The record of this number, whole.
    pub fn record(&self, number: i64) -> Result<Record, StoreError> {
        let found = self.plainly(number);
        found.map_err(|source| match source {
            Error::QueryReturnedNoRows => StoreError::NoRecord { which: number.to_string() },
            other => self.wrong(other),
        })
    }

    /// What followed from the record of this number then: a JSON value.
    pub fn result(&self, number: i64) -> Result<serde_json::Value, StoreError> {
        let sql = "SELECT result FROM measured WHERE number = ?";
        let found = self.connection.prepare_cached(sql).and_then(|mut one| {
            one.query_row([number], |row| {
                let wrong = |error| Error::FromSqlConversionFailure(0, Type::Blob, Box::new(error));
                serde_json::from_str(&text(row, 0)?).map_err(wrong)
            })
        });
        found.map_err(|source| match source {
            Error::QueryReturnedNoRows => StoreError::NoRecord { which: number.to_string() },
            other => self.wrong(other),
        })
    }

    /// The record of this number, as it lies here. One that an older schema kept has its digest from [`Store::marks`].
    pub fn packed(&self, number: i64) -> Result<Packed, StoreError> {
        let lying = || {
            let (record, capture, result) = self.lying(number)?;
            let mut marks = self.connection.prepare_cached(
                "SELECT sha256, capture_sha256 FROM record JOIN digest USING (number) WHERE number = ?",
            )?;
            let (digest, capture_sha256) =
                marks.query_row([number], |row| Ok((row.get(0)?, row.get(1)?)))?;
            Ok(Packed { record, capture, result, digest, capture_sha256 })
        };
        lying().map_err(|source| self.wrong(source))
    }

    fn plainly(&self, number: i64) -> rusqlite::Result<Record> {
        let (record, capture, result) = self.lying(number)?;
        Ok(Record { capture: plain(13, &capture)?, result: plain(14, &result)?, ..record })
    }

    /// Without its long texts, and these as they are packed.
    fn lying(&self, number: i64) -> rusqlite::Result<(Record, Vec<u8>, Vec<u8>)> {
        let details = self.details(number)?;
        let mut one = self.connection.prepare_cached(
            "SELECT id, kind, taken_ms, zone, verdict, said, found, simulated, jig, board, firmware, program, told, \
             capture, result, sheet.name, sheet.version, sheet.text FROM record \
             JOIN measured USING (number) LEFT JOIN sheet ON sheet.number = record.sheet WHERE record.number = ?",
        )?;
        one.query_row([number], |row| {
            let taken: Option<i64> = row.get(2)?;
            let record = Record {
                id: id(row, 0)?,
                kind: word(row, 1, |text| text.parse().ok())?,
                taken: taken.map(|ms| time(2, ms)).transpose()?,
                zone: row.get(3)?,
                verdict: verdict(row, 4)?,
                said: row.get(5)?,
                found: row.get::<_, String>(6)?.split_whitespace().map(str::to_owned).collect(),
                simulated: row.get(7)?,
                jig: row.get(8)?,
                board: row.get(9)?,
                firmware: row.get(10)?,
                program: row.get(11)?,
                told: row.get(12)?,
                capture: String::new(),
                result: String::new(),
                sheet: match row.get(15)? {
                    Some(name) => Some(Sheet { name, version: row.get(16)?, text: text(row, 17)? }),
                    None => None,
                },
                details,
            };
            Ok((record, row.get(13)?, row.get(14)?))
        })
    }

    pub(crate) fn details(&self, number: i64) -> rusqlite::Result<Vec<Detail>> {
        let mut all = self.connection.prepare_cached(
            "SELECT id, said_ms, key, value FROM detail WHERE number = ? ORDER BY id",
        )?;
        let details = all.query_map([number], |row| {
            Ok(Detail {
                id: id(row, 0)?,
                said: time(1, row.get(1)?)?,
                key: word(row, 2, |text| text.parse().ok())?,
                value: row.get(3)?,
            })
        })?;
        details.collect()
    }
}

pub(crate) fn id(row: &Row<'_>, column: usize) -> rusqlite::Result<Uuid> {
    word(row, column, |text| text.parse().ok())
}

pub(crate) fn verdict(
    row: &Row<'_>,
    column: usize,
) -> rusqlite::Result<Option<runproof_interpret::judgement::Verdict>> {
    match row.get_ref(column)? {
        rusqlite::types::ValueRef::Null => Ok(None),
        _ => word(row, column, verdict_of).map(Some),
    }
}

/// A word that this version knows.
pub(crate) fn word<T>(
    row: &Row<'_>,
    column: usize,
    known: impl Fn(&str) -> Option<T>,
) -> rusqlite::Result<T> {
    let text: String = row.get(column)?;
    known(&text).ok_or_else(|| unusable(column, Type::Text, format!("`{text}` is not known")))
}

pub(crate) fn time(column: usize, ms: i64) -> rusqlite::Result<Timestamp> {
    Timestamp::from_millisecond(ms)
        .map_err(|error| unusable(column, Type::Integer, error.to_string()))
}

pub(crate) fn text(row: &Row<'_>, column: usize) -> rusqlite::Result<String> {
    let packed: Vec<u8> = row.get(column)?;
    plain(column, &packed)
}

fn plain(column: usize, packed: &[u8]) -> rusqlite::Result<String> {
    unpacked(packed).map_err(|error| unusable(column, Type::Blob, error.to_string()))
}

fn unusable(column: usize, kind: Type, why: String) -> Error {
    Error::FromSqlConversionFailure(column, kind, why.into())
}
