//! Where a record goes: into the store, or into a file beside it where that cannot be written.

use std::fs::OpenOptions;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use runproof_records::{Kept, Record, Store, StoreError};

use crate::data_folder::data_folder;
use crate::error::{Error, RecordError};

const STORE: &str = "records.sqlite3";

/// What such a file's name begins with.
pub(super) const UNSAVED: &str = "unsaved-";

/// A record, and where it is.
#[derive(Debug)]
pub(crate) enum Recorded {
    /// In the store.
    Kept(Kept),
    /// In a file, and why not in the store.
    Beside { path: PathBuf, why: StoreError },
}

impl Recorded {
    pub(crate) fn kept(&self) -> Option<&Kept> {
        match self {
            Self::Kept(kept) => Some(kept),
            Self::Beside { .. } => None,
        }
    }
}

/// This computer's store.
pub(crate) fn store() -> Result<Store, Error> {
    Ok(Store::open(&place()?)?)
}

/// The same, to read; none where nothing was recorded yet.
pub(crate) fn store_to_read() -> Result<Option<Store>, Error> {
    Ok(Store::open_to_read(&place()?)?)
}

pub(super) fn place() -> Result<PathBuf, Error> {
    Ok(data_folder().ok_or(RecordError::NoPlaceForRecords)?.join(STORE))
}

/// Nothing that was measured is lost while any folder takes a file.
pub(crate) fn keep(record: &Record) -> Result<Recorded, Error> {
    let place = place()?;
    let kept = Store::open(&place).and_then(|mut store| store.save(record));
    let why = match kept {
        Ok(kept) => return Ok(Recorded::Kept(kept)),
        Err(why) => why,
    };
    let here = PathBuf::from(".");
    let beside = place.parent().map(Path::to_owned);
    let folders = beside.into_iter().chain([here, std::env::temp_dir()]);
    for folder in folders {
        if let Ok(path) = written(&folder, record) {
            let path = std::path::absolute(&path).unwrap_or(path);
            return Ok(Recorded::Beside { path, why });
        }
    }
    Err(RecordError::NotRecorded { why }.into())
}

/// What it is called, where the store could not be written.
pub(super) fn beside(id: &impl std::fmt::Display) -> String {
    format!("{UNSAVED}{id}.jsonl")
}

/// Whole, or not at all; in place of what it was before.
pub(super) fn written(folder: &Path, record: &Record) -> io::Result<PathBuf> {
    let path = folder.join(beside(&record.id));
    let partly = folder.join(format!(".{}", beside(&record.id)));
    let mut file = OpenOptions::new().write(true).create(true).truncate(true).open(&partly)?;
    let all = file.write_all(format!("{}\n", record.write()).as_bytes());
    let whole = all.and_then(|()| file.sync_all()).and_then(|()| std::fs::rename(&partly, &path));
    if let Err(error) = whole {
        let _partly = std::fs::remove_file(&partly);
        return Err(error);
    }
    Ok(path)
}
