//! Studies of many results: how much of what is read is the jig, and what a process of units can do.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use runproof_quality::gauge::{NoStudy, Study};
use runproof_records::{Filter, Key, Kind, Store, latest};
use serde::Deserialize;
use serde_json::Value;

use super::lots::Lot;
use crate::error::{Error, RecordError, StudyError};
use crate::files;

/// A reading of a part by somebody.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Read {
    pub(crate) part: String,
    pub(crate) operator: String,
    pub(crate) ohm: f64,
}

/// A crossed study, and who and what is in it.
pub(crate) struct Crossed {
    pub(crate) study: Study,
    pub(crate) parts: Vec<String>,
    pub(crate) operators: Vec<String>,
}

const CSV_BYTES_MAX: usize = 16 << 20;

/// From a CSV file.
pub(crate) fn in_file(path: &Path) -> Result<Vec<Read>, Error> {
    let text = files::read(path, CSV_BYTES_MAX)?;
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
    let all = reader.deserialize().collect::<Result<Vec<Read>, _>>();
    all.map_err(|source| {
        StudyError::NotReadings { path: path.into(), why: source.to_string() }.into()
    })
}

/// From the checks of a job that are not void, the oldest first.
pub(crate) fn of_job(store: &Store, job: &str, conductor: &str) -> Result<Vec<Read>, Error> {
    let filter = Filter {
        job: Some(job.to_owned()),
        kind: Some(Kind::Check),
        not_void: true,
        ..Filter::default()
    };
    let (mut listed, _) = store.list(&filter)?;
    listed.reverse();
    if listed.is_empty() {
        return Err(RecordError::NoSuchJob { job: job.into() }.into());
    }
    let mut jigs: Vec<&str> = listed.iter().map(|one| one.jig.as_str()).collect();
    jigs.sort_unstable();
    jigs.dedup();
    if jigs.len() > 1 {
        return Err(StudyError::SeveralJigs { jigs: jigs.join(", ") }.into());
    }
    let read = |one: &runproof_records::Listed| {
        let said = |key, option| {
            let none = || StudyError::NotSaid { number: one.number, option };
            latest(&one.details, key).map(str::to_owned).ok_or_else(none)
        };
        let none = || StudyError::NoResistance { number: one.number, conductor: conductor.into() };
        Ok(Read {
            part: said(Key::RunName, "--run-name")?,
            operator: said(Key::Operator, "--operator")?,
            ohm: of_conductor(&store.result(one.number)?, conductor, "resistance_ohm")
                .ok_or_else(none)?,
        })
    };
    listed.iter().map(read).collect()
}

/// Every part by every operator, as many times.
pub(crate) fn crossed(all: &[Read]) -> Result<Crossed, StudyError> {
    let mut cells: BTreeMap<(&str, &str), Vec<f64>> = BTreeMap::new();
    for one in all {
        cells.entry((&one.part, &one.operator)).or_default().push(one.ohm);
    }
    let once = |mut names: Vec<String>| {
        names.sort();
        names.dedup();
        names
    };
    let parts = once(all.iter().map(|one| one.part.clone()).collect());
    let operators = once(all.iter().map(|one| one.operator.clone()).collect());
    let cell = |part: &String, operator: &String| {
        cells.get(&(part.as_str(), operator.as_str())).cloned().unwrap_or_default()
    };
    let readings: Vec<Vec<Vec<f64>>> =
        parts.iter().map(|part| operators.iter().map(|one| cell(part, one)).collect()).collect();
    let study = Study::of(&readings).map_err(|source| match source {
        NoStudy::NotCrossed { part } => {
            StudyError::NotCrossed { part: parts.get(part - 1).cloned().unwrap_or_default() }
        }
        source => StudyError::NoStudy { source },
    })?;
    Ok(Crossed { study, parts, operators })
}

/// What the units of a lot have of one conductor, and the most they may.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Units {
    /// Ohms, or ohms per kilometre where every record says its length; of each unit the last test that counts.
    pub(crate) values: Vec<f64>,
    pub(crate) per_kilometre: bool,
    /// Units that were tested and have no resistance of it.
    pub(crate) without: u32,
    /// In the same unit; none where it is not the same for all.
    pub(crate) limit: Option<f64>,
}

pub(crate) fn of_lot(store: &Store, lot: &Lot, conductor: &str) -> Result<Units, Error> {
    let mut without = BTreeSet::new();
    let mut last: BTreeMap<u32, (f64, Option<f64>, Option<f64>)> = BTreeMap::new();
    for test in store.unit_tests(lot.number)? {
        let counts = test.counts() && test.by_the_lots_sheet && test.kind == lot.opened.test;
        let Some(unit) = test.unit.trim().parse().ok().filter(|_: &u32| counts) else { continue };
        let result = store.result(test.number)?;
        let Some(ohm) = of_conductor(&result, conductor, "resistance_ohm") else {
            without.insert(unit);
            continue;
        };
        let limit = of_conductor(&result, conductor, "limit_ohm");
        let length_m = result["told"]["length_m"].as_f64().filter(|length| *length > 0.0);
        last.insert(unit, (ohm, limit, length_m));
    }
    let per_kilometre = !last.is_empty() && last.values().all(|(_, _, length)| length.is_some());
    let scaled = |ohm: f64, length_m: Option<f64>| match length_m {
        Some(length_m) if per_kilometre => ohm / length_m * 1e3,
        _ => ohm,
    };
    let values = last.values().map(|(ohm, _, length)| scaled(*ohm, *length)).collect();
    let limits: Vec<f64> =
        last.values().filter_map(|(_, limit, length)| Some(scaled((*limit)?, *length))).collect();
    let limit = limits.first().copied().filter(|first| {
        limits.len() == last.len() && limits.iter().all(|one| (one - first).abs() <= 1e-9 * first)
    });
    let without = without.iter().filter(|unit| !last.contains_key(unit)).count() as u32;
    Ok(Units { values, per_kilometre, without, limit })
}

fn of_conductor(result: &Value, conductor: &str, key: &str) -> Option<f64> {
    let all = result["conductors"].as_array()?;
    all.iter().find(|one| one["name"] == conductor)?[key].as_f64()
}
