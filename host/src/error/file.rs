//! Why a file, or a folder of them, could not be read or written.

use std::io;
use std::path::PathBuf;

use runproof_firmware::boards::simulated::SceneError;
use runproof_interpret::CaptureError;
use thiserror::Error;

use crate::exit::Exit;

/// For whoever wrote a scene.
pub(super) const AS_IN_SCENES: &str =
    "compare it with a worked example, in firmware/src/boards/simulated/scenes";

#[derive(Debug, Error)]
pub(crate) enum FileError {
    #[error("{} cannot be simulated: {source}", path.display())]
    NotAScene { path: PathBuf, source: SceneError },
    #[error("{options} can be true of one run only, and {} is a folder", folder.display())]
    OfOneRun { options: String, folder: PathBuf },
    #[error("{} is a folder, and one file is needed", path.display())]
    Folder { path: PathBuf },
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
    #[error("{} is of {of}, of which no budgets are told", path.display())]
    NoBudget { path: PathBuf, of: &'static str },
    #[error("{} exists already, and nothing that was saved is overwritten", path.display())]
    Exists { path: PathBuf },
    #[error("cannot save to {}: {source}", path.display())]
    NotSaved { path: PathBuf, source: io::Error },
}

impl FileError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NotAScene { .. } => AS_IN_SCENES.into(),
            Self::Unreadable { .. } => "check the path and your permission to read it".into(),
            Self::EmptyFolder { .. } => {
                "give the folder that holds the captures; folders inside it are not looked into"
                    .into()
            }
            Self::OfOneRun { .. } => {
                "judge each file by itself, with what is true of its run; of a folder only --sheet, \
                 --gauge, --length and --cable-temp can be told, which then count for every file"
                    .into()
            }
            Self::Folder { .. } => {
                "give one of the files in it; only `runproof judge` takes a folder of captures".into()
            }
            Self::NotText { .. } | Self::TooLarge { .. } => {
                "check that this is the file you meant".into()
            }
            Self::NotACapture { .. } => {
                "give a file that `runproof check --save` or `runproof live --save` wrote; if this is one, it \
                 was cut off or changed: measure again"
                    .into()
            }
            Self::NoBudget { .. } => {
                "`runproof judge` shows its numbers, each with its uncertainty".into()
            }
            Self::Exists { .. } => "give another name, or move that file away first".into(),
            Self::NotSaved { .. } => {
                "give a file in a folder that you can write to, with room left".into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NotAScene { .. }
            | Self::Folder { .. }
            | Self::EmptyFolder { .. }
            | Self::Unreadable { .. }
            | Self::NotText { .. }
            | Self::TooLarge { .. }
            | Self::NotACapture { .. }
            | Self::NoBudget { .. } => Exit::BadFile,
            Self::OfOneRun { .. } => Exit::Usage,
            Self::Exists { .. } | Self::NotSaved { .. } => Exit::NotSaved,
        }
    }
}
