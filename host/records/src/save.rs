//! One record, one transaction.

use std::borrow::Cow;

use jiff::Timestamp;
use rusqlite::{OptionalExtension, Transaction, TransactionBehavior, params};
use uuid::Uuid;

use crate::marks;
use crate::pack::{Packed, packed};
use crate::record::verdict_name;
use crate::{Detail, Record, Sheet, Store, StoreError};

/// A record that is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    /// This store's number of it.
    pub number: i64,
    /// Everywhere's.
    pub id: Uuid,
    /// It was here before.
    pub was_here: bool,
}

impl Store {
    /// Keeps a record. One whose id is here already is left as it is; what is said about it and not yet here is added.
    pub fn save(&mut self, record: &Record) -> Result<Kept, StoreError> {
        self.at_once(|all| keep(all, record, || Cow::Owned(Packed::of(record))))
    }

    /// Keeps many, all or none; their long texts as they were packed elsewhere.
    pub fn save_all(&mut self, records: &[Packed]) -> Result<Vec<Kept>, StoreError> {
        self.at_once(|all| {
            let keep = |one: &Packed| keep(all, &one.record, || Cow::Borrowed(one));
            records.iter().map(keep).collect()
        })
    }

    /// Adds what is said about a record.
    pub fn add(&mut self, number: i64, details: &[Detail]) -> Result<(), StoreError> {
        self.at_once(|all| add(all, number, details))
    }

    /// Adds what is said about many, all or none.
    pub fn add_all(&mut self, said: &[(i64, Vec<Detail>)]) -> Result<(), StoreError> {
        self.at_once(|all| said.iter().try_for_each(|(number, details)| add(all, *number, details)))
    }

    /// One transaction.
    pub(crate) fn at_once<T>(
        &mut self,
        change: impl FnOnce(&Transaction<'_>) -> rusqlite::Result<T>,
    ) -> Result<T, StoreError> {
        let path = self.path.clone();
        let changed = || {
            let all = self.connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let changed = change(&all)?;
            all.commit()?;
            Ok(changed)
        };
        changed().map_err(|source| StoreError::of(path, source))
    }
}

fn keep<'a>(
    all: &Transaction<'_>,
    record: &Record,
    packed: impl FnOnce() -> Cow<'a, Packed>,
) -> rusqlite::Result<Kept> {
    let before = all
        .prepare_cached("SELECT number FROM record WHERE id = ?")?
        .query_row([record.id.to_string()], |row| row.get(0))
        .optional()?;
    let number = match before {
        Some(number) => number,
        None => insert(all, &packed())?,
    };
    say(all, number, &record.details)?;
    if before.is_none() || !record.details.is_empty() {
        index(all, number)?;
    }
    Ok(Kept { number, id: record.id, was_here: before.is_some() })
}

fn add(all: &Transaction<'_>, number: i64, details: &[Detail]) -> rusqlite::Result<()> {
    say(all, number, details)?;
    index(all, number)
}

fn insert(all: &Transaction<'_>, packed: &Packed) -> rusqlite::Result<i64> {
    let record = &packed.record;
    let saved_ms = Timestamp::now().as_millisecond();
    let taken_ms = record.taken.map(Timestamp::as_millisecond);
    let sheet = record.sheet.as_ref().map(|sheet| number_of(all, sheet)).transpose()?;
    all.prepare_cached(
        "INSERT INTO record (id, kind, taken_ms, zone, saved_ms, order_ms, verdict, said, found, simulated, jig, board, \
         firmware, program, sheet, told, capture_sha256) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    )?
    .execute(params![
        record.id.to_string(),
        record.kind.name(),
        taken_ms,
        record.zone,
        saved_ms,
        taken_ms.unwrap_or(saved_ms),
        record.verdict.map(verdict_name),
        record.said,
        record.found.join(" "),
        record.simulated,
        record.jig,
        record.board,
        record.firmware,
        record.program,
        sheet,
        record.told,
        packed.capture_sha256,
    ])?;
    let number = all.last_insert_rowid();
    all.prepare_cached("INSERT INTO measured (number, capture, result) VALUES (?, ?, ?)")?
        .execute(params![number, packed.capture, packed.result])?;
    marks::keep(all, number, &packed.digest)?;
    Ok(number)
}

/// The same text is kept once.
fn number_of(all: &Transaction<'_>, sheet: &Sheet) -> rusqlite::Result<i64> {
    let text = packed(&sheet.text);
    let known = all
        .prepare_cached("SELECT number FROM sheet WHERE name = ? AND version = ? AND text = ?")?
        .query_row(params![sheet.name, sheet.version, text], |row| row.get(0))
        .optional()?;
    if let Some(number) = known {
        return Ok(number);
    }
    all.prepare_cached("INSERT INTO sheet (name, version, text) VALUES (?, ?, ?)")?
        .execute(params![sheet.name, sheet.version, text])?;
    Ok(all.last_insert_rowid())
}

fn say(all: &Transaction<'_>, number: i64, details: &[Detail]) -> rusqlite::Result<()> {
    let mut insert = all.prepare_cached(
        "INSERT INTO detail (id, number, said_ms, key, value) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
    )?;
    for one in details {
        let said_ms = one.said.as_millisecond();
        insert.execute(params![one.id.to_string(), number, said_ms, one.key.name(), one.value])?;
    }
    Ok(())
}

/// All that it is found by.
fn index(all: &Transaction<'_>, number: i64) -> rusqlite::Result<()> {
    all.prepare_cached("DELETE FROM words WHERE rowid = ?")?.execute([number])?;
    all.prepare_cached(
        // A minus is found by what a keyboard has for it.
        "INSERT INTO words (rowid, text) SELECT number, replace (concat_ws(char(10), id, said, found, jig, \
         (SELECT name FROM sheet WHERE sheet.number = record.sheet), \
         (SELECT group_concat(value, char(10)) FROM detail WHERE detail.number = record.number)), '−', '-') \
         FROM record WHERE number = ?",
    )?
    .execute([number])?;
    Ok(())
}

/// The disk has no room for another page.
#[test]
fn a_full_disk_is_told_and_loses_nothing_that_was_kept() {
    let folder = std::env::temp_dir().join(format!("runproof-full-{}", Uuid::now_v7()));
    let path = folder.join("records.sqlite3");
    let mut store = Store::open(&path).expect("a store");
    let record = |text: &str| Record {
        id: Record::new_id(),
        kind: crate::Kind::Zero,
        taken: None,
        zone: "UTC".into(),
        verdict: None,
        said: text.into(),
        found: vec![],
        simulated: false,
        jig: String::new(),
        board: String::new(),
        firmware: String::new(),
        program: String::new(),
        sheet: None,
        told: "{}".into(),
        result: "{}".into(),
        capture: text.into(),
        details: vec![],
    };
    store.save(&record("small")).expect("room");
    let pages: i64 = store
        .connection
        .pragma_query_value(None, "page_count", |row| row.get(0))
        .expect("a number");
    store.connection.pragma_update(None, "max_page_count", pages).expect("set");
    // Noise does not pack.
    let noise: String = (0..20_000).map(|_| Uuid::now_v7().to_string()).collect();
    assert!(matches!(store.save(&record(&noise)), Err(StoreError::Full { .. })));
    assert_eq!(store.list(&crate::Filter::default()).expect("a list").1, 1);
    let ended = store.connection.pragma_query_value(None, "integrity_check", |row| row.get(0));
    assert_eq!(ended, Ok("ok".to_owned()));
    drop(store);
    std::fs::remove_dir_all(folder).expect("ours");
}
