//! Why records could not be shared with another program or computer.

use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum ShareError {
    #[cfg(not(all(feature = "postgres", feature = "parquet")))]
    #[error("this build of the program has no {what}")]
    NotBuilt { what: &'static str },
    #[cfg(feature = "parquet")]
    #[error("Parquet is no text, and goes into a file")]
    NoFile,
    #[cfg(feature = "postgres")]
    #[error("no database is told")]
    NoAddress,
    #[cfg(feature = "postgres")]
    #[error(transparent)]
    Sync(#[from] runproof_sync::SyncError),
}

impl ShareError {
    #[cfg(feature = "postgres")]
    pub(crate) fn address(why: runproof_sync::NotAnAddress) -> Self {
        Self::Sync(why.into())
    }

    pub(crate) fn next_step(&self) -> String {
        match self {
            #[cfg(not(all(feature = "postgres", feature = "parquet")))]
            Self::NotBuilt { .. } => {
                "build the whole one, `cargo build --release --all-features`; a released program is whole".into()
            }
            #[cfg(feature = "parquet")]
            Self::NoFile => "say which, with --to FILE".into(),
            #[cfg(feature = "postgres")]
            Self::NoAddress => {
                "give its address, `runproof sync postgres://USER@HOST/DATABASE`, or set RUNPROOF_DATABASE to it".into()
            }
            #[cfg(feature = "postgres")]
            Self::Sync(why) => sync::next_step(why).into(),
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            #[cfg(not(all(feature = "postgres", feature = "parquet")))]
            Self::NotBuilt { .. } => Exit::Usage,
            #[cfg(feature = "parquet")]
            Self::NoFile => Exit::Usage,
            #[cfg(feature = "postgres")]
            Self::NoAddress => Exit::Usage,
            #[cfg(feature = "postgres")]
            Self::Sync(why) => sync::exit(why),
        }
    }
}

#[cfg(feature = "postgres")]
mod sync {
    use runproof_records::StoreError;
    use runproof_sync::{NotAnAddress, SyncError};

    use super::Exit;
    use crate::error::store;

    pub(super) fn next_step(error: &SyncError) -> &'static str {
        match error {
            SyncError::NotAnAddress(NotAnAddress::NoSuchMode) => {
                "leave `sslmode` out: then TLS is used and the certificate checked; or say `sslmode=disable`"
            }
            SyncError::NotAnAddress(_) => {
                "give one such as postgres://USER@HOST/DATABASE, the password in PGPASSWORD; in an address its signs \
                 @ : / ? # % are written %40 %3A %2F %3F %23 %25"
            }
            SyncError::NoRoots { .. } => "give the certificate of who signed the server's, as PEM",
            SyncError::NoSystemRoots { .. } => {
                "install this system's `ca-certificates`, or give the one that counts with --root-certificate FILE"
            }
            SyncError::NotReached { .. } => {
                "check host and port, and that this computer may reach it; what is here stays, and goes along next time"
            }
            SyncError::NoTls { .. } => {
                "switch TLS on at the server; or, where nobody else is on the way, add ?sslmode=disable to the address"
            }
            SyncError::NotTrusted { .. } => {
                "ask who runs it for the certificate that signed its own, and give that with --root-certificate FILE; the \
                 address must name the host as the certificate does"
            }
            SyncError::NotAdmitted { .. } => {
                "check user and database in the address, and the password, in PGPASSWORD or the address"
            }
            SyncError::Lost { .. } => "run it again: it goes on from there",
            SyncError::Later { .. } => "use that later version here too",
            SyncError::NotUtf8 { .. } => {
                "make a database for it with ENCODING 'UTF8', and name that one"
            }
            SyncError::NotAllowed { .. } => {
                "let who runs the database grant this user CREATE on it for the first time, and then SELECT and INSERT on \
                 the tables of the schema `runproof`"
            }
            SyncError::Store(why) => store::next_step(why),
            _ => "run it again; if it stays so, show that to who runs the database",
        }
    }

    pub(super) fn exit(error: &SyncError) -> Exit {
        match error {
            SyncError::NotAnAddress(_) => Exit::Usage,
            SyncError::NoRoots { .. }
            | SyncError::Later { .. }
            | SyncError::NotUtf8 { .. }
            | SyncError::Store(StoreError::Later { .. } | StoreError::Damaged { .. }) => {
                Exit::BadFile
            }
            _ => Exit::NotSaved,
        }
    }
}
