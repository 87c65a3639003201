//! How a reel's length went, test by test.

use runproof_interpret::judgement::{Interval, Verdict};
use runproof_records::jiff::Timestamp;
use runproof_records::jiff::tz::TimeZone;
use serde::Serialize;

use crate::arguments::Units;
use crate::show::described::{Column, Table};
use crate::show::terminal::{self, indented};
use crate::show::words;

/// One test of it.
#[derive(Serialize)]
pub(crate) struct Tested {
    pub(crate) record: i64,
    pub(crate) taken: Option<Timestamp>,
    pub(crate) verdict: Option<Verdict>,
    /// By its resistance; absent where that was not told then.
    pub(crate) length_m: Option<Interval>,
    /// By its marks.
    pub(crate) marked_m: Option<Interval>,
    /// Longer than any before, by more than both are uncertain.
    pub(crate) longer: bool,
}

const COLUMNS: [Column; 5] = [
    Column::new("record", 8),
    Column::new("taken", 18),
    Column::new("by resistance", 24),
    Column::new("by marks", 12),
    Column::new("verdict", 0),
];

/// The oldest first.
pub(crate) fn text(reel: &str, tests: &[Tested], units: Units) -> String {
    let mut lines = vec![format!("Reel {reel}:"), String::new()];
    let rows = tests.iter().map(|one| cells(one, units)).collect();
    lines.extend(terminal::table(&Table { columns: &COLUMNS, rows, below: None }));
    lines.push(String::new());
    if tests.iter().any(|one| one.longer) {
        indented(&mut lines, 0, "", words::reel::GREW);
    }
    indented(&mut lines, 0, "", words::reel::HISTORY);
    words::printable(&format!("{}\n", lines.join("\n")))
}

fn cells(one: &Tested, units: Units) -> Vec<String> {
    let here = TimeZone::system();
    let taken = one.taken.map_or_else(
        || "not kept".into(),
        |taken| taken.to_zoned_datetime(here).strftime("%Y-%m-%d %H:%M").to_string(),
    );
    let verdict = one.verdict.map_or("none", words::verdict);
    vec![
        one.record.to_string(),
        taken,
        one.length_m.map_or("not told".into(), |metres| words::reel::between(metres, units)),
        one.marked_m.map_or("none".into(), |metres| words::reel::about(metres.value, units)),
        if one.longer { format!("{verdict}, longer") } else { verdict.into() },
    ]
}

#[derive(Serialize)]
struct Printed<'a> {
    runproof_reel_history: u32,
    reel: &'a str,
    tests: &'a [Tested],
}

pub(crate) fn json(reel: &str, tests: &[Tested]) -> String {
    crate::show::written(&Printed { runproof_reel_history: 1, reel, tests })
}
