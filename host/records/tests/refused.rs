//! A store that cannot be used says why, and is left as it is.

mod support;

use std::fs;

use proptest::prelude::*;
use runproof_records::{Filter, Record, Store, StoreError, TextError};
use rusqlite::Connection;
use support::{place, record};

#[test]
fn a_later_schema_is_left_alone() {
    let path = place("later");
    Store::open(&path).expect("a store").save(&record(1)).expect("room");
    let other = Connection::open(&path).expect("SQLite");
    other.pragma_update(None, "user_version", 1000).expect("set");
    let refused = Store::open(&path);
    assert!(matches!(refused, Err(StoreError::Later { found: 1000, .. })), "{refused:?}");
    assert!(matches!(Store::open_to_read(&path), Err(StoreError::Later { .. })));
    let kept: i64 =
        other.query_row("SELECT count(*) FROM record", [], |row| row.get(0)).expect("it");
    assert_eq!(kept, 1);
}

#[test]
fn another_file_is_no_store() {
    let path = place("other");
    fs::create_dir_all(path.parent().expect("a folder")).expect("made");
    fs::write(&path, "a letter to the workshop\n".repeat(100)).expect("written");
    for opened in [Store::open(&path).map(Some), Store::open_to_read(&path)] {
        assert!(matches!(opened, Err(StoreError::Damaged { .. })), "{opened:?}");
    }
    assert!(fs::read_to_string(&path).expect("it").starts_with("a letter"));
}

#[test]
fn a_folder_that_is_none_cannot_be_opened() {
    let path = place("none");
    fs::create_dir_all(path.parent().expect("a folder")).expect("made");
    let inside = path.join("records.sqlite3");
    fs::write(&path, "").expect("written");
    assert!(matches!(Store::open(&inside), Err(StoreError::NotOpened { .. })));
    assert!(matches!(Store::open_to_read(&inside), Err(StoreError::NotOpened { .. })));
    let nothing = path.with_file_name("nothing.sqlite3");
    assert!(Store::open_to_read(&nothing).expect("nothing there").is_none());
}

/// What stands in a file that nobody may write to is read all the same.
#[test]
fn a_copy_without_its_folder_is_read() {
    let path = place("copy");
    Store::open(&path).expect("a store").save(&record(1)).expect("room");
    let copy = path.with_file_name("a copy? of #1 100%.sqlite3");
    fs::copy(&path, &copy).expect("copied");
    let store = Store::open_to_read(&copy).expect("a store").expect("there");
    assert_eq!(store.list(&Filter::default()).expect("a list").1, 1);
}

#[test]
fn damage_is_an_error_and_never_a_panic() {
    let path = place("damage");
    let mut store = Store::open(&path).expect("a store");
    for n in 0..30 {
        store.save(&record(n)).expect("room");
    }
    drop(store);
    let whole = fs::read(&path).expect("it");
    let mut told = 0;
    for at in (0..whole.len()).step_by(997) {
        let mut bytes = whole.clone();
        bytes[at..(at + 64).min(whole.len())].fill(0xA5);
        let damaged = path.with_file_name("damaged.sqlite3");
        fs::write(&damaged, &bytes).expect("written");
        let _log = fs::remove_file(path.with_file_name("damaged.sqlite3-wal"));
        let _shm = fs::remove_file(path.with_file_name("damaged.sqlite3-shm"));
        let read = Store::open_to_read(&damaged).and_then(|store| {
            let store = store.expect("there");
            let (listed, _) = store.list(&Filter::default())?;
            listed.iter().try_for_each(|one| store.record(one.number).map(drop))
        });
        told += usize::from(read.is_err());
    }
    assert!(told > 10, "{told} of {}", whole.len() / 997);
}

#[test]
fn a_later_record_is_told_apart_from_none() {
    let later = record(1).write().replacen("\"runproof_record\":1", "\"runproof_record\":2", 1);
    assert!(matches!(Record::read(&later), Err(TextError::Later { found: 2 })));
    for none in ["", "{}", "[]", "null", "{\"runproof_record\":1}", "{\"runproof_record\":-1}"] {
        assert!(matches!(Record::read(none), Err(TextError::NotARecord(_))), "{none}");
    }
}

proptest! {
    #[test]
    fn no_text_is_a_panic(text in ".{0,200}") {
        let _told = Record::read(&text);
    }

    #[test]
    fn a_record_that_was_cut_is_none(at in 0.0..1.0_f64) {
        let whole = record(1).write();
        let at = (at * whole.len() as f64) as usize;
        let cut = whole.get(..at).unwrap_or_default();
        prop_assert!(Record::read(cut).is_err());
    }
}
