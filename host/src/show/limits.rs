//! Limit sheets as a person meets them: the list, and one as a table.

use runproof_interpret::LimitSheet;
use runproof_interpret::limits::{Bounds, Limit};

use super::terminal::{indented, paragraph};
use super::words;
use crate::arguments::Units;

const HEADINGS: [&str; 4] = ["limit", "value", "beyond it", "explains it"];
const WIDTHS: [usize; 4] = [29, 22, 12, 0];

pub(crate) fn list(sheets: &[LimitSheet]) -> String {
    let mut lines = vec![];
    for sheet in sheets {
        indented(&mut lines, 20, &sheet.name, &sheet.about);
    }
    lines.push(String::new());
    lines.join("\n")
}

pub(crate) fn checked(sheet: &LimitSheet) -> String {
    let text = format!("{} {} is a limit sheet that can be used.\n", sheet.name, sheet.version);
    words::printable(&text)
}

pub(crate) fn one(sheet: &LimitSheet, units: Units) -> String {
    let mut lines = vec![
        format!("{} {}: {}", sheet.name, sheet.version, words::arrangement(sheet.arrangement)),
        String::new(),
    ];
    paragraph(&mut lines, "for", &sheet.about);
    let posts = sheet.conductors.iter();
    let posts = posts.map(|one| format!("{} {}", one.post, words::conductor(one.name)));
    paragraph(&mut lines, "posts", &posts.collect::<Vec<_>>().join(", "));
    let [least, most] = sheet.contact_mohm;
    paragraph(&mut lines, "contacts", &format!("{least} to {most} mΩ a conductor, taken off"));
    let spread =
        format!("one cable's conductors differ by {} % or so", 100.0 * sheet.sibling_spread);
    paragraph(&mut lines, "spread", &spread);
    paragraph(&mut lines, "rule", words::decision_rule(sheet.decision_rule));
    lines.extend([String::new(), row(&HEADINGS.map(str::to_owned))]);
    for (what, limit, value) in limits(sheet, units) {
        lines.push(row(&[
            what,
            value,
            words::severity(limit.severity).into(),
            words::explains(limit.explains_complaint).into(),
        ]));
        source(&mut lines, &limit.source);
    }
    for (what, bounds) in shown(sheet) {
        let value = |value| words::limit_value(value, bounds.unit, units);
        let range = format!("{} to {}", value(bounds.least), value(bounds.most));
        lines.push(row(&[what.into(), range, "not judged".into(), String::new()]));
        source(&mut lines, &bounds.source);
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

/// What is limited, the limit, and its value in words.
fn limits(sheet: &LimitSheet, units: Units) -> Vec<(String, &Limit, String)> {
    let value = |limit: &Limit| words::limit_value(limit.value, limit.unit, units);
    let at_most = |what: &str, limit| -> Option<(String, &Limit, String)> {
        let limit: &Limit = Option::as_ref(limit)?;
        Some((what.to_owned(), limit, format!("≤ {}", value(limit))))
    };
    let at_least =
        |limit| (String::from("between conductors"), limit, format!("≥ {}", value(limit)));
    let conductors = sheet.conductors.iter();
    let mut all: Vec<_> =
        conductors.filter_map(|one| at_most(words::conductor(one.name), &one.resistance)).collect();
    all.extend(at_most("conductor beyond its wire", &sheet.beyond_wire));
    all.extend(at_most("loop", &sheet.loop_resistance));
    all.extend(at_most("loop, of what is calculated", &sheet.loop_of_calculated));
    all.extend(sheet.sibling_difference.as_ref().map(|difference| {
        let most = format!("≤ {} or {} %", value(&difference.limit), difference.or_percent);
        ("one conductor beyond another".to_owned(), &difference.limit, most)
    }));
    all.extend([at_least(&sheet.leakage.note_below), at_least(&sheet.leakage.fail_below)]);
    all.extend(at_most("length, as told", &sheet.maximum_length));
    all
}

fn shown(sheet: &LimitSheet) -> impl Iterator<Item = (&'static str, &Bounds)> {
    let each = [
        ("supply at the control", sheet.supply.as_ref()),
        ("data− to data+, idle", sheet.data_idle.as_ref()),
        ("capacitance to the others", sheet.capacitance.as_ref()),
    ];
    each.into_iter().filter_map(|(what, bounds)| Some((what, bounds?)))
}

fn source(lines: &mut Vec<String>, source: &str) {
    indented(lines, 12, "  source", source);
}

fn row(cells: &[String; 4]) -> String {
    let padded = cells.iter().zip(WIDTHS).map(|(cell, width)| format!("{cell:<width$}"));
    format!("  {}", padded.collect::<String>().trim_end())
}
