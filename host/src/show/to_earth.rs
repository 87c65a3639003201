//! The table of a test to earth.

use runproof_interpret::judgement::{ToEarth, Verdict};
use runproof_interpret::limits::Leakage;
use runproof_interpret::to_earth::{CORES, METAL, SHIELD};
use runproof_interpret::{Judgement, LimitSheet};
use runproof_protocol::Post;

use super::described::{Column, Row, Table};
use super::terminal::{self, paragraph};
use super::words;

const COLUMNS: [Column; 4] = [
    Column::new("between", 17),
    Column::new("resistance", 18),
    Column::new("limit", 11),
    Column::new("verdict", 0),
];

pub(super) fn table(told: &ToEarth, judgement: &Judgement) -> Table {
    let each = [(METAL, Some(told.to_metal)), (SHIELD, told.to_shield)];
    let each = each.into_iter().filter_map(|(post, verdict)| Some((post, verdict?)));
    let cells = each.map(|(post, verdict)| cells(post, verdict, told, judgement));
    let below = words::bonded(told).map(|bonded| Row::new("shield", bonded));
    Table { columns: &COLUMNS, rows: cells.map(Vec::from).collect(), below }
}

fn cells(post: Post, verdict: Verdict, told: &ToEarth, judgement: &Judgement) -> [String; 4] {
    let isolation = judgement.isolation.iter().find(|one| one.posts == [CORES, post]);
    let why = words::why(post, verdict, isolation.is_some(), told);
    [
        words::row_name(post).into(),
        words::path(isolation),
        words::at_least_ohm(told.fail_below_ohm),
        format!("{}: {}", words::verdict(verdict), why),
    ]
}

/// How each path was held against its limit, and where that comes from.
pub(super) fn explained(
    lines: &mut Vec<String>,
    told: &ToEarth,
    judgement: &Judgement,
    sheet: &LimitSheet,
) {
    lines.push(String::new());
    lines.extend(terminal::table(&table(told, judgement)));
    lines.push(String::new());
    for path in &judgement.isolation {
        paragraph(lines, "read", &words::path_explained(path, judgement));
    }
    let Leakage { fail_below, note_below } = &sheet.leakage;
    for (what, limit) in [("fails below", fail_below), ("a remark below", note_below)] {
        paragraph(lines, "limit", &words::leakage_limit(what, limit));
    }
    paragraph(lines, "rule", words::LEAKAGE_RULE);
    let shown = words::contact(&told.contact_shown, judgement);
    paragraph(lines, "contact", &shown);
    lines.push(String::new());
}
