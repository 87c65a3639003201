//! How a jig was proved: piece by piece, and over time.

mod page;

use runproof_interpret::judgement::Verdict;
use runproof_interpret::pieces::{Held, Piece, PieceSet};
use runproof_quality::proof::Event;
use runproof_records::Listed;
use serde_json::json;

pub(crate) use self::page::document;
pub(super) use self::page::heading;
use super::chart;
use super::described::Row;
use super::document::{Cell, Grid, Weight};
use super::records;
use super::terminal::{broken, paragraph, remark};
use super::words;
use super::words::proof as said;
use crate::shop::proofs::Proved;

/// What whoever stands there does before a piece is measured.
pub(crate) fn clip_on(piece: &Piece, enter: bool) -> String {
    remark(&piece.name, &said::clip_on(piece, enter))
}

/// Whether a piece is as stated, and what is otherwise, in a sentence.
pub(crate) fn reason(piece: &Piece, held: &Held) -> String {
    said::reason(piece, held)
}

/// One piece, a line or two.
pub(crate) fn piece(piece: &Piece, held: &Held) -> String {
    let verdict = match held.verdict {
        Verdict::Pass => "as stated",
        Verdict::Fail => "OTHERWISE",
        Verdict::CannotTell => "not told",
    };
    remark(verdict, &reason(piece, held))
}

/// A record of a piece.
pub(crate) fn of_record(verdict: Verdict, reason: &str) -> String {
    let mut lines = vec![];
    broken(&mut lines, format!("{}:", words::verdict(verdict)), 2, reason);
    words::printable(&format!("{}\n", lines.join("\n")))
}

pub(crate) fn text(proved: &Proved, set: &PieceSet, now_s: u64) -> String {
    let (verdict, why) = headline(proved, set, now_s);
    let mut lines = vec![String::new()];
    broken(&mut lines, format!("{verdict}:"), 2, &why);
    lines.push(String::new());
    for row in rows(proved, set, now_s) {
        paragraph(&mut lines, row.label, &row.text);
    }
    let newest = proved.history.charts.iter().filter(|chart| !chart.newest_breaks.is_empty());
    for chart in newest.filter_map(chart::of_proofs) {
        lines.push(String::new());
        lines.extend(chart.text().lines().map(str::to_owned));
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

pub(crate) fn json(proved: &Proved, set: &PieceSet) -> String {
    let from_calibration = proved.history.charts.iter().filter_map(|chart| {
        let (ohm, proofs) = said::from_calibration(chart, set)?;
        Some(json!({ "of": chart.of, "ohm": ohm, "proofs": proofs }))
    });
    let told = json!({
        "runproof_proofs": 1,
        "jig": proved.jig,
        "simulated": proved.is_simulated,
        "history": proved.history,
        "last_proved_s": proved.history.events.last_proved_s(),
        "due_s": proved.history.events.due_s(),
        "from_calibration": from_calibration.collect::<Vec<_>>(),
    });
    format!("{told}\n")
}

/// What was measured since the last good proof, and is in doubt.
pub(crate) fn doubted(all: &[Listed], was_proved: bool) -> String {
    let mut lines = vec![];
    paragraph(&mut lines, "IN DOUBT", &said::doubted(all.len(), was_proved));
    for one in all {
        let first = format!("{:>17}  ", one.number);
        let verdict = one.verdict.map_or("", words::verdict);
        broken(
            &mut lines,
            first,
            19,
            &format!("{verdict}: {} {}", one.said, records::told(one).unwrap_or_default()),
        );
    }
    words::printable(&format!("{}\n", lines.join("\n")))
}

/// The same on paper.
pub(super) fn as_rows(all: &[Listed]) -> Grid {
    let row = |one: &Listed| {
        let verdict = one.verdict.map(|verdict| (verdict, false));
        let told = format!("{} {}", one.said, records::told(one).unwrap_or_default());
        vec![Cell::from(one.number.to_string()), Cell { verdict, text: told, to: None }]
    };
    Grid {
        weight: Weight::Plain,
        caption: None,
        headings: vec!["record", "verdict"],
        rows: all.iter().map(row).collect(),
    }
}

fn headline(proved: &Proved, set: &PieceSet, now_s: u64) -> (&'static str, String) {
    let now_s = i64::try_from(now_s).unwrap_or(i64::MAX);
    let jig = &proved.jig;
    match proved.history.events.last() {
        Some(Event::Out { why, .. }) => ("OUT", said::out(jig, why)),
        Some(Event::Proved { at_s }) if proved.history.events.was_right(now_s) => {
            let overdue = if said::is_overdue(set, now_s) {
                " The calibration of the pieces is OVERDUE."
            } else {
                ""
            };
            ("PROVED", said::proved(jig, *at_s, now_s) + overdue)
        }
        Some(Event::Proved { at_s }) => ("DUE", said::due(jig, *at_s, now_s)),
        None => ("NOT YET", said::not_yet(jig)),
    }
}

fn rows(proved: &Proved, set: &PieceSet, now_s: u64) -> Vec<Row> {
    let history = &proved.history;
    let mut rows = vec![];
    if proved.is_simulated {
        rows.push(Row::new("SIMULATED", said::SIMULATED));
    }
    rows.push(Row::new("pieces", said::pieces(set)));
    rows.push(Row::new("calibrated", said::calibrated(set, now_s)));
    if !history.under_way.is_empty() {
        rows.push(Row::new("under way", said::under_way(&history.under_way, set)));
    }
    rows.push(Row::new("proofs", said::proofs(history)));
    rows.extend(history.charts.iter().map(|chart| Row::new("chart", said::chart(chart, set))));
    rows.push(Row::new("next", said::next(history.events.last())));
    rows
}
