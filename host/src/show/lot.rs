//! A lot: how it stands, what its plan is worth, what is left to do.

mod page;
mod text;

use runproof_interpret::judgement::Verdict;
use runproof_quality::lot::{Acceptance, Decision, Worth};
use runproof_quality::sampling::Severity;
use serde_json::json;

pub(crate) use self::page::page;
pub(crate) use self::text::{list, text};
use super::described::Row;
use super::words::lot as words;
use crate::exit::Exit;
use crate::shop::lots::Lot;

/// What scripts are told.
pub(crate) fn exit(lot: &Lot) -> Exit {
    verdict(lot).into()
}

fn verdict(lot: &Lot) -> Verdict {
    match decision(lot) {
        Decision::Accept | Decision::AcceptBackToNormal => Verdict::Pass,
        Decision::Reject | Decision::Hold => Verdict::Fail,
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
        "not_counted": lot.not_counted,
        "simulated": lot.is_simulated,
    });
    format!("{told}\n")
}

/// Its verdict in a word, and why.
fn headline(lot: &Lot) -> (&'static str, String) {
    let decision = decision(lot);
    let mut why = words::why(decision, &lot.stand, lot.opened.declared.units);
    if let Some(closed) = &lot.closed {
        why = words::closed(closed);
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
    rows.push(Row::new("units", words::units(declared)));
    rows.push(Row::new("identity", words::identity(&stand.identity, declared.units)));
    rows.push(Row::new("plan", words::plan(declared, &stand.drawn)));
    if let Some(sheet) = &lot.record.sheet {
        rows.push(Row::new(
            "judged by",
            words::judged_by(&sheet.name, &sheet.version, lot.opened.test.name()),
        ));
    }
    if stand.drawn.plan.is_some() {
        rows.push(Row::new("test", words::sample(&stand.drawn.sample, declared.seed)));
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
    if severity == Some(Severity::Reduced) {
        rows.push(Row::new("reduced", words::REDUCED));
    }
    if lot.closed.is_some() && decision(lot) != stand.decision {
        rows.push(Row::new("NOTE", words::otherwise_now(stand.decision)));
    }
    rows.push(Row::new("next", words::next(lot)));
    rows
}
