//! The way from a survey to a judgement, on one page.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::completeness;
use crate::conductors::conductor;
use crate::findings::findings;
use crate::glance::glance;
use crate::judgement::{
    COVERAGE_FACTOR, Cause, Finding, FindingKind, Judgement, Misses, NotTested, Severity,
    SheetName, Verdict,
};
use crate::limits::LimitSheet;
use crate::live;
use crate::obstacle::Obstacle;
use crate::survey::survey;

pub(crate) fn judge(capture: &Capture, sheet: &LimitSheet) -> Judgement {
    let survey = survey(capture, sheet);
    let conductors = sheet.conductors.each_ref().map(|limits| conductor(limits, &survey));
    let mut findings: Vec<Finding> = [Phase::Glance, Phase::Open]
        .into_iter()
        .filter_map(|phase| broken(capture, phase))
        .collect();
    findings.extend(self::findings(&survey, &conductors, sheet));
    findings.extend(plug_left_in(capture));
    findings.sort_by_key(|finding| (finding.severity, finding.kind != FindingKind::Hazard));
    let verdicts = conductors.iter().map(|conductor| conductor.verdict);
    let verdict = verdicts
        .chain(findings.iter().map(|finding| verdict_of(finding.severity)))
        .fold(Verdict::Pass, Verdict::and);
    let misses = Misses::of(&conductors, sheet);
    Judgement {
        verdict,
        conductors,
        findings,
        coverage_factor: COVERAGE_FACTOR,
        sheet: SheetName { name: sheet.name.clone(), version: sheet.version.clone() },
        misses,
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

/// A phase that was begun must be complete; what the open phase says is not judged yet.
fn broken(capture: &Capture, phase: Phase) -> Option<Finding> {
    if !completeness::begun(capture, phase) {
        return None;
    }
    completeness::check(capture, phase).err().map(Finding::from)
}

/// With the end plug out, no two posts may meet as they do with it in.
fn plug_left_in(capture: &Capture) -> Option<Finding> {
    let open = glance(capture, Phase::Open).ok()?;
    let plug = glance(capture, Phase::Plug).ok()?;
    let joined = open.joined().contains(&true) && open.like(&plug);
    joined.then(|| Obstacle::incomplete(Cause::PlugLeftIn).into())
}

fn verdict_of(severity: Severity) -> Verdict {
    match severity {
        Severity::Fail => Verdict::Fail,
        Severity::CannotTell => Verdict::CannotTell,
        Severity::Note => Verdict::Pass,
    }
}
