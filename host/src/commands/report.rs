//! `report`: a page of its own, of one result, of several, or of one before and one after.

use std::path::{Path, PathBuf};

use runproof_records::Filter;

use super::again::{self, Again};
use crate::arguments::Report;
use crate::error::{Error, RecordError};
use crate::exit::Exit;
use crate::recording;
use crate::show::records;
use crate::show::report::{Part, before_and_after, document};

pub(super) fn run(arguments: &Report) -> Result<Exit, Error> {
    let of = match &arguments.all_of_job {
        Some(job) => of_job(job)?,
        None => arguments.of.clone(),
    };
    if arguments.before.is_some() && of.len() > 1 {
        return Err(RecordError::BeforeOfSeveral.into());
    }
    let again = |name: &PathBuf| again::named(name, &arguments.against, &arguments.control);
    let before = arguments.before.as_ref().map(again).transpose()?;
    let judged = of.iter().map(again).collect::<Result<Vec<_>, _>>()?;
    let parts: Vec<Part<'_>> =
        judged.iter().zip(&of).map(|(one, name)| part(one, name, arguments)).collect();
    let document = match (&before, arguments.before.as_ref(), parts.as_slice()) {
        (Some(before), Some(name), [after]) => {
            before_and_after(&part(before, name, arguments), after)
        }
        _ => document(&parts),
    };
    let path = arguments.to.clone().unwrap_or_else(|| named_after(arguments, &of));
    super::paper::write_as(path, arguments.pdf, &document)?;
    Ok(Exit::Pass)
}

/// The oldest first.
fn of_job(job: &str) -> Result<Vec<PathBuf>, Error> {
    let store = recording::store_to_read()?.ok_or(RecordError::NothingRecorded)?;
    let filter = Filter { job: Some(job.to_owned()), not_void: true, ..Filter::default() };
    let (listed, _) = store.list(&filter)?;
    let results = listed.iter().rev().filter(|one| one.kind.is_of_a_run());
    let names: Vec<PathBuf> = results.map(|one| one.number.to_string().into()).collect();
    if names.is_empty() {
        Err(RecordError::NoSuchJob { job: job.to_owned() }.into())
    } else {
        Ok(names)
    }
}

fn part<'a>(again: &'a Again, name: &Path, arguments: &Report) -> Part<'a> {
    let units = arguments.in_units.units;
    let record = again.record.as_ref();
    Part {
        judged: &again.judged,
        told: again.described(units),
        limits: &again.limits,
        units,
        name: match record {
            Some((number, _)) => format!("record {number}"),
            None => name.display().to_string(),
        },
        about: record.map_or_else(Vec::new, |(number, record)| records::rows(*number, record)),
        void: record.and_then(|(_, record)| records::void_reason(record)).map(str::to_owned),
    }
}

/// What it is a report of.
fn named_after(arguments: &Report, of: &[PathBuf]) -> PathBuf {
    let stem = |path: &PathBuf| path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let mut names: Vec<String> = arguments.before.iter().chain(of).filter_map(stem).collect();
    if let Some(job) = &arguments.all_of_job {
        names = vec![job.clone()];
    }
    let name = super::paper::plain(&names.join("-"));
    let form = if arguments.pdf { "pdf" } else { "html" };
    PathBuf::from(format!("report-{name}.{form}"))
}
