//! Why nothing more could be copied.

use std::path::PathBuf;

use postgres::error::SqlState;
use runproof_records::StoreError;
use thiserror::Error;

use crate::NotAnAddress;

/// Why nothing more could be copied. A server is named without its user and password.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum SyncError {
    /// Of the command line or the environment.
    #[error(transparent)]
    NotAnAddress(#[from] NotAnAddress),
    /// The file of certificates.
    #[error("{} holds no certificates that can be read: {why}", path.display())]
    NoRoots {
        /// Where they should be.
        path: PathBuf,
        /// Why not.
        why: String,
    },
    /// This computer trusts nobody.
    #[error("this computer has no certificates by which a server could be trusted: {why}")]
    NoSystemRoots {
        /// Why not.
        why: String,
    },
    /// Nobody answers there.
    #[error("{server} cannot be reached: {why}")]
    NotReached {
        /// The server.
        server: String,
        /// Why not.
        why: String,
    },
    /// It speaks without TLS only.
    #[error("{server} offers no TLS: password and records could be read on the way")]
    NoTls {
        /// The server.
        server: String,
    },
    /// Its certificate.
    #[error("{server} is not trusted: {why}")]
    NotTrusted {
        /// The server.
        server: String,
        /// Why not.
        why: String,
    },
    /// It does not let this user in, or not into this database.
    #[error("{server} does not let us in: {why}")]
    NotAdmitted {
        /// The server.
        server: String,
        /// What it said.
        why: String,
    },
    /// The connection ended.
    #[error("the connection to {server} was lost: {why}")]
    Lost {
        /// The server.
        server: String,
        /// How.
        why: String,
    },
    /// A later version of the program has been at work there.
    #[error(
        "the records on {server} are kept by a later version of this program (schema {found}, this one knows {known})"
    )]
    Later {
        /// The server.
        server: String,
        /// Its schema.
        found: i32,
        /// The last one that this version knows.
        known: i32,
    },
    /// It could not keep every text.
    #[error(
        "the database on {server} keeps its texts as {encoding}, which cannot hold all that is said"
    )]
    NotUtf8 {
        /// The server.
        server: String,
        /// As it calls it.
        encoding: String,
    },
    /// This user has no right to it.
    #[error("{server} does not allow that: {why}")]
    NotAllowed {
        /// The server.
        server: String,
        /// What it said.
        why: String,
    },
    /// Something else went wrong there.
    #[error("{server} could not do it: {why}")]
    Server {
        /// The server.
        server: String,
        /// What it said.
        why: String,
    },
    /// Here.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl SyncError {
    /// While it was being connected to.
    pub(crate) fn connecting(server: &str, error: &postgres::Error) -> Self {
        let (server, why) = (server.to_owned(), plain(error));
        match error.code() {
            Some(state)
                if state.code().starts_with("28") || *state == SqlState::INVALID_CATALOG_NAME =>
            {
                Self::NotAdmitted { server, why }
            }
            Some(_) => Self::NotReached { server, why },
            None if why.contains("password missing") || why.contains("authentication error") => {
                Self::NotAdmitted { server, why }
            }
            None if why.contains("server does not support TLS") => Self::NoTls { server },
            None if why.contains("TLS handshake") => Self::NotTrusted { server, why },
            None => Self::NotReached { server, why },
        }
    }

    /// While something was asked of it.
    pub(crate) fn asking(server: &str, error: &postgres::Error) -> Self {
        let (server, why) = (server.to_owned(), plain(error));
        match error.code() {
            Some(state) if *state == SqlState::INSUFFICIENT_PRIVILEGE => {
                Self::NotAllowed { server, why }
            }
            // It is going down, or was told to end this connection.
            Some(state) if state.code().starts_with("57P") || state.code().starts_with("08") => {
                Self::Lost { server, why }
            }
            Some(_) => Self::Server { server, why },
            // What came is not of the kind that was asked for: somebody changed the tables.
            None if why.starts_with("error deserializing") => Self::Server { server, why },
            None => Self::Lost { server, why },
        }
    }
}

/// In one line, with what is behind it.
pub(crate) fn plain(error: &postgres::Error) -> String {
    if let Some(said) = error.as_db_error() {
        return said.message().to_owned();
    }
    let mut why = error.to_string();
    let mut source = std::error::Error::source(error);
    while let Some(error) = source {
        let behind = error.to_string();
        if !why.contains(&behind) {
            why = format!("{why}: {behind}");
        }
        source = error.source();
    }
    why
}
