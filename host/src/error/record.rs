//! Why a record could not be kept, found, changed or taken in.

use std::path::PathBuf;

use runproof_records::{StoreError, TextError};
use thiserror::Error;

use super::store;
use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum RecordError {
    #[error("the record could not be kept, neither where records are nor in a file: {why}")]
    NotRecorded { why: StoreError },
    #[error("there is neither a file nor a record {which}")]
    NeitherFileNorRecord { which: String },
    #[error("record {number} is a zero, of which there is no result")]
    NoResult { number: i64 },
    #[error("there is no record of the job {job} that is not void")]
    NoSuchJob { job: String },
    #[error("only one result has a before")]
    BeforeOfSeveral,
    #[error("nothing was recorded on this computer yet")]
    NothingRecorded,
    #[error("nothing to add was said")]
    NothingSaid,
    #[error("this computer says no folder for a program's data, where records are kept")]
    NoPlaceForRecords,
    #[error("{}, line {line}, is no record: {source}", path.display())]
    NotARecord { path: PathBuf, line: usize, source: TextError },
    #[error("{}, line {line}, is a record that says otherwise than what follows from its own capture", path.display())]
    SaysOtherwise { path: PathBuf, line: usize },
    #[error("this record cannot be judged again by this version of the program: {why}")]
    NotJudgedAgain { why: String },
}

impl RecordError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NotRecorded { why } => format!(
                "{}; what was measured stands above, and is nowhere else unless `--save` was given: measure again then",
                store::next_step(why)
            ),
            Self::NeitherFileNorRecord { .. } => {
                "give the path of a capture, or the number of a record: `runproof records` lists them".into()
            }
            Self::NoResult { .. } => "`runproof records show` shows it".into(),
            Self::NoSuchJob { .. } => "list what there is with `runproof records`".into(),
            Self::BeforeOfSeveral => {
                "give one result with --before, or several without".into()
            }
            Self::NothingRecorded => {
                "`runproof check`, `live`, `flex`, `reel` and `zero` keep a record of each test by themselves".into()
            }
            Self::NothingSaid => "say what, such as --job 1047 or --note TEXT".into(),
            Self::NoPlaceForRecords => {
                "set HOME or XDG_DATA_HOME to a folder of yours, or say --no-record and keep it with --save FILE"
                    .into()
            }
            Self::NotARecord { source: TextError::Later { .. }, .. } => {
                "import it with the version of the program that wrote it, or a later one".into()
            }
            Self::NotARecord { .. } => {
                "give a file that `runproof records export --as whole` wrote; what stands before that line was taken"
                    .into()
            }
            Self::SaysOtherwise { .. } => {
                "it was changed since it was exported, and is not taken; what stands before that line was".into()
            }
            Self::NotJudgedAgain { .. } => {
                "`runproof records show --json` shows it as it was kept".into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NotRecorded { .. } | Self::NoPlaceForRecords => Exit::NotSaved,
            Self::NeitherFileNorRecord { .. }
            | Self::NoResult { .. }
            | Self::NoSuchJob { .. }
            | Self::NothingRecorded
            | Self::NotARecord { .. }
            | Self::SaysOtherwise { .. }
            | Self::NotJudgedAgain { .. } => Exit::BadFile,
            Self::BeforeOfSeveral | Self::NothingSaid => Exit::Usage,
        }
    }
}
