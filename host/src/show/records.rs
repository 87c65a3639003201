//! Records, in words.

mod list;
mod one;

use std::path::Path;

pub(super) use list::kind;
pub(crate) use list::{list, told};
pub(crate) use one::{about, of_zero, otherwise_then, rows, void, void_reason, void_used};
use runproof_records::{Detail, Kept, Key, StoreError};

use super::next::command;
use super::terminal::{complaint, paragraph};
use crate::error::Error;

pub(crate) const NONE_YET: &str = "\
No record on this computer yet: `runproof check`, `live`, `flex`, `reel` and
`zero` keep one of each test by themselves.
";

/// Where a record is, in a result.
pub(super) fn kept(kept: &Kept) -> String {
    format!("{} here, id {}", kept.number, kept.id)
}

/// The same, as a row by itself.
pub(crate) fn kept_row(told: &Kept) -> String {
    let mut lines = vec![];
    paragraph(&mut lines, "record", &kept(told));
    printable(&lines)
}

/// That a record could not be kept, where it is instead, and what to do.
pub(crate) fn beside(path: &Path, why: &StoreError) -> String {
    let path = path.display().to_string();
    let may_go = if Path::new(&path).starts_with(std::env::temp_dir()) {
        "; move it from there, that folder may be emptied when the computer starts"
    } else {
        ""
    };
    let import = ["runproof", "records", "import", &path].map(str::to_owned);
    let told = complaint(&[
        ("runproof: ", &format!("the record could not be kept where records are: {why}")),
        ("  kept: ", &format!("{path} has the record, whole{may_go}")),
        ("  next: ", &format!("{}; then run", crate::error::store::next_step(why))),
    ]);
    // Not broken, so that it can be copied.
    format!("{told}\n    {}", command::line(&import))
}

pub(crate) fn said(number: i64, details: &[Detail]) -> String {
    let mut lines = vec![format!("Record {number}:")];
    for detail in details {
        paragraph(&mut lines, label(detail.key), &detail.value);
    }
    printable(&lines)
}

pub(crate) fn imported(file: &str, kept: &Kept) -> String {
    let was = if kept.was_here { "was here, as" } else { "kept as" };
    printable(&[format!("{file}  {was} {} {}", kept.number, kept.id)])
}

pub(crate) fn not_imported(file: &str, error: &Error) -> String {
    printable(&[format!("{file}  not taken: {error}")])
}

pub(crate) fn all_imported(new: u64, old: u64, unusable: u64) -> String {
    let unusable = match unusable {
        0 => String::new(),
        1 => "; 1 file could not be taken".into(),
        many => format!("; {many} files could not be taken"),
    };
    format!("{new} new, {old} were here{unusable}.\n")
}

pub(crate) fn reported(path: &Path) -> String {
    printable(&[format!("the report is {}", path.display())])
}

pub(crate) fn exported(count: u64, path: &Path) -> String {
    let records = if count == 1 { "record" } else { "records" };
    printable(&[format!("{count} {records} in {}", path.display())])
}

/// As a row is called.
fn label(key: Key) -> &'static str {
    match key {
        Key::Operator => "operator",
        Key::Job => "job",
        Key::RunName => "run",
        Key::Reel => "reel",
        Key::Place => "place",
        Key::EquipmentModel => "model",
        Key::EquipmentSerial => "serial",
        Key::EquipmentInstalled => "installed",
        Key::Symptom => "symptom",
        Key::Temperature => "temperature",
        Key::Note => "note",
        Key::Photo => "photo",
        Key::Lot => "lot",
        Key::Unit => "unit",
        Key::Identity => "identity",
        Key::Closed => "closed",
        Key::Void => "VOID",
    }
}

/// What comes from a record must not steer the terminal.
fn printable(lines: &[String]) -> String {
    super::words::printable(&format!("{}\n", lines.join("\n")))
}
