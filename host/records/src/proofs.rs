//! How a jig was proved: what it said of known pieces.

use jiff::Timestamp;
use runproof_interpret::judgement::Verdict;
use rusqlite::Row;

use crate::one::{text, time, verdict};
use crate::{Kind, Store, StoreError};

/// A known piece, as a jig read it.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceTest {
    /// This store's number of its record.
    pub number: i64,
    /// When it was measured, or else saved.
    pub at: Timestamp,
    /// Whether the jig said of it what is stated.
    pub verdict: Option<Verdict>,
    /// Which piece, and what is stated of it: a JSON value, as text.
    pub told: String,
    /// What the jig said: a JSON value, as text.
    pub result: String,
    /// No real jig measured it.
    pub simulated: bool,
    /// It no longer counts.
    pub void: bool,
}

impl Store {
    /// The pieces that the jig of this serial measured, the oldest first; those that are void as well.
    pub fn piece_tests(&self, jig: &str) -> Result<Vec<PieceTest>, StoreError> {
        let sql = "SELECT number, order_ms, verdict, told, result, simulated, \
             number IN (SELECT number FROM detail WHERE key = 'void') FROM record JOIN measured USING (number) \
             WHERE kind = ? AND jig = ? ORDER BY order_ms, number";
        let all = || {
            let mut all = self.connection.prepare_cached(sql)?;
            let found = all.query_map([Kind::Proof.name(), jig], piece_test)?;
            found.collect::<rusqlite::Result<_>>()
        };
        all().map_err(|source| self.wrong(source))
    }

    /// The serials of the jigs that were proved, in their order.
    pub fn proved_jigs(&self) -> Result<Vec<String>, StoreError> {
        let all = || {
            let sql = "SELECT DISTINCT jig FROM record WHERE kind = ? ORDER BY jig";
            let mut all = self.connection.prepare_cached(sql)?;
            let found = all.query_map([Kind::Proof.name()], |row| row.get(0))?;
            found.collect::<rusqlite::Result<_>>()
        };
        all().map_err(|source| self.wrong(source))
    }
}

fn piece_test(row: &Row<'_>) -> rusqlite::Result<PieceTest> {
    Ok(PieceTest {
        number: row.get(0)?,
        at: time(1, row.get(1)?)?,
        verdict: verdict(row, 2)?,
        told: row.get(3)?,
        result: text(row, 4)?,
        simulated: row.get(5)?,
        void: row.get(6)?,
    })
}
