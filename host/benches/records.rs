//! How fast many records are listed, searched, and written out, and what one takes on disk:
//!
//!     cargo bench -p runproof --bench records
//!
//! `RECORDS` says how many, 100000 unless set. One in a hundred has a real capture, so that the store can be made in a
//! minute; lists do not touch captures. What a record takes is said of a store of checks alone, all real.

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::Command;

use criterion::{Criterion, Throughput};
use runproof_interpret::Capture;
use runproof_interpret::judgement::Verdict;
use runproof_records::jiff::Timestamp;
use runproof_records::{Detail, Filter, Key, Kind, Record, Sheet, Store};
use serde_json::json;

const REAL_EACH: usize = 100;
const REAL: usize = 100;
const JIGS: usize = 12;
const SAID: [&str; 4] = [
    "all four conductors arrive where they should, within their limits.",
    "data− and supply are crossed.",
    "common has too much resistance — workmanship; it hardly explains a communication error.",
    "something is still connected to the run.",
];

/// In memory, where there is such a folder: making the store is not what is measured.
fn folder() -> PathBuf {
    let memory = Path::new("/dev/shm");
    let folder = if memory.is_dir() { memory.to_owned() } else { std::env::temp_dir() };
    folder.join(format!("runproof-bench-{}", std::process::id()))
}

/// What a check of a simulated run saves.
fn real(folder: &Path) -> String {
    let path = folder.join("capture.jsonl");
    let program = Command::new(env!("CARGO_BIN_EXE_runproof"))
        .args(["check", "--simulate", "corroded-splice", "--yes", "--no-record", "--save"])
        .arg(&path)
        .output();
    assert!(program.expect("the program starts").status.code().is_some_and(|status| status <= 2));
    fs::read_to_string(path).expect("a capture")
}

fn record(n: usize, capture: String) -> Record {
    let verdict = [Verdict::Pass, Verdict::Fail, Verdict::CannotTell][n % 3];
    let details = vec![
        Detail::new(Key::Operator, ["bench 1", "bench 2", "the second shift"][n % 3]),
        Detail::new(Key::Job, format!("job {}", n / 7)),
        Detail::new(Key::Place, format!("hall {}, attic of unit {}", n % 40, n % 977)),
    ];
    Record {
        id: Record::new_id(),
        kind: if n.is_multiple_of(5) { Kind::Live } else { Kind::Check },
        taken: Timestamp::from_second(1_700_000_000 + 60 * n as i64).ok(),
        zone: "America/Chicago".into(),
        verdict: Some(verdict),
        said: SAID[n % 4].into(),
        found: vec!["crossed".into()],
        simulated: false,
        jig: format!("jig-{}", n % JIGS),
        board: "rp2040".into(),
        firmware: "0.1.0".into(),
        program: "runproof 0.1.0".into(),
        sheet: Some(Sheet {
            name: "service-24vac".into(),
            version: "1".into(),
            text: "name".into(),
        }),
        told: "{}".into(),
        result: "{}".into(),
        capture,
        details,
    }
}

fn bytes(folder: &Path) -> u64 {
    let files = fs::read_dir(folder).expect("a folder").filter_map(Result::ok);
    files.filter_map(|file| file.metadata().ok()).map(|file| file.len()).sum()
}

fn sized(folder: &Path, real: &str) {
    let path = folder.join("sized").join("records.sqlite3");
    let mut store = Store::open(&path).expect("a store");
    let mut capture = Capture::read(real).expect("a capture");
    let empty = bytes(&folder.join("sized"));
    for n in 0..REAL {
        capture.head.taken_unix_s = Some(1_700_000_000 + n as u64);
        store.save(&record(n, capture.write())).expect("room");
    }
    drop(store);
    let each = (bytes(&folder.join("sized")) - empty) / REAL as u64;
    println!("a check of {} bytes of capture takes {each} bytes in the store", real.len());
}

/// A lot of so many units, each tested among the many, a third of them failing; decided and drawn by the program itself.
const UNITS: usize = 10_000;

/// Each jig twice a day.
fn prove_jigs(store: &mut Store, count: usize) {
    let piece = json!({ "name": "good", "about": "", "verdict": "pass", "found": [], "ohm": [] });
    let set = json!({ "name": "own", "version": "1", "pieces": ["good"] });
    let told = json!({ "set": set, "piece": piece }).to_string();
    for jig in 0..JIGS {
        for at in (0..count).step_by(12 * 60) {
            let proof = record(at, String::new());
            let record = Record {
                kind: Kind::Proof,
                verdict: Some(Verdict::Pass),
                told: told.clone(),
                jig: format!("jig-{jig}"),
                ..proof
            };
            store.save(&record).expect("room");
        }
    }
}

fn lot(criterion: &mut Criterion, store: &mut Store, folder: &Path, count: usize) {
    let opened = json!({
        "series": "reels", "units": UNITS, "acceptance": { "by": "attributes", "level": "II", "aql": 1.0, "severity": "normal" }, "seed": 1, "again": false,
        "test": "check", "may_reduce": false,
    });
    let look = json!({ "units": [[1, UNITS]], "missed": [] });
    let lot = Record {
        kind: Kind::Lot,
        verdict: None,
        told: opened.to_string(),
        capture: String::new(),
        details: vec![Detail::new(Key::Lot, "R-1"), Detail::new(Key::Identity, look.to_string())],
        ..record(1, String::new())
    };
    store.save(&lot).expect("room");
    // Every fifth of the many is no check.
    let checks = (1..=count as i64).filter(|number| (number - 1) % 5 != 0).take(UNITS);
    for (unit, number) in (1..).zip(checks) {
        let said = [Detail::new(Key::Lot, "R-1"), Detail::new(Key::Unit, unit.to_string())];
        store.add(number, &said).expect("room");
    }
    prove_jigs(store, count);
    let data = folder.join("data");
    fs::create_dir_all(&data).expect("a folder");
    std::os::unix::fs::symlink(folder.join("many"), data.join("runproof")).expect("a link");
    let page = folder.join("lot.html");
    let mut group =
        criterion.benchmark_group(format!("a lot of {UNITS} units among {count} records"));
    for (name, more) in
        [("decided", vec![]), ("decided, as a page", vec!["--to".as_ref(), page.as_os_str()])]
    {
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                let _absent = fs::remove_file(&page);
                let mut program = Command::new(env!("CARGO_BIN_EXE_runproof"));
                let ran =
                    program.args(["lot", "show", "R-1"]).args(&more).env("XDG_DATA_HOME", &data);
                let ran = ran.output().expect("the program starts");
                assert_eq!(ran.status.code(), Some(1), "{ran:?}");
            });
        });
    }
    group.finish();
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args().sample_size(10);
    let count = std::env::var("RECORDS").ok().and_then(|text| text.parse().ok()).unwrap_or(100_000);
    let folder = folder();
    fs::create_dir_all(&folder).expect("a folder");
    let real = real(&folder);
    sized(&folder, &real);
    let path = folder.join("many").join("records.sqlite3");
    let mut store = Store::open(&path).expect("a store");
    for n in 0..count {
        let text = if n % REAL_EACH == 0 { real.clone() } else { format!("capture {n}") };
        store.save(&record(n, text)).expect("room");
    }
    println!("{count} records in {} bytes", bytes(&folder.join("many")));

    let newest = Filter { limit: Some(20), ..Filter::default() };
    let word = |word: &str| Filter { words: vec![word.into()], ..newest.clone() };
    let cases = [
        ("the newest", newest.clone()),
        ("of one verdict", Filter { verdict: Some(Verdict::CannotTell), ..newest.clone() }),
        ("of one job", Filter { job: Some("job 77".into()), ..newest.clone() }),
        ("by a rare word", word("unit 976")),
        ("by a word of every fourth", word("crossed.")),
        ("by two letters", word("77")),
        ("none that is void", Filter { not_void: true, ..newest.clone() }),
    ];
    let mut group = criterion.benchmark_group("list 20 and count all");
    for (name, filter) in cases {
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                // As each command does: a store that was just opened.
                let store = Store::open_to_read(&path).expect("a store").expect("there");
                black_box(store.list(&filter))
            });
        });
    }
    group.finish();
    let mut group = criterion.benchmark_group("export all");
    group.throughput(Throughput::Elements(count as u64));
    group.bench_function("CSV", |bencher| {
        bencher.iter(|| store.write_csv(&Filter::default(), &mut std::io::sink()));
    });
    group.bench_function("JSON", |bencher| {
        bencher.iter(|| store.each(&Filter::default(), &mut |one| drop(black_box(one.write()))));
    });
    group.finish();
    lot(&mut criterion, &mut store, &folder, count);
    drop(store);
    fs::remove_dir_all(folder).expect("ours");
}
