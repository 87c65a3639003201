//! A record of what is not over yet: a file beside the store, written anew from time to time, so that a power cut takes little.

use std::fs;
use std::path::PathBuf;
use std::time::{Duration, SystemTime};

use runproof_records::{Record, uuid::Uuid};

use super::keep::{UNSAVED, beside, place, store_to_read, written};

/// A file that nobody has written for so long is of a test that was cut off. (judgement)
const LEFT_AFTER: Duration = Duration::from_secs(180);

/// What will be one record in the end.
pub(crate) struct Meanwhile {
    id: Uuid,
    /// Where it goes; none where no record is wanted, or there is no place.
    folder: Option<PathBuf>,
}

impl Meanwhile {
    pub(crate) fn begin(no_record: bool) -> Self {
        let place = (!no_record).then(place).and_then(Result::ok);
        let folder = place.and_then(|place| Some(place.parent()?.to_owned()));
        Self { id: Record::new_id(), folder }
    }

    /// So far. What cannot be written now is no reason to stop measuring.
    pub(crate) fn keep(&self, record: Record) {
        let Some(folder) = &self.folder else { return };
        let made = fs::create_dir_all(folder);
        let _not_now = made.and_then(|()| written(folder, &self.same_as(record)));
    }

    /// The same record in whatever place.
    pub(crate) fn same_as(&self, record: Record) -> Record {
        Record { id: self.id, ..record }
    }

    /// It is in the store.
    pub(crate) fn is_kept(&self) {
        if let Some(folder) = &self.folder {
            let _never_written = fs::remove_file(folder.join(beside(&self.id)));
        }
    }

    /// Of earlier tests that were cut off, and are not in the store.
    pub(crate) fn left_over(&self) -> Vec<PathBuf> {
        let Some(files) = self.folder.as_ref().and_then(|folder| fs::read_dir(folder).ok()) else {
            return vec![];
        };
        let store = store_to_read().ok().flatten();
        let is_left = |file: &fs::DirEntry| {
            let written = file.metadata().and_then(|about| about.modified()).ok();
            let age = written.and_then(|at| SystemTime::now().duration_since(at).ok());
            let name = file.file_name();
            let name = name.to_string_lossy();
            let id = name.strip_prefix(UNSAVED).and_then(|name| name.strip_suffix(".jsonl"));
            let is_in = |id| store.as_ref().is_some_and(|store| store.find(id).is_ok());
            id.is_some_and(|id| !is_in(id)) && age.is_some_and(|age| age > LEFT_AFTER)
        };
        files.flatten().filter(is_left).map(|file| file.path()).collect()
    }
}
