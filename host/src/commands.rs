//! One file a command: reads arguments, calls the rooms, picks the exit status.

mod again;
mod audit;
mod check;
mod explain;
mod far_lights;
mod flex;
mod jig;
mod judge;
mod label;
mod lead;
mod limits;
mod live;
mod lot;
mod next;
mod paper;
mod prove;
mod read_aloud;
mod records;
mod reel;
mod report;
mod scenes;
mod studies;
mod sync;
mod to_earth;
mod zero;

use std::io::{self, Write};
use std::time::{SystemTime, UNIX_EPOCH};

use runproof_interpret::limits::Arrangement;
use runproof_interpret::{Capture, Judgement, LimitSheet, OtherEnd, RunKnowledge};
use runproof_records::{Kept, Record};

use crate::arguments::{Against, Command, Output};
use crate::captures;
use crate::error::Error;
use crate::exit::Exit;
use crate::recording::{self, Recorded};
use crate::show::{self, json, records as records_words, terminal};

pub(crate) fn run(command: Command) -> Result<Exit, Error> {
    match command {
        Command::Check(arguments) => check::run(*arguments),
        Command::Live(arguments) => live::run(*arguments),
        Command::Flex(arguments) => flex::run(*arguments),
        Command::Zero(arguments) => zero::run(*arguments),
        Command::Reel(arguments) => reel::run(*arguments),
        Command::Jig(arguments) => jig::run(arguments),
        Command::Judge(arguments) => judge::run(arguments),
        Command::Explain(arguments) => explain::run(arguments),
        Command::Report(arguments) => report::run(&arguments),
        Command::Label(arguments) => label::run(&arguments),
        Command::Code(arguments) => read_aloud::code(arguments),
        Command::Decode(arguments) => read_aloud::decode(arguments),
        Command::Records(arguments) => records::run(*arguments),
        Command::Sync(arguments) => sync::run(&arguments),
        Command::Limits(arguments) => limits::run(arguments),
        Command::Prove(arguments) => prove::run(*arguments),
        Command::Proofs(arguments) => prove::proofs(arguments),
        Command::Audit(arguments) => audit::run(arguments),
        Command::Lead(arguments) => lead::run(&arguments),
        Command::Lot(arguments) => lot::run(arguments),
        Command::Capability(arguments) => studies::capability(&arguments),
        Command::Repeatability(arguments) => studies::repeatability(&arguments),
        Command::Next(arguments) => next::run(&arguments),
        Command::Scenes => scenes::run(),
    }
}

/// What is known of a run beside its readings.
fn known(against: &Against, sheet: &LimitSheet) -> Result<RunKnowledge, Error> {
    if let Some(option) = against.by_terminal() {
        has_terminals(option, sheet)?;
    }
    let other_end = against.other_end.as_ref().map(|path| {
        let capture = captures::read(path)?;
        OtherEnd::of(&capture, sheet)
            .map_err(|source| Error::NoOtherEnd { path: path.clone(), source })
    });
    Ok(RunKnowledge { other_end: other_end.transpose()?, ..against.told() })
}

/// What asks for a wire by its terminal is told to be of no use where a wire has none of its own.
fn has_terminals(option: &'static str, sheet: &LimitSheet) -> Result<(), Error> {
    match sheet.arrangement {
        Arrangement::TwoWire => Err(Error::NoTerminals { option, sheet: sheet.name.clone() }),
        Arrangement::FourConductor | Arrangement::Lead => Ok(()),
    }
}

/// Judges a capture.
fn judged(capture: &Capture, sheet: &LimitSheet, known: &RunKnowledge) -> Result<Judgement, Error> {
    to_earth::check_told(capture, known)?;
    Ok(runproof_interpret::judge(capture, sheet, known))
}

/// Shows what was judged.
fn show(
    capture: &Capture,
    judgement: &Judgement,
    known: &RunKnowledge,
    output: Output,
    kept: Option<&Kept>,
) -> Result<Exit, Error> {
    let text = if output.json {
        json::result(capture, judgement, known, kept)
    } else {
        let units = output.in_units.units;
        terminal::text(&show::check::described(capture, judgement, known, units, kept))
    };
    print(&text)?;
    Ok(judgement.verdict.into())
}

/// Keeps a record, unless none is wanted.
fn recorded(no_record: bool, record: impl FnOnce() -> Record) -> Result<Option<Recorded>, Error> {
    if no_record {
        return Ok(None);
    }
    recording::keep(&record()).map(Some)
}

/// Where a record is that could not be kept: told last, so that it is not overlooked.
fn told_where(recorded: Option<&Recorded>) {
    if let Some(Recorded::Beside { path, why }) = recorded {
        eprintln!("{}", records_words::beside(path, why));
    }
}

/// Seconds since 1970 began, UTC, by this computer.
fn now_unix_s() -> u64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs())
}

/// Whoever reads may stop before the end; that changes no verdict.
fn print(text: &str) -> Result<(), Error> {
    match io::stdout().write_all(text.as_bytes()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => other.map_err(Error::NotPrinted),
    }
}
