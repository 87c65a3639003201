//! `live`: reads a run that may be powered, once or again and again, and judges it.

pub(super) mod control;

use std::path::Path;
use std::time::Duration;

use runproof_interpret::capture::Entry;
use runproof_interpret::judgement::{At, LiveFindingKind, LiveJudgement, Verdict};
use runproof_interpret::{Capture, LimitSheet, LiveKnowledge, judge_live, live_ends};
use runproof_protocol::{Microseconds, Phase};
use runproof_records::{Kept, Kind};

use super::check::begin;
use crate::arguments::{Live, Output};
use crate::error::{CaseError, Error, LiveError};
use crate::exit::Exit;
use crate::guide::Keys;
use crate::jig::{Jig, JigError};
use crate::recording::{Recorded, of_live};
use crate::show::live::{self as show, watch};
use crate::show::{signs, terminal};
use crate::zeros;
use crate::{captures, files};

/// How long a simulated run is watched. (judgement)
const SIMULATED_WATCH: Duration = Duration::from_secs(3);

/// A capture and what follows from it.
type Judged = (Capture, LiveJudgement);

pub(super) fn run(arguments: Live) -> Result<Exit, Error> {
    let (sheet, sheet_used) = super::limits::sheet_used(&arguments.sheet)?;
    let at = arguments.at.map(At::from);
    let against = arguments.against.as_deref().map(|path| other(path, at, &sheet)).transpose()?;
    super::lot::takes(arguments.about.unit_of_lot(), Kind::Live)?;
    let is_simulated = arguments.jig.simulate.is_some();
    let known = control::known(&arguments.control, &sheet)?;
    let jig = Jig::meet(begin(arguments.jig)?)?;
    let jig = jig.with(super::now_unix_s(), String::new())?;
    if !jig.reads_live() {
        return Err(JigError::ReadsNothingLive.into());
    }
    let mut begun = jig.capture();
    begun.entries.extend(zeros::live(&jig, arguments.zero.as_deref())?);
    begun.entries.extend(at.map(Entry::At));
    if arguments.rearm {
        jig.rearm()?;
    }
    let save = arguments.keep.save.map(files::new).transpose()?;
    let read = || {
        let mut capture = begun.clone();
        jig.measure(Phase::Live, &mut capture, &mut |_, _| {});
        let mut judgement = judge_live(&capture, &sheet, &known);
        let loads = jig.loads_supply() && !arguments.no_load && !arguments.watch;
        if loads && control::may_be_loaded(&judgement, &sheet) {
            jig.measure(Phase::SupplyLoad, &mut capture, &mut |_, _| {});
            judgement = judge_live(&capture, &sheet, &known);
        }
        jig.show(signs::of_live(&judgement));
        (capture, judgement)
    };
    let (capture, judgement) = if arguments.watch {
        let during = arguments.during.or(is_simulated.then_some(SIMULATED_WATCH));
        watched(read, during, arguments.output)?
    } else {
        read()
    };
    let saved = save.map(|(path, file)| files::write(path, file, &capture.write())).transpose();
    let recorded = super::recorded(arguments.keep.no_record, || {
        of_live(&capture, &judgement, &known, &sheet_used, &arguments.about.details())
    });
    let kept = recorded.as_ref().ok().and_then(Option::as_ref).and_then(Recorded::kept);
    shown(&capture, &judgement, against.as_ref(), arguments.output, kept)?;
    super::told_where(recorded?.as_ref());
    saved?;
    Ok(judgement.verdict.into())
}

/// The worst of all readings, until Enter, or until the time is over.
fn watched(
    read: impl Fn() -> Judged,
    during: Option<Duration>,
    output: Output,
) -> Result<Judged, Error> {
    let keys = Keys::listen();
    let mut extremes = watch::Extremes::default();
    let mut worst: Option<Judged> = None;
    let mut began = None;
    loop {
        let (capture, judgement) = read();
        let now = last_reading(&capture);
        let since = now.0.saturating_sub(began.get_or_insert(now).0);
        extremes.see(&judgement);
        let line = match output.json {
            true => show::json::line(&capture, &judgement),
            false => watch::line(since as f64 / 1e6, &judgement),
        };
        super::print(&line)?;
        let broken = !judgement.findings.is_empty() && now == Microseconds(0);
        let is_worse =
            worst.as_ref().is_none_or(|(_, before)| badness(&judgement) >= badness(before));
        let kept = if is_worse {
            (capture, judgement)
        } else {
            worst.take().unwrap_or((capture, judgement))
        };
        let over = during.is_some_and(|during| u128::from(since) >= during.as_micros());
        if over || broken || keys.pressed() {
            if !output.json {
                super::print(&format!("\n{}\n\n", extremes.told()))?;
            }
            return Ok(kept);
        }
        worst = Some(kept);
    }
}

/// The worst has the most.
fn badness(judgement: &LiveJudgement) -> u8 {
    let hazard = judgement.found(LiveFindingKind::Hazard);
    match (hazard, judgement.verdict) {
        (true, _) => 3,
        (_, Verdict::Fail) => 2,
        (_, Verdict::CannotTell) => 1,
        (_, Verdict::Pass) => 0,
    }
}

fn last_reading(capture: &Capture) -> Microseconds {
    capture.readings(Phase::Live).map(|reading| reading.at).max().unwrap_or_default()
}

/// A live reading of the same run from its other end.
fn other(path: &Path, at: Option<At>, sheet: &LimitSheet) -> Result<LiveJudgement, Error> {
    let capture = captures::read(path)?;
    if !capture.is_live() {
        return Err(LiveError::NotLive { path: path.into() }.into());
    }
    let there = capture.at().ok_or_else(|| CaseError::NoPlace { path: path.into() })?;
    live_ends(at, Some(there))
        .map_err(|source| LiveError::NotCompared { path: path.into(), source })?;
    Ok(judge_live(&capture, sheet, &LiveKnowledge::default()))
}

/// Shows a live judgement; beside another one from the other end, if there is one.
pub(super) fn shown(
    capture: &Capture,
    judgement: &LiveJudgement,
    against: Option<&LiveJudgement>,
    output: Output,
    kept: Option<&Kept>,
) -> Result<(), Error> {
    let text = match output.json {
        true => show::json::result(capture, judgement, against, kept),
        false => {
            let units = output.in_units.units;
            terminal::text(&show::described(capture, judgement, against, units, kept))
        }
    };
    super::print(&text)
}
