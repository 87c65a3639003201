//! Lots: each has a record of its own, and each test of one of its units says which lot and which unit it is of.

use jiff::Timestamp;
use runproof_interpret::judgement::Verdict;
use rusqlite::{Row, params};

use crate::one::{time, verdict, word};
use crate::{Key, Kind, Store, StoreError};

/// The test of one unit of a lot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitTest {
    /// This store's number of its record.
    pub number: i64,
    /// What kind of test it was.
    pub kind: Kind,
    /// The unit, as it was said last.
    pub unit: String,
    /// Of the unit as a whole.
    pub verdict: Option<Verdict>,
    /// When it was measured, or else saved.
    pub at: Timestamp,
    /// The jig's serial.
    pub jig: String,
    /// No real jig measured it.
    pub simulated: bool,
    /// Why it no longer counts.
    pub void: Option<String>,
    /// It was of this lot once, and by the last word is not.
    pub moved: bool,
    /// It was judged by the very limit sheet that the lot was declared with.
    pub by_the_lots_sheet: bool,
}

impl UnitTest {
    /// It is one of its lot, and not void.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.void.is_none() && !self.moved
    }
}

/// What was said last of a key that has one value.
const LAST: &str = "SELECT value FROM detail WHERE detail.number = record.number AND key = ? ORDER BY id DESC LIMIT 1";
const NOT_VOID: &str = "record.number NOT IN (SELECT number FROM detail WHERE key = 'void')";

impl Store {
    /// The numbers of the lots' own records, the newest first; none that is void.
    pub fn lots(&self) -> Result<Vec<i64>, StoreError> {
        let sql = format!(
            "SELECT number FROM record WHERE kind = ? AND {NOT_VOID} ORDER BY order_ms DESC, number DESC"
        );
        let all = || {
            let mut all = self.connection.prepare_cached(&sql)?;
            all.query_map([Kind::Lot.name()], |row| row.get(0))?.collect::<rusqlite::Result<_>>()
        };
        all().map_err(|source| self.wrong(source))
    }

    /// The number of the record of the lot of this name; none where there is no such lot, or only void ones.
    pub fn lot(&self, name: &str) -> Result<Option<i64>, StoreError> {
        let sql = format!(
            "SELECT number FROM record WHERE kind = ? AND {NOT_VOID} AND ({LAST}) = ? ORDER BY number"
        );
        let all = || {
            let mut all = self.connection.prepare_cached(&sql)?;
            let key = Key::Lot.name();
            let numbers = all.query_map([Kind::Lot.name(), key, name], |row| row.get(0))?;
            numbers.collect::<rusqlite::Result<Vec<i64>>>()
        };
        match all().map_err(|source| self.wrong(source))?.as_slice() {
            [] => Ok(None),
            [one] => Ok(Some(*one)),
            several => Err(StoreError::Several { which: name.into(), count: several.len() }),
        }
    }

    /// The tests of which it was ever said that they are of a unit of this lot, in the order in which they were kept.
    pub fn unit_tests(&self, lot: i64) -> Result<Vec<UnitTest>, StoreError> {
        let sql = format!(
            "WITH lot AS (SELECT sheet, ({LAST}) AS name FROM record WHERE number = ?) \
             SELECT record.number, kind, ({LAST}) AS unit, verdict, order_ms, jig, simulated, \
             record.sheet IS lot.sheet, ({LAST}), ({LAST}) <> lot.name FROM record, lot \
             WHERE record.number IN (SELECT number FROM detail WHERE key = ? AND value = lot.name) \
             AND kind <> ? AND unit IS NOT NULL ORDER BY record.number"
        );
        let all = || {
            let [lots, units, void] = [Key::Lot, Key::Unit, Key::Void].map(Key::name);
            let kind = Kind::Lot.name();
            let mut all = self.connection.prepare_cached(&sql)?;
            let found =
                all.query_map(params![lots, lot, units, void, lots, lots, kind], unit_test)?;
            found.collect::<rusqlite::Result<_>>()
        };
        all().map_err(|source| self.wrong(source))
    }
}

fn unit_test(row: &Row<'_>) -> rusqlite::Result<UnitTest> {
    Ok(UnitTest {
        number: row.get(0)?,
        kind: word(row, 1, |text| text.parse().ok())?,
        unit: row.get(2)?,
        verdict: verdict(row, 3)?,
        at: time(4, row.get(4)?)?,
        jig: row.get(5)?,
        simulated: row.get(6)?,
        by_the_lots_sheet: row.get(7)?,
        void: row.get(8)?,
        moved: row.get(9)?,
    })
}
