//! Why a reel could not be judged, or is not what was asked for.

use std::path::PathBuf;

use runproof_interpret::reel::NoReel;
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum ReelError {
    #[error("no reel is like what was declared: {source}")]
    NoReel { source: NoReel },
    #[error("there is no record of a reel {reel} that is not void")]
    NoSuchReel { reel: String },
    #[error(
        "this is of a reel, of which nothing is told beside what was declared when it was measured"
    )]
    ToldOfReel,
    #[error("there is no code for reels yet")]
    NoReelCode,
    #[error("{} is of a reel, and a run is needed", path.display())]
    IsReel { path: PathBuf },
}

impl ReelError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NoReel { .. } => "read its label and the scale again; `runproof reel --help` says what is taken".into(),
            Self::NoSuchReel { .. } => {
                "list what there is with `runproof records --kind reel`; a test is kept under its reel where --reel ID was given"
                    .into()
            }
            Self::ToldOfReel => "leave out all but --sheet; what was declared is in its capture".into(),
            Self::NoReelCode => {
                "read the verdict and the length aloud from `runproof judge`, or send `runproof report`".into()
            }
            Self::IsReel { .. } => "give a file that `runproof check --save` wrote of a run".into(),
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NoReel { .. } | Self::ToldOfReel => Exit::Usage,
            Self::NoSuchReel { .. } | Self::NoReelCode | Self::IsReel { .. } => Exit::BadFile,
        }
    }
}
