//! A record, made of a capture and what followed from it.

use jiff::Timestamp;
use runproof_interpret::capture::Zero;
use runproof_interpret::judgement::{LiveJudgement, ReelJudgement, Verdict};
use runproof_interpret::pieces::Held;
use runproof_interpret::{Capture, Judgement, LiveKnowledge, RunKnowledge};
use runproof_records::{Detail, Key, Kind, Record, Sheet, jiff};
use serde::Serialize;

use crate::shop::proofs::{self, Told};
use crate::show::{self, json};

/// That judges and records.
pub(crate) const PROGRAM: &str = concat!("runproof ", env!("CARGO_PKG_VERSION"));

pub(crate) fn of_check(
    capture: &Capture,
    judgement: &Judgement,
    known: &RunKnowledge,
    sheet: &Sheet,
    details: &[Detail],
) -> Record {
    let kind = if judgement.to_earth.is_some() { Kind::ToEarth } else { Kind::Check };
    Record {
        verdict: Some(judgement.verdict),
        said: show::reason(judgement),
        found: kinds(judgement.findings.iter().map(|one| one.kind)),
        sheet: Some(sheet.clone()),
        told: text(known),
        result: json::plain(capture, judgement, known),
        details: details.to_vec(),
        ..of(capture, kind)
    }
}

pub(crate) fn of_live(
    capture: &Capture,
    judgement: &LiveJudgement,
    known: &LiveKnowledge,
    sheet: &Sheet,
    details: &[Detail],
) -> Record {
    Record {
        verdict: Some(judgement.verdict),
        said: show::live::reason(judgement),
        found: kinds(judgement.findings.iter().map(|one| one.kind)),
        sheet: Some(sheet.clone()),
        told: text(known),
        result: show::live::json::line(capture, judgement),
        details: details.to_vec(),
        ..of(capture, Kind::Live)
    }
}

pub(crate) fn of_flex(
    capture: &Capture,
    seen: &show::flex::Seen,
    sheet: &Sheet,
    details: &[Detail],
) -> Record {
    Record {
        verdict: Some(seen.judgement.verdict),
        said: show::flex::reason(seen),
        found: kinds(seen.judgement.findings.iter().map(|one| one.kind)),
        sheet: Some(sheet.clone()),
        result: show::flex::json::plain(capture, seen),
        details: details.to_vec(),
        ..of(capture, Kind::Flex)
    }
}

/// Of a known piece: what the jig said, and whether that is as stated.
pub(crate) fn of_piece(
    capture: &Capture,
    judgement: &Judgement,
    told: &Told,
    held: &Held,
    sheet: &Sheet,
    details: &[Detail],
) -> Record {
    let said = json::plain(capture, judgement, &RunKnowledge::default());
    Record {
        verdict: Some(held.verdict),
        said: show::proof::reason(&told.piece, held),
        sheet: Some(sheet.clone()),
        told: text(told),
        result: proofs::result(&said, held),
        details: details.to_vec(),
        ..of(capture, Kind::Proof)
    }
}

/// What was declared is in its capture as well.
pub(crate) fn of_reel(
    capture: &Capture,
    judgement: &ReelJudgement,
    sheet: &Sheet,
    details: &[Detail],
) -> Record {
    let found = kinds(judgement.findings.iter().map(|one| one.kind));
    let of_run = kinds(judgement.run.findings.iter().map(|one| one.kind));
    let id = judgement.declared.id.as_ref().map(|id| Detail::new(Key::Reel, id));
    Record {
        verdict: Some(judgement.verdict),
        said: show::reel::reason(judgement),
        found: found.into_iter().chain(of_run).collect(),
        sheet: Some(sheet.clone()),
        told: text(&judgement.declared),
        result: show::reel::json::plain(capture, judgement),
        details: id.into_iter().chain(details.iter().cloned()).collect(),
        ..of(capture, Kind::Reel)
    }
}

pub(crate) fn of_zero(capture: &Capture, zero: &Zero, details: &[Detail]) -> Record {
    let said = show::zero::reason(&capture.head);
    let result = serde_json::json!({ "zero_ohm": zero.ohm, "jig_c": zero.jig_c });
    Record {
        said,
        result: result.to_string(),
        details: details.to_vec(),
        ..of(capture, Kind::Zero)
    }
}

/// What a capture says of itself.
fn of(capture: &Capture, kind: Kind) -> Record {
    let jig = &capture.head.jig;
    let taken = capture.head.taken_unix_s.and_then(|s| i64::try_from(s).ok());
    Record {
        id: Record::new_id(),
        kind,
        taken: taken.and_then(|s| Timestamp::from_second(s).ok()),
        zone: Record::zone_here(),
        verdict: None::<Verdict>,
        said: String::new(),
        found: vec![],
        simulated: capture.is_simulated(),
        jig: jig.serial.clone(),
        board: jig.board.clone(),
        firmware: jig.firmware.clone(),
        program: PROGRAM.into(),
        sheet: None,
        told: "{}".into(),
        result: "{}".into(),
        capture: capture.write(),
        details: vec![],
    }
}

/// Each once, in their order.
fn kinds(kinds: impl Iterator<Item = impl Serialize>) -> Vec<String> {
    let mut all: Vec<String> = vec![];
    for kind in kinds {
        let name = name(&kind);
        if !all.contains(&name) {
            all.push(name);
        }
    }
    all
}

/// A word as records have it.
pub(crate) fn name(word: &impl Serialize) -> String {
    text(word).trim_matches('"').to_owned()
}

/// A value as records have it: JSON.
pub(crate) fn text(value: &impl Serialize) -> String {
    serde_json::to_string(value).unwrap_or_else(|error| unreachable!("it has text keys: {error}"))
}
