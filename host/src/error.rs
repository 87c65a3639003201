//! Every failure: what happened, what to do next, and the exit status.

mod audit;
mod case;
mod file;
mod flex;
mod kept;
mod lead;
mod live;
mod lot;
mod misheard;
mod paper;
mod proof;
mod record;
mod reel;
mod share;
pub(crate) mod store;
mod study;
mod zero;

use std::io;
use std::path::PathBuf;

use runproof_firmware::boards::simulated::SceneError;
use runproof_interpret::read_aloud::CodeError;
use runproof_interpret::{NoOtherEnd, SheetError};
use runproof_records::StoreError;
use thiserror::Error;

pub(crate) use self::audit::AuditError;
pub(crate) use self::case::CaseError;
pub(crate) use self::file::FileError;
pub(crate) use self::flex::FlexError;
pub(crate) use self::kept::KeptError;
pub(crate) use self::lead::LeadError;
pub(crate) use self::live::LiveError;
pub(crate) use self::lot::LotError;
pub(crate) use self::paper::PaperError;
pub(crate) use self::proof::ProofError;
pub(crate) use self::record::RecordError;
pub(crate) use self::reel::ReelError;
pub(crate) use self::share::ShareError;
pub(crate) use self::study::StudyError;
pub(crate) use self::zero::ZeroError;
use crate::exit::Exit;
use crate::jig::JigError;

/// Why a command could not be followed.
#[derive(Debug, Error)]
pub(crate) enum Error {
    #[error(transparent)]
    Jig(#[from] JigError),
    #[error(transparent)]
    Scene(#[from] SceneError),
    #[error(
        "{option} is of no use with the limit sheet {sheet}: its wires have no terminals of their own"
    )]
    NoTerminals { option: &'static str, sheet: String },
    #[error("there is no limit sheet `{name}`, neither built in nor as a file")]
    NoSheet { name: String },
    #[error("{} is not a limit sheet: {source}", path.display())]
    NotASheet { path: PathBuf, source: SheetError },
    #[error("{} does not help to place a break: {source}", path.display())]
    NoOtherEnd { path: PathBuf, source: NoOtherEnd },
    #[error("a test to earth takes no `{told}`")]
    NotToEarth { told: &'static str },
    #[error("this is no code that can be restored: {source}")]
    NotACode { source: CodeError },
    #[error(transparent)]
    Store(#[from] StoreError),
    #[error(transparent)]
    Audit(#[from] AuditError),
    #[error(transparent)]
    Flex(#[from] FlexError),
    #[error(transparent)]
    Lead(#[from] LeadError),
    #[error(transparent)]
    Lot(#[from] LotError),
    #[error(transparent)]
    Paper(#[from] PaperError),
    #[error(transparent)]
    Proof(#[from] ProofError),
    #[error(transparent)]
    Share(#[from] ShareError),
    #[error(transparent)]
    Study(#[from] StudyError),
    #[error("cannot print the result: {0}")]
    NotPrinted(io::Error),
    #[error(transparent)]
    File(#[from] FileError),
    #[error(transparent)]
    Reel(#[from] ReelError),
    #[error(transparent)]
    Zero(#[from] ZeroError),
    #[error(transparent)]
    Kept(#[from] KeptError),
    #[error(transparent)]
    Record(#[from] RecordError),
    #[error(transparent)]
    Case(#[from] CaseError),
    #[error(transparent)]
    Live(#[from] LiveError),
}

impl Error {
    /// What the user can do about it.
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::Jig(error) => error.next_step(),
            Self::Scene(SceneError::Unknown(_)) => {
                "list them with `runproof scenes`, or give the path of a scene file".into()
            }
            Self::Scene(_) => file::AS_IN_SCENES.into(),
            Self::NoTerminals { .. } => {
                "leave that out, or choose the limit sheet of this run with --sheet".into()
            }
            Self::NoOtherEnd { .. } => {
                "give a capture of this run that was taken with the jig at its other end, both ends \
                 lifted; it must show the same one conductor open"
                    .into()
            }
            Self::NotACode { source } => misheard::ask(source),
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
            Self::Store(why) => store::next_step(why).into(),
            Self::Audit(why) => why.next_step().into(),
            Self::Flex(why) => why.next_step().into(),
            Self::Lead(why) => why.next_step().into(),
            Self::Lot(why) => why.next_step(),
            Self::Paper(why) => why.next_step(),
            Self::Proof(why) => why.next_step(),
            Self::Share(why) => why.next_step(),
            Self::Study(why) => why.next_step(),
            Self::NotPrinted(_) => "check where the output goes".into(),
            Self::File(why) => why.next_step(),
            Self::Reel(why) => why.next_step(),
            Self::Zero(why) => why.next_step(),
            Self::Kept(why) => why.next_step(),
            Self::Record(why) => why.next_step(),
            Self::Case(why) => why.next_step(),
            Self::Live(why) => why.next_step(),
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::Jig(JigError::OtherVersion { .. }) => Exit::OtherVersion,
            Self::Jig(JigError::OtherPlug { .. } | JigError::TooLong) => Exit::Usage,
            Self::Jig(
                JigError::KeepsNothing | JigError::NotKept { .. } | JigError::NotRecalled { .. },
            ) => Exit::NotSaved,
            Self::Jig(_) => Exit::NoJig,
            Self::Audit(why) => why.exit(),
            Self::Flex(why) => why.exit(),
            Self::Lead(why) => why.exit(),
            Self::Lot(why) => why.exit(),
            Self::Paper(why) => why.exit(),
            Self::Proof(why) => why.exit(),
            Self::Share(why) => why.exit(),
            Self::Study(why) => why.exit(),
            Self::Scene(_)
            | Self::NoSheet { .. }
            | Self::NotASheet { .. }
            | Self::NoOtherEnd { .. }
            | Self::NotACode { .. } => Exit::BadFile,
            Self::NoTerminals { .. } | Self::NotToEarth { .. } => Exit::Usage,
            Self::Store(why) => store::exit(why),
            Self::NotPrinted(_) => Exit::NotSaved,
            Self::File(why) => why.exit(),
            Self::Reel(why) => why.exit(),
            Self::Zero(why) => why.exit(),
            Self::Kept(why) => why.exit(),
            Self::Record(why) => why.exit(),
            Self::Case(why) => why.exit(),
            Self::Live(why) => why.exit(),
        }
    }
}
