//! A label for a lead, a reel or a run: what it is, its verdict, and a code for a camera.

mod drawing;
pub(crate) mod grid;
pub(crate) mod size;

use std::path::Path;

use runproof_interpret::copper::Length;
use runproof_interpret::judgement::{Interval, Verdict};
use runproof_records::jiff::Timestamp;
use runproof_records::jiff::tz::TimeZone;
use runproof_records::{Key, Record, latest};

pub(crate) use self::drawing::alone;
use super::judged::Judged;
use super::{read_aloud, words};
use crate::arguments::Units;

/// What stands on one.
#[derive(Debug)]
pub(crate) struct Label {
    /// The verdict, or that there is none any more.
    word: &'static str,
    /// What must not be overlooked.
    tags: Vec<&'static str>,
    /// What it is stuck on.
    name: String,
    length: Option<String>,
    day: String,
    /// What a camera reads.
    code: String,
}

impl Label {
    /// Of a record, by what it said then and what is said of it today: the worse of both. Where its length was not
    /// measured, by what was told of it.
    pub(crate) fn of(
        number: i64,
        record: &Record,
        judged: &Judged,
        told: Option<Length>,
        units: Units,
    ) -> Self {
        let today = judged.verdict();
        let verdict = record.verdict.map_or(Verdict::CannotTell, |then| then.and(today));
        let said = read_aloud::of_either(judged).filter(|_| verdict == today);
        let is_void = latest(&record.details, Key::Void).is_some();
        Self {
            word: if is_void { words::label::VOID } else { words::verdict(verdict) },
            tags: record.simulated.then_some(words::label::SIMULATED).into_iter().collect(),
            name: name(number, record),
            length: length(judged)
                .map(|metres| words::label::length(metres, units))
                .or_else(|| told.map(|told| words::label::told(told, units))),
            day: record
                .taken
                .map_or_else(|| words::label::NO_DAY.into(), |taken| day(taken, &record.zone)),
            // A record is found by its id in capitals as well, and a code holds more of these.
            code: said.unwrap_or_else(|| record.id.to_string().to_uppercase()),
        }
    }

    /// The jig that measured it was not proved then, so that its lot does not count it.
    pub(crate) fn not_proved(mut self) -> Self {
        self.tags.push(words::label::NOT_PROVED);
        self
    }
}

/// Where they are, of so many in all.
pub(crate) fn saved(count: usize, path: &Path) -> String {
    let are = if count == 1 { "the label is" } else { "labels are" };
    words::printable(&format!("{are} in {}\n", path.display()))
}

/// As it is called; a record that says nothing of it, by its number.
fn name(number: i64, record: &Record) -> String {
    let said = |key| latest(&record.details, key).map(str::trim).filter(|said| !said.is_empty());
    let unit = said(Key::Lot).zip(said(Key::Unit));
    let unit = unit.map(|(lot, unit)| words::label::unit(lot, unit));
    let other = || said(Key::Reel).or(said(Key::RunName)).map(str::to_owned);
    unit.or_else(other).unwrap_or_else(|| words::label::record(number))
}

/// Of a reel, or of a run whose gauge was told.
fn length(judged: &Judged) -> Option<Interval> {
    match judged {
        Judged::Reel(_, judgement) => judgement.length_m,
        Judged::Check(_, judgement) => judgement.copper.as_ref()?.metres,
        Judged::Live(..) | Judged::Flex(..) => None,
    }
}

/// By the clock where it was saved.
fn day(taken: Timestamp, zone: &str) -> String {
    let zone = TimeZone::get(zone).or_else(|_| TimeZone::posix(zone)).unwrap_or(TimeZone::UTC);
    taken.to_zoned_datetime(zone).date().to_string()
}
