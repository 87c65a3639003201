//! Every failure: what happened, what to do next, and the exit status.

use std::io;
use std::path::PathBuf;

use runproof_firmware::boards::simulated::SceneError;
use runproof_interpret::{CaptureError, NoOtherEnd, SheetError};
use thiserror::Error;

use crate::exit::Exit;
use crate::jig::JigError;

/// Why a command could not be followed.
#[derive(Debug, Error)]
pub(crate) enum Error {
    #[error(transparent)]
    Jig(#[from] JigError),
    #[error(transparent)]
    Scene(#[from] SceneError),
    #[error("{} cannot be simulated: {source}", path.display())]
    NotAScene { path: PathBuf, source: SceneError },
    #[error("there is no file in {}", path.display())]
    EmptyFolder { path: PathBuf },
    #[error("cannot read {}: {source}", path.display())]
    Unreadable { path: PathBuf, source: io::Error },
    #[error("{} is not a text file", path.display())]
    NotText { path: PathBuf },
    #[error("{} is larger than {limit_kib} KiB, far more than a file of its kind", path.display())]
    TooLarge { path: PathBuf, limit_kib: usize },
    #[error("{} is not a capture that this version can judge: {source}", path.display())]
    NotACapture { path: PathBuf, source: CaptureError },
    #[error("there is no limit sheet `{name}`, neither built in nor as a file")]
    NoSheet { name: String },
    #[error("{} is not a limit sheet: {source}", path.display())]
    NotASheet { path: PathBuf, source: SheetError },
    #[error("{} does not help to place a break: {source}", path.display())]
    NoOtherEnd { path: PathBuf, source: NoOtherEnd },
    #[error("a test to earth takes no `{told}`")]
    NotToEarth { told: &'static str },
    #[error("{} exists already, and nothing that was saved is overwritten", path.display())]
    Exists { path: PathBuf },
    #[error("cannot save to {}: {source}", path.display())]
    NotSaved { path: PathBuf, source: io::Error },
    #[error("cannot print the result: {0}")]
    NotPrinted(io::Error),
}

impl Error {
    /// What the user can do about it.
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::Jig(error) => error.next_step(),
            Self::Scene(SceneError::Unknown(_)) => {
                "list them with `runproof scenes`, or give the path of a scene file".into()
            }
            Self::Scene(_) | Self::NotAScene { .. } => {
                "compare it with a worked example, in firmware/src/boards/simulated/scenes".into()
            }
            Self::Unreadable { .. } => "check the path and your permission to read it".into(),
            Self::EmptyFolder { .. } => {
                "give the folder that holds the captures; folders inside it are not looked into"
                    .into()
            }
            Self::NotText { .. } | Self::TooLarge { .. } => {
                "check that this is the file you meant".into()
            }
            Self::NotACapture { .. } => {
                "judge a file that `runproof check --save` wrote; if this is one, it was cut off \
                 or changed: take the check again"
                    .into()
            }
            Self::NoOtherEnd { .. } => {
                "give a capture of this run that was taken with the jig at its other end, both ends \
                 lifted; it must show the same one conductor open"
                    .into()
            }
            Self::NoSheet { .. } => {
                "list them with `runproof limits`, or give the path of a sheet of your own".into()
            }
            Self::NotASheet { .. } => {
                "put that line right, and check it with `runproof limits --check`; worked examples \
                 are in host/interpret/src/sheets"
                    .into()
            }
            Self::NotToEarth { told: "--cannot-lift" } => {
                "lift that end as well: what hangs there may join the cores to metal".into()
            }
            Self::NotToEarth { told: "--touch" } => {
                "leave it out: that the clips touch is asked for in any case, but for --yes".into()
            }
            Self::NotToEarth { .. } => {
                "leave it out: it is of conductors one by one; give it to the check from end to end"
                    .into()
            }
            Self::Exists { .. } => "give another name, or move that file away first".into(),
            Self::NotSaved { .. } => {
                "give a file in a folder that you can write to, with room left".into()
            }
            Self::NotPrinted(_) => "check where the output goes".into(),
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::Jig(JigError::OtherVersion { .. }) => Exit::OtherVersion,
            Self::Jig(_) => Exit::NoJig,
            Self::Scene(_)
            | Self::NotAScene { .. }
            | Self::EmptyFolder { .. }
            | Self::Unreadable { .. }
            | Self::NotText { .. }
            | Self::TooLarge { .. }
            | Self::NoSheet { .. }
            | Self::NotASheet { .. }
            | Self::NotACapture { .. }
            | Self::NoOtherEnd { .. } => Exit::BadFile,
            Self::NotToEarth { .. } => Exit::Usage,
            Self::Exists { .. } | Self::NotSaved { .. } | Self::NotPrinted(_) => Exit::NotSaved,
        }
    }
}
