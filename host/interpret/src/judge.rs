//! The way from a capture to a judgement, on one page.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::conductors::conductor;
use crate::findings;
use crate::isolation::Isolation;
use crate::judgement::{
    COVERAGE_FACTOR, Finding, Judgement, NotTested, Severity, SheetName, Verdict,
};
use crate::known::RunKnowledge;
use crate::limits::LimitSheet;
use crate::live;
use crate::survey::survey;

pub(crate) fn judge(capture: &Capture, sheet: &LimitSheet, known: &RunKnowledge) -> Judgement {
    let isolation = Isolation::of(capture);
    let between = isolation.as_ref().ok();
    let survey = survey(capture, sheet, between);
    let found_between = match &isolation {
        Ok(isolation) => findings::of_isolation(isolation, sheet, known),
        Err(obstacle) => vec![Finding::from(obstacle.clone())],
    };
    let conductors =
        sheet.conductors.each_ref().map(|limits| conductor(limits, &survey, &found_between));
    let mut findings = findings::of_conductors(&survey, &conductors, sheet);
    findings.extend(found_between);
    findings.extend(findings::of_live(capture));
    findings.sort_by_key(|finding| finding.severity);
    findings.dedup();
    let verdicts = conductors.iter().map(|conductor| conductor.verdict);
    let verdict = verdicts
        .chain(findings.iter().map(|finding| verdict_of(finding.severity)))
        .fold(Verdict::Pass, Verdict::and);
    Judgement {
        verdict,
        conductors,
        isolation: between.map(Isolation::stated).unwrap_or_default(),
        findings,
        coverage_factor: COVERAGE_FACTOR,
        sheet: SheetName { name: sheet.name.clone(), version: sheet.version.clone() },
        not_tested: not_tested(capture, between),
        fit: survey.fit,
    }
}

fn not_tested(capture: &Capture, isolation: Option<&Isolation>) -> Vec<NotTested> {
    let mut all =
        vec![NotTested::HowItWasLanded, NotTested::ToChassisOrShield, NotTested::NoiseAndTraffic];
    if isolation.is_none() {
        all.insert(0, NotTested::ShortsAndLeakage);
    }
    if !live::looked(capture, Phase::Plug) {
        all.push(NotTested::VoltageOnTheRun);
    }
    all
}

fn verdict_of(severity: Severity) -> Verdict {
    match severity {
        Severity::Fail => Verdict::Fail,
        Severity::CannotTell => Verdict::CannotTell,
        Severity::Note => Verdict::Pass,
    }
}
