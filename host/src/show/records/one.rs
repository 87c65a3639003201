//! One record: what was said about it, and by whom it was made.

use runproof_records::jiff::Timestamp;
use runproof_records::jiff::tz::TimeZone;
use runproof_records::{Detail, Key, Record, latest};

use super::{label, printable};
use crate::show::described::Row;
use crate::show::terminal::{broken, paragraph};
use crate::show::words;

/// That it no longer counts, before anything else; nothing where it does.
pub(crate) fn void(record: &Record) -> String {
    let Some(reason) = void_reason(record) else { return String::new() };
    let mut lines = vec![];
    broken(&mut lines, "VOID:".into(), 2, &format!("{} {reason}", words::records::VOID));
    lines.push(String::new());
    printable(&lines)
}

/// That what is used no longer counts.
pub(crate) fn void_used(number: i64, record: &Record) -> Option<String> {
    let mut lines = vec![];
    let told = format!("record {number} no longer counts: {}", void_reason(record)?);
    broken(&mut lines, "VOID:".into(), 2, &told);
    Some(words::printable(&lines.join("\n")))
}

/// Why it no longer counts.
pub(crate) fn void_reason(record: &Record) -> Option<&str> {
    latest(&record.details, Key::Void)
}

/// A zero has no verdict.
pub(crate) fn of_zero(record: &Record) -> String {
    let mut lines = vec![];
    broken(&mut lines, "ZERO:".into(), 2, &record.said);
    printable(&lines)
}

/// Today's program says otherwise than the one that recorded.
pub(crate) fn otherwise_then(record: &Record) -> String {
    let verdict = record.verdict.map_or("nothing", words::verdict);
    let mut lines = vec![];
    let told = format!(
        "{} said then: {verdict}: {} Judged again, by the same limits, by this version:",
        record.program, record.said
    );
    paragraph(&mut lines, "NOTE", &told);
    lines.push(String::new());
    printable(&lines)
}

/// All but its result.
pub(crate) fn about(number: i64, record: &Record) -> String {
    let mut lines = vec![String::new(), format!("Record {number}, {}", record.id)];
    for Row { label, text } in rows(number, record).into_iter().skip(1) {
        paragraph(&mut lines, label, &text);
    }
    printable(&lines)
}

/// The same, row by row; the first says which record it is.
pub(crate) fn rows(number: i64, record: &Record) -> Vec<Row> {
    let taken = record.taken.map_or_else(|| "not kept".into(), |taken| moment(taken, &record.zone));
    let simulated = if record.simulated { " (simulated)" } else { "" };
    let by =
        format!("{}{simulated}; jig {}, firmware {}", record.program, record.jig, record.firmware);
    let mut rows = vec![
        Row::new("record", format!("{number} here, id {}", record.id)),
        Row::new("taken", taken),
        Row::new("by", by),
    ];
    for key in Key::ALL {
        for (detail, counts) in said_of(record, key) {
            let earlier = if counts { "" } else { "said before: " };
            let when = match said_with(record, detail) {
                true => String::new(),
                false => format!(" (said {})", moment(detail.said, &record.zone)),
            };
            rows.push(Row::new(label(key), format!("{earlier}{}{when}", detail.value)));
        }
    }
    let sha256 = record.capture_sha256();
    rows.push(Row::new("capture", format!("SHA-256 {} {}", &sha256[..32], &sha256[32..])));
    rows
}

/// With whether it counts: all of what may be said several times, else the last.
fn said_of(record: &Record, key: Key) -> Vec<(&Detail, bool)> {
    let mut all: Vec<&Detail> = record.details.iter().filter(|one| one.key == key).collect();
    all.sort_by_key(|one| one.id);
    let last = all.len().saturating_sub(1);
    all.into_iter().enumerate().map(|(n, one)| (one, key.is_many() || n == last)).collect()
}

/// With the test itself: its id tells when the record was made.
fn said_with(record: &Record, detail: &Detail) -> bool {
    const NEAR_S: i64 = 5;
    let made = record.id.get_timestamp().and_then(|made| i64::try_from(made.to_unix().0).ok());
    made.is_some_and(|made| (detail.said.as_second() - made).abs() <= NEAR_S)
}

/// By the clock where it was saved, its zone stated.
fn moment(moment: Timestamp, zone: &str) -> String {
    match TimeZone::get(zone).or_else(|_| TimeZone::posix(zone)) {
        Ok(zone) => {
            moment.to_zoned_datetime(zone).strftime("%Y-%m-%d %H:%M:%S %:z (%Q)").to_string()
        }
        Err(_) => format!("{} (UTC; saved in {zone})", moment.strftime("%Y-%m-%d %H:%M:%S")),
    }
}
