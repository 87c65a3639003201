//! Records to keep, and an empty folder to keep them in.

use std::path::PathBuf;

use runproof_interpret::judgement::Verdict;
use runproof_records::jiff::Timestamp;
use runproof_records::{Detail, Key, Kind, Record, Sheet};

/// A new place for a store, for this test alone.
pub(crate) fn place(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("store-{name}"));
    let _absent = std::fs::remove_dir_all(&folder);
    folder.join("records.sqlite3")
}

/// The `n`th of many, each another one.
pub(crate) fn record(n: i64) -> Record {
    Record {
        id: Record::new_id(),
        kind: Kind::Check,
        taken: Timestamp::from_second(1_790_000_000 + n).ok(),
        zone: "Pacific/Auckland".into(),
        verdict: Some(Verdict::Fail),
        said: "data− and supply are crossed.".into(),
        found: vec!["crossed".into(), "hum".into()],
        simulated: false,
        jig: "jig-7".into(),
        board: "rp2040".into(),
        firmware: "0.1.0".into(),
        program: "runproof 0.1.0".into(),
        sheet: Some(Sheet {
            name: "service-24vac".into(),
            version: "1".into(),
            text: "name = \"service-24vac\"\n".into(),
        }),
        told: r#"{"gauge":"18 AWG","length":30.48}"#.into(),
        result: r#"{"runproof_result":1,"fit":0.1}"#.into(),
        capture: format!("{{\"runproof_capture\":1}}\n{{\"reading\":{n}}}\n"),
        details: vec![Detail::new(Key::Job, format!("job {}", n % 10))],
    }
}
