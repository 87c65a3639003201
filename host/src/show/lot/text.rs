//! A lot on a terminal.

use super::super::chart;
use super::super::terminal::{broken, indented, paragraph};
use super::super::words;
use super::{headline, rows};
use crate::shop::lots::Lot;

pub(crate) fn text(lot: &Lot) -> String {
    let (word, why) = headline(lot);
    let mut lines = vec![];
    broken(&mut lines, format!("{word}:"), 2, &format!("lot {}: {why}", lot.name));
    lines.push(String::new());
    for row in rows(lot) {
        paragraph(&mut lines, row.label, &row.text);
    }
    if let Some(curve) = chart::operating_characteristic(lot) {
        lines.push(String::new());
        lines.extend(curve.text().lines().map(str::to_owned));
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

pub(crate) fn list(lots: &[Lot]) -> String {
    let mut lines = vec![];
    if lots.is_empty() {
        indented(&mut lines, 0, "", words::lot::NONE);
    }
    for lot in lots {
        let state = if lot.closed.is_some() { "closed" } else { "open" };
        let first = format!("{:<8}  {state:<6}  ", headline(lot).0);
        let indent = first.chars().count();
        let told = format!("{}, {}", lot.name, lot.record.said);
        broken(&mut lines, first, indent, &told);
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}
