//! Why a reading of a live run is not what was asked for, or cannot be laid beside another.

use std::path::PathBuf;

use runproof_interpret::judgement::NotCompared;
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum LiveError {
    #[error("{} cannot be laid beside this reading: {source}", path.display())]
    NotCompared { path: PathBuf, source: NotCompared },
    #[error("{} holds no reading of a live run", path.display())]
    NotLive { path: PathBuf },
    #[error("{} does not tell what supply and common of the run have in ohms: one of them is open in it, or it is no check", path.display())]
    NoRunResistance { path: PathBuf },
}

impl LiveError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NotLive { .. } => {
                "give a file that `runproof live --save` wrote at the run's other end".into()
            }
            Self::NoRunResistance { .. } => {
                "give a file that `runproof check --save` wrote of this run, the end plug in, by the same limit sheet"
                    .into()
            }
            Self::NotCompared { source: NotCompared::SameEnd, .. } => {
                "give the reading of the run's other end; how one end changes over time, `runproof live --watch` tells"
                    .into()
            }
            Self::NotCompared { .. } => {
                "say where the jig is now: `--at plate` at the wall plate, `--at adapter` at the unit".into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NotCompared { .. } | Self::NotLive { .. } | Self::NoRunResistance { .. } => {
                Exit::BadFile
            }
        }
    }
}
