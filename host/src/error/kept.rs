//! Why a jig could not be told what it keeps, or has nothing to tell.

use runproof_interpret::capture::Implausible;
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum KeptError {
    #[error("this jig has measured nothing by itself since it was switched on")]
    NothingKept,
    #[error("no end plug has this: its `{}` {part}", part.key)]
    NotAPlug { part: Implausible },
    #[error("no jig has this: its `{}` {part}", part.key)]
    NotParts { part: Implausible },
    #[error("the jig's name is longer than a jig keeps")]
    LongName,
}

impl KeptError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NothingKept => {
                "press its key with no program at the jig, once with the end plug out and once with \
                 it in; it forgets when it loses its power. Or measure now: leave out `--kept`"
                    .into()
            }
            Self::NotAPlug { .. } => {
                "measure the plug's four resistors again, and give them in ohms, in the order that \
                 `runproof jig --help` says"
                    .into()
            }
            Self::NotParts { .. } => {
                "measure the jig's parts again, as firmware/jig/first-power.md says, and give them in ohms; a post's \
                 series resistor with its fuse has some 346 Ω"
                    .into()
            }
            Self::LongName => "give a name of at most 24 letters".into(),
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NothingKept => Exit::CannotTell,
            Self::NotAPlug { .. } | Self::NotParts { .. } | Self::LongName => Exit::Usage,
        }
    }
}
