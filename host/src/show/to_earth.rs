//! The table of a test to earth.

use runproof_interpret::judgement::{ToEarth, Verdict};
use runproof_interpret::limits::Leakage;
use runproof_interpret::to_earth::{CORES, METAL, SHIELD};
use runproof_interpret::{Judgement, LimitSheet};
use runproof_protocol::Post;

use super::terminal::paragraph;
use super::words;

/// The last takes what is left.
const WIDTHS: [usize; 4] = [17, 18, 11, 0];

pub(super) fn rows(told: &ToEarth, judgement: &Judgement) -> Vec<String> {
    let headings = ["between", "resistance", "limit", "verdict"].map(str::to_owned);
    let each = [(METAL, Some(told.to_metal)), (SHIELD, told.to_shield)];
    let each = each.into_iter().filter_map(|(post, verdict)| Some((post, verdict?)));
    let cells = each.map(|(post, verdict)| cells(post, verdict, told, judgement));
    let mut lines: Vec<String> = [headings].into_iter().chain(cells).map(row).collect();
    if let Some(bonded) = words::bonded(told) {
        lines.push(String::new());
        paragraph(&mut lines, "shield", bonded);
    }
    lines
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
    lines.extend(rows(told, judgement));
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

fn row(cells: [String; 4]) -> String {
    let padded = cells.iter().zip(WIDTHS).map(|(cell, width)| format!("{cell:<width$}"));
    format!("  {}", padded.collect::<String>().trim_end())
}
