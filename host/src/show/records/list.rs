//! Many records: two lines each, the newest first.

use std::path::Path;

use runproof_records::jiff::tz::TimeZone;
use runproof_records::{Key, Kind, Listed, latest};

use super::{label, printable};
use crate::show::terminal::{broken, indented};
use crate::show::words;

const HEADINGS: [&str; 4] = ["no.", "taken", "test", "verdict"];

pub(crate) fn list(listed: &[Listed], all: usize, store: &Path) -> String {
    if listed.is_empty() {
        return none();
    }
    let width = listed.iter().map(|one| one.number.to_string().len()).max().unwrap_or(0).max(3);
    let here = TimeZone::system();
    let [number, taken, test, verdict] = HEADINGS;
    let mut lines = vec![format!("{number:>width$}  {taken:<16}  {test:<8}  {verdict}")];
    for one in listed {
        let taken = one.taken.map_or_else(
            || "time not kept".into(),
            |taken| taken.to_zoned_datetime(here.clone()).strftime("%Y-%m-%d %H:%M").to_string(),
        );
        let number = format!("{:>width$}  {taken:<16}  {:<8}  ", one.number, kind(one.kind));
        let indent = number.chars().count();
        let verdict = one
            .verdict
            .map_or_else(String::new, |verdict| format!("{}: ", words::verdict(verdict)));
        broken(&mut lines, number, indent, &format!("{verdict}{}", one.said));
        if let Some(told) = told(one) {
            broken(&mut lines, " ".repeat(indent), indent, &told);
        }
    }
    let shown = listed.len();
    let zone = here.iana_name().map_or_else(|| "here".into(), |zone| format!("in {zone}"));
    let of =
        if shown == all { format!("{all} in all") } else { format!("the newest {shown} of {all}") };
    lines.push(String::new());
    let told = format!(
        "{of}; times are those {zone}. One of them: `runproof records show NO.` All are in {}.",
        store.display()
    );
    indented(&mut lines, 0, "", &told);
    printable(&lines)
}

/// A command that was mistyped looks like a word to search for.
fn none() -> String {
    let told = "No record is like that. Words are searched for in all that was said and found; a record by its number is \
        shown by `runproof records show NO.`, a verdict is chosen with --verdict. No record is ever deleted.";
    let mut lines = vec![];
    indented(&mut lines, 0, "", told);
    printable(&lines)
}

/// What tells it from others.
pub(crate) fn told(one: &Listed) -> Option<String> {
    let keys = [
        Key::Void,
        Key::Lot,
        Key::Unit,
        Key::Job,
        Key::RunName,
        Key::Reel,
        Key::Place,
        Key::EquipmentModel,
        Key::Operator,
    ];
    let each = keys
        .into_iter()
        .filter_map(|key| Some(format!("{} {}", label(key), latest(&one.details, key)?)));
    let simulated = one.simulated.then(|| "simulated".to_owned());
    let all: Vec<String> = simulated.into_iter().chain(each).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

pub(in crate::show) fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Check => "check",
        Kind::ToEarth => "to earth",
        Kind::Live => "live",
        Kind::Reel => "reel",
        Kind::Zero => "zero",
        Kind::Proof => "proof",
        Kind::Lot => "lot",
        Kind::Flex => "flex",
    }
}
