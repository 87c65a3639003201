//! By what records were made: which limit sheets, which programs and firmware, and from when to when.

use jiff::Timestamp;
use rusqlite::{Row, params_from_iter};

use crate::list::conditions;
use crate::one::{text, time};
use crate::{Filter, Store, StoreError, sha256};

/// Something that records were made by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Used<T> {
    /// What.
    pub what: T,
    /// How many records.
    pub records: u32,
    /// When the first of them was measured, or else saved, and when the last.
    pub between: [Timestamp; 2],
}

/// A limit sheet, as one text of it was used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UsedSheet {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// Of its text, hexadecimal.
    pub sha256: String,
}

/// What measured and judged.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Versions {
    /// The program that judged.
    pub program: String,
    /// The jig's firmware.
    pub firmware: String,
    /// The jig's board.
    pub board: String,
}

impl Store {
    /// The limit sheets of the records that are looked for, each text by itself, the one that was used first first.
    pub fn used_sheets(&self, filter: &Filter) -> Result<Vec<Used<UsedSheet>>, StoreError> {
        let sheet = |row: &Row<'_>| {
            let text = text(row, 5)?;
            Ok(UsedSheet { name: row.get(3)?, version: row.get(4)?, sha256: sha256(&text) })
        };
        self.used(
            filter,
            "sheet.name, sheet.version, sheet.text",
            "JOIN sheet ON sheet.number = record.sheet",
            "sheet.number",
            sheet,
        )
    }

    /// The programs and firmware by which the records that are looked for were made, likewise.
    pub fn used_versions(&self, filter: &Filter) -> Result<Vec<Used<Versions>>, StoreError> {
        let columns = "record.program, record.firmware, record.board";
        let versions = |row: &Row<'_>| {
            Ok(Versions { program: row.get(3)?, firmware: row.get(4)?, board: row.get(5)? })
        };
        self.used(filter, columns, "", columns, versions)
    }

    fn used<T>(
        &self,
        filter: &Filter,
        columns: &str,
        join: &str,
        by: &str,
        read: impl Fn(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<Used<T>>, StoreError> {
        let (condition, values) = conditions(filter);
        let sql = format!(
            "SELECT COUNT(*), MIN(record.order_ms), MAX(record.order_ms), {columns} FROM record {join} \
             WHERE {condition} GROUP BY {by} ORDER BY 2"
        );
        let all = || {
            let mut all = self.connection.prepare(&sql)?;
            let found = all.query_map(params_from_iter(values), |row| {
                let between = [time(1, row.get(1)?)?, time(2, row.get(2)?)?];
                Ok(Used { what: read(row)?, records: row.get(0)?, between })
            })?;
            found.collect::<rusqlite::Result<_>>()
        };
        all().map_err(|source| self.wrong(source))
    }
}
