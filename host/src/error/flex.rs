//! Failures around runs that are flexed.

use std::path::PathBuf;

use thiserror::Error;

use crate::exit::Exit;

/// Why a watch of a flexed run is of no use here.
#[derive(Debug, Error)]
pub(crate) enum FlexError {
    #[error("{} is of a run that was flexed, and a check is needed", path.display())]
    IsFlexed { path: PathBuf },
    #[error("this is of a run that was flexed, of which nothing is told beside its limit sheet")]
    NothingTold,
    #[error("this computer does not sound: {0}")]
    NoTone(std::io::Error),
    #[error("there is no code for a run that was flexed")]
    NoCode,
}

impl FlexError {
    pub(super) fn next_step(&self) -> &'static str {
        match self {
            Self::IsFlexed { .. } => "give a file that `runproof check --save` wrote",
            Self::NothingTold => {
                "leave out all but --sheet, which says what conductor is on which post"
            }
            Self::NoTone(_) => {
                "install alsa-utils, turn a sound card on, or leave out --tone: the jig sounds by itself"
            }
            Self::NoCode => {
                "read the first line of `runproof judge` aloud, or send `runproof report`"
            }
        }
    }

    pub(super) fn exit(&self) -> Exit {
        match self {
            Self::IsFlexed { .. } | Self::NoCode => Exit::BadFile,
            Self::NothingTold | Self::NoTone(_) => Exit::Usage,
        }
    }
}
