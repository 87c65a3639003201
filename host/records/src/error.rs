//! Why a store could not be used.

use std::io;
use std::path::PathBuf;

use rusqlite::ErrorCode;
use thiserror::Error;

/// Why a store could not be used.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum StoreError {
    /// It cannot be made or opened.
    #[error("{} cannot be opened: {source}", path.display())]
    NotOpened {
        /// The store.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// A later version of the program has been at work there.
    #[error("{} was written by a later version of this program (schema {found}, this one knows {known})", path.display())]
    Later {
        /// The store.
        path: PathBuf,
        /// Its schema.
        found: i64,
        /// The last one that this version knows.
        known: i64,
    },
    /// Others kept it for too long.
    #[error("other programs have kept {} busy for too long", path.display())]
    Busy {
        /// The store.
        path: PathBuf,
    },
    /// No room is left.
    #[error("there is no room left for {}", path.display())]
    Full {
        /// The store.
        path: PathBuf,
    },
    /// It may not be written.
    #[error("{} may not be written to", path.display())]
    ReadOnly {
        /// The store.
        path: PathBuf,
    },
    /// It is no store, or no longer.
    #[error("{} is damaged, or no store of records", path.display())]
    Damaged {
        /// The store.
        path: PathBuf,
    },
    /// There is no such record.
    #[error("there is no record {which}")]
    NoRecord {
        /// As it was asked for.
        which: String,
    },
    /// There are several.
    #[error("{count} records have an id that begins with {which}")]
    Several {
        /// As it was asked for.
        which: String,
        /// How many.
        count: usize,
    },
    /// Something else went wrong.
    #[error("{}: {source}", path.display())]
    Other {
        /// The store.
        path: PathBuf,
        /// What.
        source: rusqlite::Error,
    },
}

impl StoreError {
    pub(crate) fn of(path: impl Into<PathBuf>, source: rusqlite::Error) -> Self {
        let path = path.into();
        match source.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy { path },
            Some(ErrorCode::DiskFull) => Self::Full { path },
            Some(ErrorCode::ReadOnly) => Self::ReadOnly { path },
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Self::Damaged { path },
            Some(ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
                let source = io::Error::other(source.to_string());
                Self::NotOpened { path, source }
            }
            _ if is_not_ours(&source) => Self::Damaged { path },
            _ => Self::Other { path, source },
        }
    }
}

/// A row that this version cannot have written.
fn is_not_ours(source: &rusqlite::Error) -> bool {
    matches!(
        source,
        rusqlite::Error::FromSqlConversionFailure(..) | rusqlite::Error::InvalidColumnType(..)
    )
}
