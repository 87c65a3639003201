//! Every failure: what happened, what to do next, and the exit status.

mod audit;
mod flex;
mod lead;
mod lot;
mod misheard;
mod paper;
mod proof;
mod share;
mod study;

use std::io;
use std::path::PathBuf;

use runproof_firmware::boards::simulated::SceneError;
use runproof_interpret::capture::Implausible;
use runproof_interpret::judgement::{FindingKind, NotCompared};
use runproof_interpret::next::{FactError, StepsError};
use runproof_interpret::read_aloud::CodeError;
use runproof_interpret::reel::NoReel;
use runproof_interpret::{CaptureError, NoLiveZero, NoOtherEnd, NoZero, SheetError};
use runproof_records::{StoreError, TextError};
use thiserror::Error;

pub(crate) use self::audit::AuditError;
pub(crate) use self::flex::FlexError;
pub(crate) use self::lead::LeadError;
pub(crate) use self::lot::LotError;
pub(crate) use self::paper::PaperError;
pub(crate) use self::proof::ProofError;
pub(crate) use self::share::ShareError;
pub(crate) use self::study::StudyError;
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
    #[error("{options} can be true of one run only, and {} is a folder", folder.display())]
    OfOneRun { options: String, folder: PathBuf },
    #[error(
        "{option} is of no use with the limit sheet {sheet}: its wires have no terminals of their own"
    )]
    NoTerminals { option: &'static str, sheet: String },
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
    #[error("there is no limit sheet `{name}`, neither built in nor as a file")]
    NoSheet { name: String },
    #[error("{} is not a limit sheet: {source}", path.display())]
    NotASheet { path: PathBuf, source: SheetError },
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
    #[error("{} cannot be laid beside this reading: {source}", path.display())]
    NotCompared { path: PathBuf, source: NotCompared },
    #[error("{} does not help to place a break: {source}", path.display())]
    NoOtherEnd { path: PathBuf, source: NoOtherEnd },
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
    #[error("{} is of a reel, of which no budgets are told", path.display())]
    NoReelBudget { path: PathBuf },
    #[error("{} is of a reel, and a run is needed", path.display())]
    IsReel { path: PathBuf },
    #[error("a test to earth takes no `{told}`")]
    NotToEarth { told: &'static str },
    #[error("{} is of a live run, of which no budgets are told", path.display())]
    NoBudget { path: PathBuf },
    #[error("{} holds no reading of a live run", path.display())]
    NotLive { path: PathBuf },
    #[error("{} does not tell what supply and common of the run have in ohms: one of them is open in it, or it is no check", path.display())]
    NoRunResistance { path: PathBuf },
    #[error("this is no zero: {source}")]
    NoZero { source: NoZero },
    #[error("{} is no zero: {source}", path.display())]
    NotAZero { path: PathBuf, source: NoZero },
    #[error("{} holds no zero of the jig's voltmeter: {source}", path.display())]
    NotALiveZero { path: PathBuf, source: NoLiveZero },
    #[error("the zero in {} is of jig {theirs} with end plug {their_plug}, this is jig {jig} with end plug {plug}", path.display())]
    OtherJig { path: PathBuf, jig: String, theirs: String, plug: String, their_plug: String },
    #[error("this is no code that can be restored: {source}")]
    NotACode { source: CodeError },
    #[error("this jig has measured nothing by itself since it was switched on")]
    NothingKept,
    #[error("no end plug has this: its `{}` {part}", part.key)]
    NotAPlug { part: Implausible },
    #[error("no jig has this: its `{}` {part}", part.key)]
    NotParts { part: Implausible },
    #[error("the jig's name is longer than a jig keeps")]
    LongName,
    #[error("this jig says no serial, so that its zero would be taken for another's")]
    NoSerial,
    #[error("this computer says no folder for a program's data")]
    NoDataFolder,
    #[error("{} exists already, and nothing that was saved is overwritten", path.display())]
    Exists { path: PathBuf },
    #[error("cannot save to {}: {source}", path.display())]
    NotSaved { path: PathBuf, source: io::Error },
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
            Self::OfOneRun { .. } => {
                "judge each file by itself, with what is true of its run; of a folder only --sheet, \
                 --gauge, --length and --cable-temp can be told, which then count for every file"
                    .into()
            }
            Self::NoTerminals { .. } => {
                "leave that out, or choose the limit sheet of this run with --sheet".into()
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
            Self::NoOtherEnd { .. } => {
                "give a capture of this run that was taken with the jig at its other end, both ends \
                 lifted; it must show the same one conductor open"
                    .into()
            }
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
            Self::NoReelBudget { .. } | Self::NoBudget { .. } => {
                "`runproof judge` shows its numbers, each with its uncertainty".into()
            }
            Self::NotLive { .. } => {
                "give a file that `runproof live --save` wrote at the run's other end".into()
            }
            Self::NoRunResistance { .. } => {
                "give a file that `runproof check --save` wrote of this run, the end plug in, by the same limit sheet"
                    .into()
            }
            Self::NoZero { source } => zero_again(source).into(),
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
            Self::NotACode { source } => misheard::ask(source),
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
            Self::NoSerial | Self::NoDataFolder => {
                "save it with --save FILE, and give it to `check --zero FILE`".into()
            }
            Self::NoSheet { .. } => {
                "list them with `runproof limits`, or give the path of a sheet of your own".into()
            }
            Self::NotASheet { .. } => {
                "put that line right, and check it with `runproof limits --check`; worked examples \
                 are in host/interpret/src/sheets"
                    .into()
            }
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
            Self::NotCompared { source: NotCompared::SameEnd, .. } => {
                "give the reading of the run's other end; how one end changes over time, `runproof live --watch` tells"
                    .into()
            }
            Self::NotCompared { .. } => {
                "say where the jig is now: `--at plate` at the wall plate, `--at adapter` at the unit".into()
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
            Self::Store(why) => store_next(why).into(),
            Self::Audit(why) => why.next_step().into(),
            Self::Flex(why) => why.next_step().into(),
            Self::Lead(why) => why.next_step().into(),
            Self::Lot(why) => why.next_step(),
            Self::Paper(why) => why.next_step(),
            Self::Proof(why) => why.next_step(),
            Self::Share(why) => why.next_step(),
            Self::Study(why) => why.next_step(),
            Self::NotRecorded { why } => format!(
                "{}; what was measured stands above, and is nowhere else unless `--save` was given: measure again then",
                store_next(why)
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
            Self::NotPrinted(_) => "check where the output goes".into(),
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
            | Self::NotAScene { .. }
            | Self::Folder { .. }
            | Self::EmptyFolder { .. }
            | Self::Unreadable { .. }
            | Self::NotText { .. }
            | Self::TooLarge { .. }
            | Self::NoSheet { .. }
            | Self::NotASheet { .. }
            | Self::NotSteps { .. }
            | Self::OtherRun { .. }
            | Self::NoCheck { .. }
            | Self::NoLive { .. }
            | Self::NoPlace { .. }
            | Self::NotCompared { .. }
            | Self::NotACapture { .. }
            | Self::NoOtherEnd { .. }
            | Self::NotLive { .. }
            | Self::NoRunResistance { .. }
            | Self::NoBudget { .. }
            | Self::NoReelBudget { .. }
            | Self::NoReelCode
            | Self::IsReel { .. }
            | Self::NoSuchReel { .. }
            | Self::NotAZero { .. }
            | Self::NotALiveZero { .. }
            | Self::NotACode { .. }
            | Self::OtherJig { .. }
            | Self::NotARecord { .. }
            | Self::NotJudgedAgain { .. }
            | Self::SaysOtherwise { .. }
            | Self::NothingRecorded
            | Self::NoSuchJob { .. }
            | Self::NoResult { .. }
            | Self::NeitherFileNorRecord { .. }
            | Self::Store(
                StoreError::NoRecord { .. }
                | StoreError::Several { .. }
                | StoreError::Later { .. }
                | StoreError::Damaged { .. },
            ) => Exit::BadFile,
            Self::NoZero { .. } | Self::NothingKept => Exit::CannotTell,
            Self::OfOneRun { .. }
            | Self::NoReel { .. }
            | Self::ToldOfReel
            | Self::NoTerminals { .. }
            | Self::NotToEarth { .. }
            | Self::NoFact { .. }
            | Self::NotAPlug { .. }
            | Self::NotParts { .. }
            | Self::LongName
            | Self::NothingSaid
            | Self::BeforeOfSeveral => Exit::Usage,
            Self::Exists { .. }
            | Self::NotSaved { .. }
            | Self::NoSerial
            | Self::NoDataFolder
            | Self::NoPlaceForRecords
            | Self::Store(_)
            | Self::NotRecorded { .. }
            | Self::NotPrinted(_) => Exit::NotSaved,
        }
    }
}

/// What makes a store usable again.
pub(crate) fn store_next(error: &StoreError) -> &'static str {
    match error {
        StoreError::Later { .. } => "use that later version here too",
        StoreError::Busy { .. } => "end the other program that keeps it, and try again",
        StoreError::Full { .. } => "make room on that disk",
        StoreError::ReadOnly { .. } | StoreError::NotOpened { .. } => {
            "make that folder one that you can write to"
        }
        StoreError::Damaged { .. } => {
            "move that file away, and keep it: most of it can be read by SQLite's own tools; a new one is begun"
        }
        StoreError::NoRecord { .. } => "list them with `runproof records`",
        StoreError::Several { .. } => "give more of the id, or its number here",
        _ => "try again; if it stays so, move that file away, and keep it: a new one is begun",
    }
}

fn zero_again(error: &NoZero) -> &'static str {
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
