//! The way from a survey to a judgement, on one page.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::completeness;
use crate::conductors::conductor;
use crate::findings::findings;
use crate::judgement::{
    COVERAGE_FACTOR, Finding, Judgement, NotTested, Severity, SheetName, Verdict,
};
use crate::limits::LimitSheet;
use crate::live;
use crate::survey::survey;

pub(crate) fn judge(capture: &Capture, sheet: &LimitSheet) -> Judgement {
    let survey = survey(capture, sheet);
    let conductors = sheet.conductors.each_ref().map(|limits| conductor(limits, &survey));
    let mut findings = findings(&survey, &conductors, sheet);
    findings.extend(open_phase(capture));
    findings.sort_by_key(|finding| finding.severity);
    let verdicts = conductors.iter().map(|conductor| conductor.verdict);
    let verdict = verdicts
        .chain(findings.iter().map(|finding| verdict_of(finding.severity)))
        .fold(Verdict::Pass, Verdict::and);
    Judgement {
        verdict,
        conductors,
        findings,
        coverage_factor: COVERAGE_FACTOR,
        sheet: SheetName { name: sheet.name.clone(), version: sheet.version.clone() },
        not_tested: not_tested(capture),
        fit: survey.fit,
    }
}

fn not_tested(capture: &Capture) -> Vec<NotTested> {
    let mut all = vec![
        NotTested::ShortsAndLeakage,
        NotTested::HowItWasLanded,
        NotTested::ToChassisOrShield,
        NotTested::NoiseAndTraffic,
    ];
    if !live::looked(capture) {
        all.push(NotTested::VoltageOnTheRun);
    }
    all
}

/// An open phase that was begun must be complete; what it says is not judged yet.
fn open_phase(capture: &Capture) -> Option<Finding> {
    if !completeness::begun(capture, Phase::Open) {
        return None;
    }
    completeness::check(capture, Phase::Open).err().map(Finding::from)
}

fn verdict_of(severity: Severity) -> Verdict {
    match severity {
        Severity::Fail => Verdict::Fail,
        Severity::CannotTell => Verdict::CannotTell,
        Severity::Note => Verdict::Pass,
    }
}
