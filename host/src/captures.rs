//! A capture that is named on the command line: a file, or else a record of this computer.

use std::path::Path;

use runproof_interpret::Capture;
use runproof_records::{Kind, Record, StoreError};

use crate::error::{Error, FileError, LotError, RecordError};
use crate::show::records;
use crate::{files, recording};

/// What a name stands for.
pub(crate) enum Named {
    File(Box<Capture>),
    /// With its number.
    Record(i64, Box<Record>),
}

pub(crate) fn named(name: &Path) -> Result<Named, Error> {
    let which = name.to_string_lossy();
    if name.exists() || !may_be_record(&which) {
        return Ok(Named::File(Box::new(files::read_capture(name)?)));
    }
    let none =
        || Error::Record(RecordError::NeitherFileNorRecord { which: which.clone().into_owned() });
    let store = recording::store_to_read()?.ok_or_else(none)?;
    let number = store.find(&which).map_err(|error| match error {
        StoreError::NoRecord { .. } => none(),
        other => other.into(),
    })?;
    let record = store.record(number)?;
    if let Some(told) = records::void_used(number, &record) {
        eprintln!("{told}");
    }
    Ok(Named::Record(number, Box::new(record)))
}

/// The capture alone, of a test that has a result.
pub(crate) fn read(name: &Path) -> Result<Capture, Error> {
    let named = named(name)?;
    if let Named::Record(number, record) = &named {
        has_result(*number, record)?;
    }
    capture(name, named)
}

/// Unless it is of something else than a run.
pub(crate) fn has_result(number: i64, record: &Record) -> Result<(), Error> {
    match record.kind {
        Kind::Lot => Err(LotError::NoTest { number }.into()),
        Kind::Zero => Err(RecordError::NoResult { number }.into()),
        _ => Ok(()),
    }
}

/// The capture alone, of whatever it is.
pub(crate) fn read_any(name: &Path) -> Result<Capture, Error> {
    capture(name, named(name)?)
}

fn capture(name: &Path, of: Named) -> Result<Capture, Error> {
    match of {
        Named::File(capture) => Ok(*capture),
        Named::Record(number, record) if record.kind == Kind::Lot => {
            Err(LotError::NoTest { number }.into())
        }
        Named::Record(_, record) => Capture::read(&record.capture)
            .map_err(|source| Error::File(FileError::NotACapture { path: name.into(), source })),
    }
}

/// A number, or a part of an id.
fn may_be_record(which: &str) -> bool {
    !which.is_empty() && which.chars().all(|c| c.is_ascii_hexdigit() || c == '-')
}
