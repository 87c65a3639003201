//! Why there is nothing to audit.

use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum AuditError {
    #[error("nothing is on record of the jig {jig} in that time")]
    NothingOf { jig: String },
}

impl AuditError {
    pub(crate) fn next_step(&self) -> &'static str {
        match self {
            Self::NothingOf { .. } => {
                "`runproof records` lists what there is; its serial is told by `runproof jig`, and by `records show`"
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NothingOf { .. } => Exit::BadFile,
        }
    }
}
