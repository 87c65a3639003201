//! Limit sheets as a person meets them: the list, and one as a table.

use runproof_interpret::LimitSheet;
use runproof_interpret::limits::{Bounds, Limit, LiveRanges, Severity, SupplyForm};

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
    lines.extend([String::new(), row(&HEADINGS)]);
    for one in all(sheet, units) {
        lines.push(row(&[&one.what, &one.value, one.beyond, one.explains]));
        source(&mut lines, &one.source);
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

/// One limit, in words.
pub(super) struct Told {
    pub(super) what: String,
    pub(super) value: String,
    /// What it means to be beyond it.
    pub(super) beyond: &'static str,
    /// Whether it explains why someone was called.
    pub(super) explains: &'static str,
    pub(super) source: String,
    /// It is of a powered run.
    pub(super) powered: bool,
}

/// All that the sheet has.
pub(super) fn all(sheet: &LimitSheet, units: Units) -> Vec<Told> {
    const POWERED: &str = "powered run";
    const NOT_JUDGED: &str = "not judged";
    let range = |bounds: &Bounds| {
        let value = |value| words::limit_value(value, bounds.unit, units);
        format!("{} to {}", value(bounds.least), value(bounds.most))
    };
    let limits = limits(sheet, units).into_iter().map(|(what, limit, value)| Told {
        what,
        value,
        beyond: words::severity(limit.severity),
        explains: words::explains(limit.explains_complaint),
        source: limit.source.clone(),
        powered: false,
    });
    let live = live(sheet).into_iter().map(|(what, bounds, beyond)| Told {
        what: what.into(),
        value: range(bounds),
        beyond,
        explains: POWERED,
        source: bounds.source.clone(),
        powered: true,
    });
    let control = sheet.live.control_current.iter().map(|current| Told {
        what: "a control takes".into(),
        value: words::limit_value(current.value, current.unit, units),
        beyond: NOT_JUDGED,
        explains: POWERED,
        source: current.source.clone(),
        powered: true,
    });
    let shown = shown(sheet).map(|(what, bounds)| Told {
        what: what.into(),
        value: range(bounds),
        beyond: NOT_JUDGED,
        explains: "",
        source: bounds.source.clone(),
        powered: false,
    });
    limits.chain(live).chain(control).chain(shown).collect()
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

/// What is held against a powered run alone, the range, and what it means to be out of it.
fn live(sheet: &LimitSheet) -> Vec<(&'static str, &Bounds, &'static str)> {
    let LiveRanges {
        supply_kind,
        supply,
        supply_noted,
        data_idle,
        data_undecided,
        data_to_common,
        data_alternating,
        control_current: _,
    } = &sheet.live;
    let supply_is = match supply_kind {
        Some(SupplyForm::Alternating) => "supply, alternating",
        Some(SupplyForm::Direct) => "supply, direct",
        None => "supply, of no kind told",
    };
    let (fail, note) = (words::severity(Severity::Fail), words::severity(Severity::Note));
    let supply_beyond = if supply_kind.is_some() { fail } else { "not judged" };
    let each = [
        (supply_is, supply, supply_beyond),
        ("supply, as a rule", supply_noted, note),
        ("data− to data+, idle", data_idle, note),
        ("the same, not decided within", data_undecided, fail),
        ("data line to common", data_to_common, fail),
        ("mains on a data line, rms", data_alternating, fail),
    ];
    each.into_iter().filter_map(|(what, one, beyond)| Some((what, one.as_ref()?, beyond))).collect()
}

fn shown(sheet: &LimitSheet) -> impl Iterator<Item = (&'static str, &Bounds)> {
    let each = [("capacitance to the others", sheet.capacitance.as_ref())];
    each.into_iter().filter_map(|(what, bounds)| Some((what, bounds?)))
}

fn source(lines: &mut Vec<String>, source: &str) {
    indented(lines, 12, "  source", source);
}

fn row(cells: &[&str; 4]) -> String {
    let padded = cells.iter().zip(WIDTHS).map(|(cell, width)| format!("{cell:<width$}"));
    format!("  {}", padded.collect::<String>().trim_end())
}
