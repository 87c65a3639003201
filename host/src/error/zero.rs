//! Why a zero could not be taken, kept or used.

use std::path::PathBuf;

use runproof_interpret::judgement::FindingKind;
use runproof_interpret::{NoLiveZero, NoZero};
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum ZeroError {
    #[error("this is no zero: {source}")]
    NoZero { source: NoZero },
    #[error("{} is no zero: {source}", path.display())]
    NotAZero { path: PathBuf, source: NoZero },
    #[error("{} holds no zero of the jig's voltmeter: {source}", path.display())]
    NotALiveZero { path: PathBuf, source: NoLiveZero },
    #[error("the zero in {} is of jig {theirs} with end plug {their_plug}, this is jig {jig} with end plug {plug}", path.display())]
    OtherJig { path: PathBuf, jig: String, theirs: String, plug: String, their_plug: String },
    #[error("this jig says no serial, so that its zero would be taken for another's")]
    NoSerial,
    #[error("this computer says no folder for a program's data")]
    NoDataFolder,
}

impl ZeroError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NoZero { source } => again(source).into(),
            Self::NotAZero { .. } => {
                "give a file that `runproof zero --save` wrote, or `--zero none`".into()
            }
            Self::NotALiveZero { .. } => {
                "give a file that `runproof zero --save` wrote, the key taken out when it asked for that, or \
                 `--zero none`"
                    .into()
            }
            Self::OtherJig { .. } => {
                "take a zero of this jig with this end plug, or say `--zero none`; if the jig has \
                 several end plugs, say which with --plug"
                    .into()
            }
            Self::NoSerial | Self::NoDataFolder => {
                "save it with --save FILE, and give it to `check --zero FILE`".into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NoZero { .. } => Exit::CannotTell,
            Self::NotAZero { .. } | Self::NotALiveZero { .. } | Self::OtherJig { .. } => {
                Exit::BadFile
            }
            Self::NoSerial | Self::NoDataFolder => Exit::NotSaved,
        }
    }
}

fn again(error: &NoZero) -> &'static str {
    match error {
        NoZero::Obstacle(finding) if finding.kind == FindingKind::NoEndPlug => {
            "put the four clips of the plug's tail on the jig's clips of the same number, no run \
             between, and the key in; then again"
        }
        NoZero::Obstacle(finding)
            if matches!(finding.kind, FindingKind::Hazard | FindingKind::ForeignVoltage) =>
        {
            "there is voltage on the clips: take everything off but the plug's tail, and find what it \
             came from; then again"
        }
        NoZero::Obstacle(_) => {
            "take everything off but the plug's tail, key in; keep the clips still, away from mains \
             cables, and take it again"
        }
        NoZero::Open(_) | NoZero::OnARun { .. } => {
            "take the run off: the tail's clips go straight on the jig's clips; if they do, clean the \
             jaws, and take it again"
        }
        NoZero::Crossed(_) => {
            "put each clip of the tail on the jig's clip of the same number, and take it again"
        }
        NoZero::NoTime => "take a zero with this version of the program",
    }
}
