//! The format's description has the fields and numbers that are written, no other ones.

use serde::Serialize;

use crate::capture::Drain;
use crate::judgement::{
    Activity, At, Bonded, Cause, ExplainsComplaint, FindingKind, LiveCause, LiveFindingKind,
    LiveReason, LiveUnit, PairSign, Severity, SupplyKind, Verdict,
};
use crate::read_aloud::numbers::Table;
use crate::read_aloud::packing::Numbered;
use crate::read_aloud::{Outcome, PoweredUp, fields};

const FORMAT: &str = include_str!("../../../read-aloud-format.md");

fn name(value: &impl Serialize) -> String {
    let text = serde_json::to_value(value).expect("text");
    text.as_str().map_or_else(|| "other".into(), str::to_owned)
}

/// "0 `pass`, 1 `fail`, …"
fn numbers<T: Table + Serialize>(of: &str) -> String {
    let each = T::TABLE.iter().map(|(value, number)| format!("{number} `{}`", name(value)));
    format!("| {of} | {} | {} |", <T as Table>::RADIX, each.collect::<Vec<_>>().join(", "))
}

fn outcomes() -> String {
    let each = (0..Outcome::RADIX).filter_map(|number| {
        let Outcome { verdict, reason } = Outcome::numbered(number)?;
        Some(format!("{number} `{}` `{}`", name(&verdict), name(&reason)))
    });
    format!("| outcome | {} | {} |", Outcome::RADIX, each.collect::<Vec<_>>().join(", "))
}

fn tables() -> Vec<String> {
    vec![
        numbers::<Verdict>("verdict"),
        numbers::<Severity>("severity"),
        numbers::<ExplainsComplaint>("explains"),
        outcomes(),
        numbers::<FindingKind>("finding"),
        numbers::<Cause>("cause"),
        numbers::<PoweredUp>("powered up"),
        numbers::<Drain>("drain"),
        numbers::<Bonded>("bonded"),
        numbers::<At>("at"),
        numbers::<SupplyKind>("supply"),
        numbers::<PairSign>("pair"),
        numbers::<Activity>("activity"),
        numbers::<LiveReason>("live reason"),
        numbers::<LiveFindingKind>("live finding"),
        numbers::<LiveCause>("live cause"),
        numbers::<LiveUnit>("unit"),
    ]
}

#[test]
fn the_description_is_of_what_is_written() {
    let missing: Vec<_> = tables().into_iter().filter(|table| !FORMAT.contains(table)).collect();
    assert!(missing.is_empty(), "read-aloud-format.md has not:\n{}", missing.join("\n"));
}

/// Name and radix of each field in the table below a heading.
fn described(heading: &str) -> Vec<(String, String)> {
    let (_, below) = FORMAT.split_once(heading).unwrap_or_default();
    let rows = below.lines().skip_while(|line| !line.starts_with("|---")).skip(1);
    let rows = rows.take_while(|line| line.starts_with('|'));
    let cells =
        rows.map(|row| row.split('|').map(str::trim).map(str::to_owned).collect::<Vec<_>>());
    cells.filter_map(|cells| Some((cells.get(1)?.clone(), cells.get(2)?.clone()))).collect()
}

#[test]
fn its_fields_are_those_that_are_written() {
    for (name, length, fields) in fields() {
        let written: Vec<_> =
            fields.iter().map(|(field, radix)| ((*field).to_owned(), radix.to_string())).collect();
        assert_eq!(
            described(&format!("### Fields of a {name}, {length} symbols")),
            written,
            "{name}"
        );
    }
}
