//! Captures that were given, judged: each as what it was given for.

use std::path::Path;

use runproof_interpret::capture::{Capture, Entry};
use runproof_interpret::judgement::At;
use runproof_interpret::next::{of_check, of_live};
use runproof_interpret::{LimitSheet, LiveKnowledge, RunKnowledge, judge, judge_live};
use runproof_protocol::Phase;

use crate::arguments::{Given, Next};
use crate::captures;
use crate::commands::{known, to_earth};
use crate::error::{CaseError, Error, FlexError, ReelError};
use crate::show::next::{Judged, Shown};

/// What a check measures; a hazard may end it at its first glance.
const CHECKED: [Phase; 3] = [Phase::Glance, Phase::Open, Phase::Plug];

/// Judged as what it was given for; nothing of what is only told.
pub(super) fn judged(
    given: &Given,
    arguments: &Next,
    sheet: &LimitSheet,
) -> Result<Option<Judged>, Error> {
    match given {
        Given::Check(path) => check(path, sheet, &known(&arguments.against, sheet)?).map(Some),
        Given::Live(path) => live_look(path, sheet).map(Some),
        Given::Told(..) | Given::Answer(..) => Ok(None),
    }
}

/// Live looks at both ends are told of alike: each beside the last one at the other end.
pub(super) fn lay_beside(judged: &mut [Option<Judged>]) {
    let last_at = |judged: &[Option<Judged>], at: At| {
        let mut lives = judged.iter().flatten().filter_map(|one| match &one.shown {
            Shown::Live(judgement) if judgement.at == Some(at) => Some(judgement.clone()),
            _ => None,
        });
        lives.next_back()
    };
    let [adapter, plate] = [At::Adapter, At::Plate].map(|at| last_at(judged, at));
    for one in judged.iter_mut().flatten() {
        let Shown::Live(judgement) = &one.shown else { continue };
        let beside = if judgement.at == Some(At::Adapter) { &plate } else { &adapter };
        if let Some((_, readings)) = of_live(judgement, beside.as_deref()) {
            one.readings = readings;
        }
    }
}

fn check(path: &Path, sheet: &LimitSheet, known: &RunKnowledge) -> Result<Judged, Error> {
    let capture = captures::read(path)?;
    if capture.is_flex() {
        return Err(FlexError::IsFlexed { path: path.into() }.into());
    }
    if capture.reel().is_some() {
        return Err(ReelError::IsReel { path: path.into() }.into());
    }
    let is_check = CHECKED.iter().any(|phase| has(&capture, *phase));
    if !is_check && capture.to_earth().is_none() {
        let is_live = has(&capture, Phase::Live);
        return Err(CaseError::NoCheck { path: path.into(), is_live }.into());
    }
    to_earth::check_told(&capture, known)?;
    let judgement = judge(&capture, sheet, known);
    let (source, readings) = of_check(&judgement);
    Ok(Judged { file: name(path), source, readings, shown: Shown::Check(Box::new(judgement)) })
}

fn live_look(path: &Path, sheet: &LimitSheet) -> Result<Judged, Error> {
    let capture = captures::read(path)?;
    if !has(&capture, Phase::Live) {
        let is_check = CHECKED.iter().any(|phase| has(&capture, *phase));
        return Err(CaseError::NoLive { path: path.into(), is_check }.into());
    }
    let judgement = judge_live(&capture, sheet, &LiveKnowledge::default());
    let (source, readings) =
        of_live(&judgement, None).ok_or_else(|| CaseError::NoPlace { path: path.into() })?;
    Ok(Judged { file: name(path), source, readings, shown: Shown::Live(Box::new(judgement)) })
}

/// Something of this phase is there.
fn has(capture: &Capture, phase: Phase) -> bool {
    capture.entries.iter().any(|entry| match entry {
        Entry::Reading(reading) => reading.phase == phase,
        Entry::Rise(rise) => rise.phase == phase,
        Entry::End(end) => end.phase == phase,
        _ => false,
    })
}

fn name(path: &Path) -> String {
    path.display().to_string()
}
