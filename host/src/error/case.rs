//! Why no next step could be told.

use std::path::PathBuf;

use runproof_interpret::next::{FactError, StepsError};
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum CaseError {
    #[error("{} is not a file of steps: {source}", path.display())]
    NotSteps { path: PathBuf, source: StepsError },
    #[error("the steps `{steps}` are for runs of {sheets}, not of {sheet}")]
    OtherRun { steps: String, sheet: String, sheets: String },
    #[error("{option}: {source}")]
    NoFact { option: &'static str, source: FactError },
    #[error(
        "{} is no check: {}",
        path.display(),
        if *is_live { "it is a live look" } else { "neither the open run nor the plug was measured" }
    )]
    NoCheck { path: PathBuf, is_live: bool },
    #[error(
        "{} is no live look: {}",
        path.display(),
        if *is_check { "it is a check" } else { "nothing was measured live" }
    )]
    NoLive { path: PathBuf, is_check: bool },
    #[error("{} does not say at which end it was taken", path.display())]
    NoPlace { path: PathBuf },
}

impl CaseError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NotSteps { .. } => {
                "put that line right, and check it with `runproof next --check-steps`; the worked \
                 example is host/interpret/src/next/steps.toml"
                    .into()
            }
            Self::OtherRun { sheet, sheets, .. } => {
                let first = sheets.split(',').next().unwrap_or_default();
                format!(
                    "choose one of those: --sheet {first}; or give steps of your own for runs of {sheet}: \
                     --steps FILE"
                )
            }
            Self::NoFact { source: FactError::NotYesNo { key, .. }, .. } => {
                format!("give it with --told {key}=…, one of these words or numbers")
            }
            Self::NoFact { .. } => "list what can be told with `runproof next --questions`".into(),
            Self::NoCheck { is_live: true, .. } => {
                "give it with --live FILE".into()
            }
            Self::NoCheck { .. } => "give a file that `runproof check --save` wrote".into(),
            Self::NoLive { is_check: true, .. } => "give it with --check FILE".into(),
            Self::NoLive { .. } => "give a file that `runproof live --save` wrote".into(),
            Self::NoPlace { .. } => {
                "take it again, and say where: `runproof live --at plate --save FILE` at the wall plate, \
                 `--at adapter` at the unit"
                    .into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NotSteps { .. }
            | Self::OtherRun { .. }
            | Self::NoCheck { .. }
            | Self::NoLive { .. }
            | Self::NoPlace { .. } => Exit::BadFile,
            Self::NoFact { .. } => Exit::Usage,
        }
    }
}
