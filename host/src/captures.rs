//! A capture that is named on the command line: a file, or else a record of this computer.

use std::path::Path;

use runproof_interpret::Capture;
use runproof_records::StoreError;

use crate::error::Error;
use crate::{files, recording};

pub(crate) fn read(name: &Path) -> Result<Capture, Error> {
    let which = name.to_string_lossy();
    if name.exists() || !may_be_record(&which) {
        return files::read_capture(name);
    }
    let none = || Error::NeitherFileNorRecord { which: which.clone().into_owned() };
    let store = recording::store_to_read()?.ok_or_else(none)?;
    let number = store.find(&which).map_err(|error| match error {
        StoreError::NoRecord { .. } => none(),
        other => other.into(),
    })?;
    let text = store.record(number)?.capture;
    Capture::read(&text).map_err(|source| Error::NotACapture { path: name.into(), source })
}

/// A number, or a part of an id.
fn may_be_record(which: &str) -> bool {
    !which.is_empty() && which.chars().all(|c| c.is_ascii_hexdigit() || c == '-')
}
