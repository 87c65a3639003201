//! What findings come to: what was not looked for, what is no news, which comes first, what they mean.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::judgement::{Cause, Finding, FindingKind, Severity, Verdict};
use crate::{completeness, live};

/// Adds what the capture itself shows, whatever was measured; takes away what an early end explains.
pub(crate) fn complete(findings: &mut Vec<Finding>, capture: &Capture) {
    findings.extend(broken_glance(capture));
    findings.extend(not_looked(capture));
    after_an_early_end(findings);
}

/// The gravest first, each once.
pub(crate) fn order(findings: &mut Vec<Finding>) {
    findings.sort_by_key(|finding| (rank(finding), finding.explains_complaint));
    told_once(findings);
}

/// What each finding means for the run.
pub(crate) fn verdicts(findings: &[Finding]) -> impl Iterator<Item = Verdict> {
    findings.iter().map(|finding| verdict_of(finding.severity))
}

pub(crate) fn verdict_of(severity: Severity) -> Verdict {
    match severity {
        Severity::Fail => Verdict::Fail,
        Severity::CannotTell => Verdict::CannotTell,
        Severity::Note => Verdict::Pass,
    }
}

/// What endangers comes first, then what is graver.
fn rank(finding: &Finding) -> (bool, bool, Severity) {
    let is = |kind| finding.kind == kind;
    (!is(FindingKind::Hazard), !is(FindingKind::AllMoveTogether), finding.severity)
}

/// A voltage that stood there before each phase is one voltage: the larger reading stays.
fn told_once(findings: &mut Vec<Finding>) {
    let foreign = |finding: &Finding| finding.kind == FindingKind::ForeignVoltage;
    let largest = findings.iter().filter(|one| foreign(one)).map(|one| one.value);
    let largest =
        largest.fold(None, |most: Option<f64>, value| if value > most { value } else { most });
    findings.retain(|finding| !foreign(finding) || finding.value == largest);
    findings.dedup();
}

/// A glance that ended badly ended the check.
fn broken_glance(capture: &Capture) -> Option<Finding> {
    if !completeness::begun(capture, Phase::Glance) {
        return None;
    }
    completeness::check(capture, Phase::Glance).err().map(Finding::from)
}

/// A phase was measured, and nobody looked for voltage before it.
fn not_looked(capture: &Capture) -> Option<Finding> {
    let mut measured =
        [Phase::Open, Phase::Plug].into_iter().filter(|phase| completeness::begun(capture, *phase));
    measured.find_map(|phase| live::check_looked(capture, phase).err()).map(Finding::from)
}

const NOT_MEASURED: [Option<Cause>; 2] = [Some(Cause::OpenNotMeasured), Some(Cause::NotMeasured)];

/// Where the check was ended early, what was not measured any more is no news.
fn after_an_early_end(findings: &mut Vec<Finding>) {
    let early = [Some(Cause::Stopped), Some(Cause::Lost), Some(Cause::Hazard)];
    if findings.iter().any(|one| one.kind == FindingKind::Hazard || early.contains(&one.cause)) {
        findings.retain(|finding| !NOT_MEASURED.contains(&finding.cause));
    }
}
