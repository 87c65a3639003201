//! A lot: how it stands, what its plan is worth, what is left to do.

mod page;
mod text;

use runproof_interpret::judgement::Verdict;
use runproof_quality::lot::{Acceptance, Decision, Worth};
use runproof_quality::sampling::Severity;
use serde_json::json;

pub(crate) use self::page::document;
pub(crate) use self::text::{list, text};
use super::described::Row;
use super::terminal::remark;
use super::words::lot as words;
use crate::exit::Exit;
use crate::shop::lots::Lot;

/// What scripts are told.
pub(crate) fn exit(lot: &Lot) -> Exit {
    verdict(lot).into()
}

fn verdict(lot: &Lot) -> Verdict {
    match decision(lot) {
        _ if lot.is_in_doubt() => Verdict::CannotTell,
        Decision::Accept | Decision::AcceptBackToNormal => Verdict::Pass,
        Decision::Reject | Decision::Hold | Decision::Sorted => Verdict::Fail,
        Decision::NotYet => Verdict::CannotTell,
    }
}

/// As it was decided, or as it stands.
fn decision(lot: &Lot) -> Decision {
    lot.closed.as_ref().map_or(lot.stand.decision, |closed| closed.decision)
}

/// What is left to do before it can be decided.
pub(crate) fn left(lot: &Lot) -> String {
    words::left(&lot.stand, lot.opened.declared.units)
}

/// Before a unit is tested.
pub(crate) fn will_not_count(jig: &str) -> String {
    remark("NOTE", &words::will_not_count(jig))
}

/// Once this unit was tested.
pub(crate) fn after(lot: &Lot, unit: u32) -> String {
    let (word, why) = headline(lot);
    let of_unit = words::of_unit(&lot.stand, unit);
    let of_unit = of_unit.map_or_else(String::new, |told| remark("NOTE", &told));
    let of_lot = remark("lot", &format!("{}: {word}: {why}; {}", lot.name, words::next(lot)));
    of_unit + &of_lot
}

pub(crate) fn json(lot: &Lot) -> String {
    let told = json!({
        "runproof_lot": 1,
        "lot": lot.name,
        "record": lot.number,
        "decision": decision(lot),
        "declared": lot.opened,
        "sheet": lot.record.sheet.as_ref().map(|sheet| (&sheet.name, &sheet.version)),
        "stands": lot.stand,
        "worth": Worth::of(&lot.opened.declared, &lot.stand.drawn),
        "closed": lot.closed,
        "in_doubt": lot.is_in_doubt(),
        "struck": lot.struck,
        "jigs": lot.jigs,
        "not_counted": lot.not_counted,
        "simulated": lot.is_simulated,
    });
    format!("{told}\n")
}

/// Its verdict in a word, and why.
pub(super) fn headline(lot: &Lot) -> (&'static str, String) {
    let decision = decision(lot);
    let mut why = words::why(decision, &lot.stand, lot.opened.declared.units);
    if let Some(closed) = &lot.closed {
        why = words::closed(closed);
    }
    why += &words::struck_count(lot.struck.len());
    if lot.is_in_doubt() {
        return ("IN DOUBT", format!("{}; {why}", words::in_doubt(lot.stand.decision)));
    }
    (words::decision(decision), why)
}

/// All that is told of it.
fn rows(lot: &Lot) -> Vec<Row> {
    let declared = &lot.opened.declared;
    let stand = &lot.stand;
    let mut rows = vec![];
    if lot.is_simulated {
        rows.push(Row::new("SIMULATED", words::SIMULATED));
    }
    rows.extend(words::struck(&lot.struck).map(|text| Row::new("TAKEN OUT", text)));
    rows.push(Row::new("units", words::units(declared)));
    let opened = lot.record.taken.map_or_else(String::new, words::moment);
    rows.push(Row::new(
        "opened",
        format!("{opened}, {}, record {}", lot.record.program, lot.number),
    ));
    if let Some((from, to)) = lot.measured {
        rows.push(Row::new("measured", words::measured_by(&lot.jigs, from, to)));
    }
    rows.push(Row::new("identity", words::identity(&stand.identity, declared.units)));
    rows.push(Row::new("plan", words::plan(declared, &stand.drawn)));
    if let Some(sheet) = &lot.record.sheet {
        rows.push(Row::new("judged by", words::judged_by(sheet, lot.opened.test.name())));
    }
    if stand.drawn.plan.is_some() {
        rows.push(Row::new(
            "test",
            words::sample(&stand.drawn.sample, declared.seed, lot.opened.seed_told),
        ));
    }
    rows.push(Row::new("tested", words::tested(&stand.sample, stand.drawn.sample.len())));
    rows.extend(words::beside(&stand.beside).map(|text| Row::new("beside", text)));
    rows.extend(words::not_counted(lot.not_counted).map(|text| Row::new("not counted", text)));
    if let Some(worth) = Worth::of(declared, &stand.drawn) {
        rows.push(Row::new(
            "finds",
            words::finds(&worth, declared.units, stand.drawn.sample.len()),
        ));
        rows.push(Row::new("risks", words::risks(&worth, declared)));
    }
    let severity = match declared.acceptance {
        Acceptance::Attributes { severity, .. } => Some(severity),
        _ => None,
    };
    let due = severity.and_then(|used| words::severity_due(lot.opened.due, used));
    rows.extend(due.map(|text| Row::new("severity", text)));
    if severity == Some(Severity::Reduced) {
        rows.push(Row::new("reduced", words::REDUCED));
    }
    rows.push(Row::new("next", words::next(lot)));
    rows
}
