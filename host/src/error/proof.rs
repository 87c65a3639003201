//! Why a jig could not be proved.

use std::path::PathBuf;

use runproof_interpret::SheetError;
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum ProofError {
    #[error("there is no piece `{name}`")]
    NoPiece { name: String, all: String },
    #[error("without a terminal nobody can say when the next piece is clipped on")]
    OneByOne,
    #[error("{} is no file of known pieces: {source}", path.display())]
    NotPieces { path: PathBuf, source: SheetError },
    #[error("{} has the name of the pieces that come with the program, {name}, and states otherwise", path.display())]
    TakenName { path: PathBuf, name: String },
    #[error("record {number} is of a known piece, by which the jig was proved, not of a run")]
    NoRun { number: i64 },
    #[error("no jig was proved on this computer yet")]
    NoProof,
    #[error("the jig {jig} was not proved on this computer yet")]
    NoProofOf { jig: String },
}

impl ProofError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NoPiece { all, .. } => format!("give one of {all}"),
            Self::OneByOne => "measure them one by one: `runproof prove good`, and so on".into(),
            Self::NotPieces { .. } => {
                "put that line right; the worked example is firmware/jig/check-pieces.toml".into()
            }
            Self::TakenName { .. } => "give your pieces a name of their own".into(),
            Self::NoRun { .. } => "`runproof records show` and `runproof judge` show it".into(),
            Self::NoProof | Self::NoProofOf { .. } => {
                "prove it: `runproof prove`, with the pieces that are kept with the jig".into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NoPiece { .. } | Self::OneByOne => Exit::Usage,
            Self::NotPieces { .. }
            | Self::NoRun { .. }
            | Self::TakenName { .. }
            | Self::NoProof
            | Self::NoProofOf { .. } => Exit::BadFile,
        }
    }
}
