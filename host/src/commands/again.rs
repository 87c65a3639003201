//! What was measured before, judged again: a capture's file, or a record by the limits and what was told then.

use std::path::Path;

use runproof_interpret::{
    Capture, Judgement, LimitSheet, LiveKnowledge, RunKnowledge, judge, judge_live, judge_reel,
};
use runproof_records::{Kind, Record};

use crate::arguments::{Against, Control, Units};
use crate::captures::{self, Named};
use crate::error::{Error, ProofError, RecordError};
use crate::recording::PROGRAM;
use crate::show::described::Described;
use crate::show::judged::Judged;
use crate::show::{check, flex, live, reel};

/// A capture, what follows from it, and by what.
pub(super) struct Again {
    pub(super) judged: Judged,
    pub(super) limits: LimitSheet,
    /// What was told of a run that was checked.
    pub(super) known: RunKnowledge,
    /// Where it was kept, if it was.
    pub(super) record: Option<(i64, Box<Record>)>,
}

impl Again {
    pub(super) fn described(&self, units: Units) -> Described {
        match &self.judged {
            Judged::Check(capture, judgement) => {
                check::described(capture, judgement, &self.known, units, None)
            }
            Judged::Live(capture, judgement) => {
                live::described(capture, judgement, None, units, None)
            }
            Judged::Reel(capture, judgement) => reel::described(capture, judgement, units, None),
            Judged::Flex(capture, seen) => flex::described(capture, seen, units, None),
        }
    }
}

/// A file is judged by what is told now, a record by what was told then.
pub(super) fn named(name: &Path, against: &Against, control: &Control) -> Result<Again, Error> {
    match captures::named(name)? {
        Named::Record(number, record) => {
            captures::has_result(number, &record)?;
            let again = of(&record)?.ok_or(ProofError::NoRun { number })?;
            Ok(Again { record: Some((number, record)), ..again })
        }
        Named::File(capture) => {
            let limits = super::limits::sheet(against.sheet())?;
            let known = super::known(against, &limits)?;
            if capture.is_live() {
                let known_live = super::live::control::known(control, &limits)?;
                return Ok(of_live(*capture, limits, &known_live));
            }
            if capture.is_flex() {
                super::flex::takes(&known)?;
                return Ok(of_flex(*capture, limits));
            }
            if capture.reel().is_some() {
                super::reel::takes(&known)?;
                let limits = super::limits::sheet(against.sheet.as_deref().unwrap_or("reel"))?;
                return Ok(of_reel(*capture, limits));
            }
            let judgement = super::judged(&capture, &limits, &known)?;
            Ok(of_check(*capture, judgement, limits, known))
        }
    }
}

/// What it says follows from its own capture, if this very version judged it: else somebody has changed it. Other versions may judge otherwise.
pub(super) fn says_what_follows(record: &Record) -> Result<bool, Error> {
    if record.program != PROGRAM {
        return Ok(true);
    }
    Ok(of(record)?.is_none_or(|again| Some(again.judged.verdict()) == record.verdict))
}

/// None of what is no test of a run: a zero, a lot.
pub(super) fn of(record: &Record) -> Result<Option<Again>, Error> {
    let Some(sheet) = record.sheet.as_ref().filter(|_| record.kind.is_of_a_run()) else {
        return Ok(None);
    };
    let unusable = |why: String| Error::Record(RecordError::NotJudgedAgain { why });
    let capture = Capture::read(&record.capture).map_err(|error| unusable(error.to_string()))?;
    let limits = LimitSheet::read(&sheet.text).map_err(|error| unusable(error.to_string()))?;
    let told = |error: serde_json::Error| unusable(error.to_string());
    if record.kind == Kind::Reel {
        return Ok(Some(of_reel(capture, limits)));
    }
    if record.kind == Kind::Flex {
        return Ok(Some(of_flex(capture, limits)));
    }
    if record.kind == Kind::Live {
        let known: LiveKnowledge = serde_json::from_str(&record.told).map_err(told)?;
        return Ok(Some(of_live(capture, limits, &known)));
    }
    let known: RunKnowledge = serde_json::from_str(&record.told).map_err(told)?;
    let judgement = judge(&capture, &limits, &known);
    Ok(Some(of_check(capture, judgement, limits, known)))
}

fn of_live(capture: Capture, limits: LimitSheet, known: &LiveKnowledge) -> Again {
    let judgement = judge_live(&capture, &limits, known);
    let judged = Judged::Live(capture, judgement);
    Again { judged, limits, known: RunKnowledge::default(), record: None }
}

fn of_reel(capture: Capture, limits: LimitSheet) -> Again {
    let judgement = Box::new(judge_reel(&capture, &limits));
    let judged = Judged::Reel(capture, judgement);
    Again { judged, limits, known: RunKnowledge::default(), record: None }
}

fn of_flex(capture: Capture, limits: LimitSheet) -> Again {
    let seen = Box::new(super::flex::seen(&capture, &limits));
    let judged = Judged::Flex(capture, seen);
    Again { judged, limits, known: RunKnowledge::default(), record: None }
}

fn of_check(
    capture: Capture,
    judgement: Judgement,
    limits: LimitSheet,
    known: RunKnowledge,
) -> Again {
    Again { judged: Judged::Check(capture, judgement), limits, known, record: None }
}
