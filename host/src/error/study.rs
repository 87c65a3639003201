//! Why results make no study.

use std::path::PathBuf;

use runproof_quality::NoStatistic;
use runproof_quality::gauge::NoStudy;
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum StudyError {
    #[error("{} holds no readings of a study: {why}", path.display())]
    NotReadings { path: PathBuf, why: String },
    #[error("record {number} does not say its {option}")]
    NotSaid { number: i64, option: &'static str },
    #[error("record {number} has no resistance of {conductor}")]
    NoResistance { number: i64, conductor: String },
    #[error("these records are of several jigs, {jigs}, and a study is of one")]
    SeveralJigs { jigs: String },
    #[error("every operator measures every part as many times, and of `{part}` that is not so")]
    NotCrossed { part: String },
    #[error("this is no study: {source}")]
    NoStudy { source: NoStudy },
    #[error("nothing can be told of these units: {source}")]
    NoStatistic { source: NoStatistic },
    #[error("no unit of the lot has a resistance of {conductor}")]
    NoUnits { conductor: String },
}

impl StudyError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NotReadings { .. } => {
                "give a file whose first line is part,operator,ohm, and then a line for each reading".into()
            }
            Self::NotSaid { number, option } => {
                format!("say it with `runproof records add {number} {option} TEXT`, or void that record")
            }
            Self::NoResistance { number, .. } => {
                format!("choose another --conductor, or void it with `runproof records void {number}`")
            }
            Self::SeveralJigs { .. } => "make a job of each jig's records".into(),
            Self::NotCrossed { .. } => "measure what is missing, or void what is too much".into(),
            Self::NoStudy { .. } => {
                "let two or more people measure the same ten or so parts, each two or three times".into()
            }
            Self::NoStatistic { .. } | Self::NoUnits { .. } => {
                "test more units of the lot, with `--lot` and `--unit`".into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NoStatistic { .. } | Self::NoUnits { .. } => Exit::CannotTell,
            _ => Exit::BadFile,
        }
    }
}
