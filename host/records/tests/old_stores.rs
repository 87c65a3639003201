//! A store of every schema that was ever in use opens, and is whole. The files are kept for ever; each was made by the
//! program of its day, of three tests: a check, whose job was corrected later, a live look that is void, and a zero.

mod support;

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use runproof_interpret::Capture;
use runproof_interpret::judgement::Verdict;
use runproof_records::{Detail, Filter, Key, Kind, Store, latest};
use support::{place, record};

fn stores() -> Vec<(i64, PathBuf)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests").join("stores");
    let files = fs::read_dir(folder).expect("a folder").map(|file| file.expect("it").path());
    let number = |path: &PathBuf| {
        let name = path.file_stem()?.to_str()?.strip_prefix("schema-")?;
        name.parse().ok()
    };
    files.filter_map(|path| Some((number(&path)?, path))).collect()
}

#[test]
fn every_schema_has_its_store() {
    let kept: BTreeSet<i64> = stores().into_iter().map(|(number, _)| number).collect();
    assert_eq!(kept, (1..=Store::SCHEMA).collect());
}

#[test]
fn an_old_store_opens_and_goes_on() {
    for (number, file) in stores() {
        let path = place(&format!("old-{number}"));
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::copy(&file, &path).expect("copied");
        let mut store =
            Store::open(&path).unwrap_or_else(|error| panic!("schema {number}: {error}"));
        assert_eq!(store.integrity().expect("an answer"), "ok");
        let (all, _) = store.list(&Filter::default()).expect("a list");
        let told: Vec<_> =
            all.iter().rev().map(|one| (one.number, one.kind, one.verdict)).collect();
        assert_eq!(
            told,
            [
                (1, Kind::Check, Some(Verdict::Fail)),
                (2, Kind::Live, Some(Verdict::Fail)),
                (3, Kind::Zero, None)
            ]
        );
        for one in &all {
            let whole = store.record(one.number).expect("whole");
            let capture = Capture::read(&whole.capture).expect("a capture");
            assert_eq!(
                (capture.write(), &whole.capture_sha256()),
                (whole.capture.clone(), &one.capture_sha256)
            );
            serde_json::from_str::<serde_json::Value>(&whole.result).expect("JSON");
        }
        assert_eq!(latest(&store.record(1).expect("it").details, Key::Job), Some("job 13"));
        assert_eq!(latest(&all[1].details, Key::Void), Some("another run"));
        let by_word = Filter { words: vec!["staple".into()], ..Filter::default() };
        assert_eq!(store.list(&by_word).expect("a list").1, 1);
        let number_of = |id| all.iter().find(|one| one.id == id).map(|one| one.number);
        for mark in store.marks().expect("marks") {
            let number = number_of(mark.id).expect("a record");
            assert_eq!(mark.digest, store.record(number).expect("whole").digest());
        }
        assert_eq!(store.save(&record(1)).expect("room").number, 4);
        assert_eq!(store.marks().expect("marks").len(), 4);
        store.add(4, &[Detail::new(Key::Note, "one more")]).expect("room");
    }
}
