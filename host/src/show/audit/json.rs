//! An audit for programs; `shop-format.md` describes it.

use runproof_interpret::Capture;
use runproof_interpret::pieces::PieceSet;
use runproof_records::jiff::Timestamp;
use runproof_records::{Key, Kind, Listed, Used, latest};
use serde_json::{Value, json};

use crate::recording::name;
use crate::shop::audit::{Audit, is_void};
use crate::shop::lots::Lot;

pub(crate) fn json(audit: &Audit, set: &PieceSet, kept: &[Capture]) -> String {
    let history = &audit.proved.history;
    let counts = audit.counts().into_iter().map(|(kind, count)| {
        let told = json!({
            "pass": count.pass,
            "fail": count.fail,
            "cannot-tell": count.cannot_tell,
            "void": count.void,
        });
        (kind.name().to_owned(), told)
    });
    let tests = audit.judged.iter().map(|one| {
        let mut told = test(&one.test);
        told["jig_was_proved"] = one.jig_was_right.into();
        told
    });
    let versions = audit.versions.iter().map(|used| {
        let what = &used.what;
        let of = json!({ "program": what.program, "firmware": what.firmware, "board": what.board });
        with_use(of, used)
    });
    let sheets = audit.sheets.iter().map(|used| {
        let what = &used.what;
        let of = json!({ "name": what.name, "version": what.version, "sha256": what.sha256 });
        with_use(of, used)
    });
    let doubted = audit.doubted.as_ref().map(|all| all.tests.iter().map(|one| one.number));
    let told = json!({
        "runproof_audit": 1,
        "jig": audit.jig,
        "since_s": audit.since.map(Timestamp::as_second),
        "until_s": audit.until.map(Timestamp::as_second),
        "simulated": audit.is_simulated(),
        "pieces": { "name": set.name, "version": set.version, "calibrated": set.calibrated, "due": set.due },
        "events": audit.events().collect::<Vec<_>>(),
        "last_proved_s": history.events.last_proved_s(),
        "due_s": history.events.due_s(),
        "zeros": audit.zeros.iter().map(test).collect::<Vec<_>>(),
        "zeros_kept_s": kept.iter().map(|one| one.head.taken_unix_s).collect::<Vec<_>>(),
        "counts": counts.collect::<serde_json::Map<_, _>>(),
        "not_proved": audit.unproved(),
        "tests": tests.collect::<Vec<_>>(),
        "in_doubt": doubted.map(Iterator::collect::<Vec<_>>),
        "lots": audit.lots.iter().map(lot).collect::<Vec<_>>(),
        "versions": versions.collect::<Vec<_>>(),
        "sheets": sheets.collect::<Vec<_>>(),
    });
    format!("{told}\n")
}

fn test(test: &Listed) -> Value {
    json!({
        "record": test.number,
        "id": test.id.to_string(),
        "kind": test.kind.name(),
        "taken_s": test.taken.map(Timestamp::as_second),
        "verdict": test.verdict.map(|verdict| name(&verdict)),
        "said": test.said,
        "void": latest(&test.details, Key::Void).filter(|_| is_void(test)),
        "simulated": test.simulated,
        "sheet": test.sheet.as_ref().map(|(name, version)| json!([name, version])),
        "program": test.program,
        "firmware": test.firmware,
        "capture_sha256": (test.kind != Kind::Lot).then_some(&test.capture_sha256),
    })
}

fn lot(lot: &Lot) -> Value {
    json!({
        "lot": lot.name,
        "record": lot.number,
        "decision": lot.stand.decision,
        "in_doubt": lot.is_in_doubt(),
        "closed": lot.closed,
    })
}

fn with_use<T>(mut of: Value, used: &Used<T>) -> Value {
    let [first, last] = used.between.map(Timestamp::as_second);
    of["records"] = used.records.into();
    of["first_s"] = first.into();
    of["last_s"] = last.into();
    of
}
