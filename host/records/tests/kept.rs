//! What is kept comes back whole, is found, and stays.

mod support;

use std::thread;

use runproof_interpret::judgement::Verdict;
use runproof_records::{
    Detail, Filter, Key, Kind, Packed, Record, Store, StoreError, UnitTest, latest,
};
use rusqlite::Connection;
use support::{place, record};

fn numbers(store: &Store, filter: &Filter) -> Vec<i64> {
    let (listed, all) = store.list(filter).expect("a list");
    assert_eq!(listed.len(), all);
    listed.iter().map(|one| one.number).collect()
}

fn words(words: &[&str]) -> Filter {
    Filter { words: words.iter().map(|word| (*word).to_owned()).collect(), ..Filter::default() }
}

#[test]
fn a_record_comes_back_whole() {
    let mut store = Store::open(&place("whole")).expect("a store");
    let plain = record(1);
    let zero = Record {
        kind: Kind::Zero,
        verdict: None,
        taken: None,
        sheet: None,
        found: vec![],
        details: vec![],
        ..record(2)
    };
    let strange = Record {
        said: "a \"quote\", a comma,\r\na line; 数据線 − Ω 🚚 <script>alert(1)</script> =1+1"
            .into(),
        capture: "Ω\n".repeat(50_000),
        jig: String::new(),
        details: vec![
            Detail::new(Key::Place, "שלום — العربية"),
            Detail::new(Key::Note, "one"),
            Detail::new(Key::Note, "two\nlines\u{0}"),
        ],
        ..record(3)
    };
    for (n, one) in (1..).zip([&plain, &zero, &strange]) {
        let kept = store.save(one).expect("room");
        assert_eq!((kept.number, kept.id, kept.was_here), (n, one.id, false));
        assert_eq!(&store.record(n).expect("it"), one);
        assert_eq!(&Record::read(&one.write()).expect("a record"), one, "as text too");
        assert!(!one.write().contains('\n'), "on one line");
    }
}

#[test]
fn the_same_record_is_kept_once() {
    let mut store = Store::open(&place("once")).expect("a store");
    let one = record(1);
    store.save(&one).expect("room");
    let more = Detail::new(Key::Note, "said elsewhere");
    let again =
        Record { details: [one.details.clone(), vec![more.clone()]].concat(), ..one.clone() };
    let kept = store.save(&again).expect("room");
    assert!(kept.was_here && kept.number == 1);
    assert_eq!(store.save(&one).expect("room").number, 1);
    assert_eq!(store.record(1).expect("it").details, again.details, "what is new of it is added");
    assert_eq!(numbers(&store, &words(&["elsewhere"])), [1]);
    assert_eq!(store.of_capture(&one.capture_sha256()).expect("a list"), [1]);
}

/// FIPS 180-4's example of one block, from memory: SHA-256 of "abc".
#[test]
fn a_capture_is_known_by_its_sha_256() {
    let abc = Record { capture: "abc".into(), ..record(1) };
    let known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert_eq!(abc.capture_sha256(), known);
}

#[test]
fn a_record_is_found_by_number_or_by_either_end_of_its_id() {
    let mut store = Store::open(&place("found")).expect("a store");
    let ids: Vec<String> =
        (0..3).map(|n| store.save(&record(n)).expect("room").id.to_string()).collect();
    assert_eq!(store.find("2").expect("by number"), 2);
    for (n, id) in (1..).zip(&ids) {
        assert_eq!(store.find(id).expect("by id"), n);
        assert_eq!(store.find(&id[24..].to_uppercase()).expect("by its end"), n);
    }
    assert!(matches!(store.find(&ids[0][..4]), Err(StoreError::Several { count: 3, .. })));
    for none in ["", "0", "4", "-1", "ffff", "abc", "%", "_____", "'; DROP TABLE record; --"] {
        assert!(matches!(store.find(none), Err(StoreError::NoRecord { .. })), "{none}");
    }
}

#[test]
fn records_are_listed_by_what_is_asked_for() {
    let mut store = Store::open(&place("listed")).expect("a store");
    let pass = Record {
        verdict: Some(Verdict::Pass),
        kind: Kind::Live,
        simulated: true,
        said: "Übergabe am Café 数据線路 ok".into(),
        found: vec!["hum".into()],
        ..record(5)
    };
    for one in [&record(1), &record(2), &pass, &record(3)] {
        store.save(one).expect("room");
    }
    let all = Filter::default();
    assert_eq!(numbers(&store, &all), [3, 4, 2, 1], "the newest first, by when it was measured");
    let (two, of) = store.list(&Filter { limit: Some(2), ..all.clone() }).expect("a list");
    assert_eq!((two.len(), of), (2, 4));
    for (asked, found) in [
        (words(&["CROSSED"]), vec![4, 2, 1]),
        (words(&["data- and"]), vec![4, 2, 1]),
        (words(&["DATA−"]), vec![4, 2, 1]),
        (words(&["cafe"]), vec![3]),
        (words(&["数据線"]), vec![3]),
        (words(&["数据"]), vec![3]),
        (words(&["job 2"]), vec![2]),
        (words(&["crossed", "job 3"]), vec![4]),
        (words(&["\"; DROP"]), vec![]),
        (words(&["service", "jig-7", "hum"]), vec![3, 4, 2, 1]),
        (Filter { kind: Some(Kind::Live), ..all.clone() }, vec![3]),
        (Filter { verdict: Some(Verdict::Fail), ..all.clone() }, vec![4, 2, 1]),
        (Filter { job: Some("job 1".into()), ..all.clone() }, vec![1]),
        (Filter { jig: Some("jig-8".into()), ..all.clone() }, vec![]),
        (Filter { since: record(3).taken, ..all.clone() }, vec![3, 4]),
        (Filter { until: record(3).taken, ..all.clone() }, vec![2, 1]),
        (Filter { not_simulated: true, ..all.clone() }, vec![4, 2, 1]),
    ] {
        assert_eq!(numbers(&store, &asked), found, "{asked:?}");
    }
}

#[test]
fn what_is_said_later_is_added_and_the_last_word_counts() {
    let mut store = Store::open(&place("said")).expect("a store");
    for n in 0..2 {
        store.save(&record(n)).expect("room");
    }
    store
        .add(1, &[Detail::new(Key::Job, "moved"), Detail::new(Key::Void, "wrong cable")])
        .expect("room");
    let details = store.record(1).expect("it").details;
    assert_eq!(latest(&details, Key::Job), Some("moved"));
    assert_eq!(details.len(), 3, "the first word is still there");
    let by_job = |job: &str| Filter { job: Some(job.into()), ..Filter::default() };
    assert_eq!(
        (numbers(&store, &by_job("moved")), numbers(&store, &by_job("job 0"))),
        (vec![1], vec![])
    );
    assert_eq!(numbers(&store, &words(&["wrong cable"])), [1]);
    assert_eq!(numbers(&store, &Filter { not_void: true, ..Filter::default() }), [2]);
    assert!(store.add(99, &[Detail::new(Key::Job, "x")]).is_err(), "of no record");
}

#[test]
fn nothing_that_is_kept_can_be_changed_or_deleted() {
    let path = place("stays");
    Store::open(&path).expect("a store").save(&record(1)).expect("room");
    let other = Connection::open(&path).expect("SQLite");
    for table in ["record", "measured", "sheet", "detail"] {
        for sql in
            [format!("DELETE FROM {table}"), format!("UPDATE {table} SET number = number + 1")]
        {
            let refused = other.execute(&sql, []).expect_err(&sql).to_string();
            assert!(refused.contains("never"), "{sql}: {refused}");
        }
    }
}

#[test]
fn several_programs_may_make_a_store_and_write_to_it_at_once() {
    const WRITERS: i64 = 8;
    const EACH: i64 = 25;
    let path = place("at-once");
    thread::scope(|scope| {
        for writer in 0..WRITERS {
            let path = &path;
            scope.spawn(move || {
                for n in 0..EACH {
                    // Each time as another program does.
                    let mut store = Store::open(path).expect("a store");
                    store.save(&record(writer * EACH + n)).expect("room");
                }
            });
        }
    });
    let store = Store::open(&path).expect("a store");
    let mut all = numbers(&store, &Filter::default());
    all.sort_unstable();
    assert_eq!(all, (1..=WRITERS * EACH).collect::<Vec<_>>());
    let captures: std::collections::HashSet<String> =
        all.iter().map(|n| store.record(*n).expect("it").capture).collect();
    assert_eq!(captures.len(), all.len());
}

#[test]
fn a_lots_units_are_found_by_what_was_said_last() {
    let mut store = Store::open(&place("lots")).expect("a store");
    let said = |kind, details: &[(Key, &str)]| Record {
        kind,
        details: details.iter().map(|(key, value)| Detail::new(*key, *value)).collect(),
        ..record(1)
    };
    let lot = said(Kind::Lot, &[(Key::Lot, "reels, first")]);
    let lot = store.save(&lot).expect("room").number;
    let tests = ["1", "2", "3", "4"]
        .map(|unit| said(Kind::Check, &[(Key::Lot, "reels, first"), (Key::Unit, unit)]))
        .map(|test| store.save(&test).expect("room").number);
    store.save(&said(Kind::Check, &[(Key::Lot, "reels, first")])).expect("room");
    store.save(&said(Kind::Check, &[(Key::Lot, "reels"), (Key::Unit, "1")])).expect("room");
    store.add(tests[0], &[Detail::new(Key::Unit, "17")]).expect("room");
    store.add(tests[1], &[Detail::new(Key::Void, "it slipped off")]).expect("room");
    store.add(tests[2], &[Detail::new(Key::Lot, "reels, second")]).expect("room");
    let found = store.unit_tests(lot).expect("units");
    assert!(found.iter().all(|one| one.by_the_lots_sheet));
    let told = |one: &UnitTest| (one.number, one.unit.clone(), one.void.is_some(), one.moved);
    let found: Vec<_> = found.iter().map(told).collect();
    let expected = [
        (tests[0], "17".to_owned(), false, false),
        (tests[1], "2".to_owned(), true, false),
        (tests[2], "3".to_owned(), false, true),
        (tests[3], "4".to_owned(), false, false),
    ];
    assert_eq!(found, expected, "what was taken out is seen");
    let next = said(Kind::Lot, &[(Key::Lot, "reels, second")]);
    let next = Record { sheet: None, ..next };
    let next = store.save(&next).expect("room").number;
    let found = store.unit_tests(next).expect("units");
    assert_eq!(found.iter().map(|one| one.by_the_lots_sheet).collect::<Vec<_>>(), [false]);
    store.add(next, &[Detail::new(Key::Void, "another sheet")]).expect("room");
    assert_eq!(store.lot("reels, first").expect("one"), Some(lot));
    assert_eq!(store.lot("reels").expect("none"), None, "a test makes no lot");
    let second = store.save(&said(Kind::Lot, &[(Key::Lot, "reels, first")])).expect("room").number;
    assert!(matches!(store.lot("reels, first"), Err(StoreError::Several { count: 2, .. })));
    assert_eq!(store.lots().expect("all"), [second, lot]);
    store.add(second, &[Detail::new(Key::Void, "opened twice")]).expect("room");
    assert_eq!(store.lots().expect("all"), [lot]);
}

#[test]
fn many_are_kept_at_once() {
    let mut store = Store::open(&place("at-once")).expect("a store");
    let mut many: Vec<Record> = (0..20).map(record).collect();
    let packed: Vec<_> = many.iter().map(Packed::of).collect();
    let kept = store.save_all(&packed).expect("room");
    assert!(kept.iter().all(|kept| !kept.was_here));
    assert_eq!(store.record(kept[7].number).expect("it"), many[7]);
    assert_eq!(store.packed(kept[7].number).expect("it"), packed[7]);
    assert_eq!(packed[7].unpacked().expect("texts"), many[7]);
    assert!(store.save_all(&packed).expect("room").iter().all(|kept| kept.was_here));
    let note = |n: usize| (kept[n].number, vec![Detail::new(Key::Note, "later")]);
    store.add_all(&[note(0), note(1)]).expect("room");
    let nowhere = (1000, vec![Detail::new(Key::Note, "of none")]);
    assert!(store.add_all(&[note(2), nowhere]).is_err());
    assert_eq!(numbers(&store, &words(&["later"])).len(), 2, "all or none");

    many.sort_by_key(|one| one.id);
    let marks = store.marks().expect("marks");
    let told: Vec<_> = marks.iter().map(|mark| (mark.id, mark.digest)).collect();
    let meant: Vec<_> = many.iter().map(|one| (one.id, one.digest())).collect();
    assert_eq!(told, meant);
    let said = store.detail_marks().expect("marks");
    assert_eq!(said.len(), 22);
    for (number, id) in kept.iter().map(|kept| (kept.number, kept.id)) {
        let digests: Vec<_> =
            store.said(number).expect("details").iter().map(Detail::digest).collect();
        let marks = said.iter().filter(|mark| mark.record == id).map(|mark| mark.digest);
        assert_eq!(marks.collect::<Vec<_>>(), digests);
    }
}

/// Whatever is changed of a record.
#[test]
fn a_record_that_was_changed_has_another_digest() {
    let one = record(1);
    let zero = Record { sheet: None, verdict: None, ..one.clone() };
    let texts = [
        Record { said: "All is well.".into(), ..one.clone() },
        Record { verdict: Some(Verdict::Pass), ..one.clone() },
        Record { found: vec![], ..one.clone() },
        Record { taken: None, ..one.clone() },
        Record { simulated: true, ..one.clone() },
        Record { jig: one.board.clone(), board: one.jig.clone(), ..one.clone() },
        Record { result: r#"{"runproof_result":1,"fit":0.2}"#.into(), ..one.clone() },
        Record { capture: one.capture.replace('1', "2"), ..one.clone() },
        zero,
    ];
    assert!(texts.iter().all(|other| other.digest() != one.digest()));
    assert_eq!(Record { details: vec![], ..one.clone() }.digest(), one.digest());
}
