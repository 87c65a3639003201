//! What a station has counted: verdicts, faults, and how many an hour.

use std::collections::BTreeMap;

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{FindingKind, Severity, Verdict};
use runproof_protocol::Microseconds;

#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    pub(crate) pass: u32,
    pub(crate) fail: u32,
    pub(crate) cannot_tell: u32,
    /// By the gravest finding of each lead that does not pass, as it is written.
    pub(crate) faults: BTreeMap<String, u32>,
    last: Microseconds,
}

impl Tally {
    /// `since` its fixture was ready for the first one.
    pub(crate) fn count(&mut self, verdict: Verdict, fault: Option<&str>, since: Microseconds) {
        *self.of(verdict) += 1;
        if let Some(fault) = fault {
            *self.faults.entry(fault.to_owned()).or_default() += 1;
        }
        self.last = self.last.max(since);
    }

    pub(crate) fn take_back(&mut self, verdict: Verdict, fault: Option<&str>) {
        *self.of(verdict) -= 1;
        if let Some(count) = fault.and_then(|fault| self.faults.get_mut(fault)) {
            *count -= 1;
        }
        self.faults.retain(|_, count| *count > 0);
    }

    pub(crate) fn all(&self) -> u32 {
        self.pass + self.fail + self.cannot_tell
    }

    /// In percent; none before the first lead.
    pub(crate) fn yield_percent(&self) -> Option<f64> {
        (self.all() > 0).then(|| 100.0 * f64::from(self.pass) / f64::from(self.all()))
    }

    /// By the jigs' clocks, from when the fixtures were ready first to the last verdict.
    pub(crate) fn per_hour(&self) -> Option<f64> {
        let hours = self.last.0 as f64 / 3.6e9;
        (hours > 0.0).then(|| f64::from(self.all()) / hours)
    }

    fn of(&mut self, verdict: Verdict) -> &mut u32 {
        match verdict {
            Verdict::Pass => &mut self.pass,
            Verdict::Fail => &mut self.fail,
            Verdict::CannotTell => &mut self.cannot_tell,
        }
    }
}

/// The kind of a lead's gravest finding; none of one that passes.
pub(crate) fn fault(judgement: &Judgement) -> Option<FindingKind> {
    if judgement.verdict == Verdict::Pass {
        return None;
    }
    let grave = |one: &&runproof_interpret::judgement::Finding| one.severity != Severity::Note;
    judgement.findings.iter().find(grave).map(|one| one.kind)
}
