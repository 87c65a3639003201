//! The way from a capture to a judgement, on one page.

use runproof_protocol::Phase;

use crate::by_copper::{by_copper, unlikely_length};
use crate::capture::Capture;
use crate::comparisons;
use crate::conductors::conductor;
use crate::findings;
use crate::held::Held;
use crate::isolation::Isolation;
use crate::judgement::{
    COVERAGE_FACTOR, Cause, Conductor, Finding, FindingKind, Judgement, Landing, Loop, Misses,
    NotTested, Severity, SheetName, Verdict,
};
use crate::known::RunKnowledge;
use crate::landing;
use crate::limits::{Arrangement, LimitSheet};
use crate::live;
use crate::location;
use crate::looks_long::{self, looks_long};
use crate::loops::loops;
use crate::not_lifted;
use crate::obstacle::Obstacle;
use crate::settled;
use crate::survey::{Survey, survey};
use crate::to_earth;
use crate::touched::Touched;
use crate::zero::zeroed;

pub(crate) fn judge(capture: &Capture, sheet: &LimitSheet, known: &RunKnowledge) -> Judgement {
    if let Some(clipped) = capture.to_earth() {
        return to_earth::judged(capture, sheet, clipped);
    }
    let touched = Touched::of(capture);
    let by_touch = touched.as_ref().ok().copied().unwrap_or_default();
    let sheet = &by_touch.near.map_or_else(|| sheet.clone(), |on| sheet.clipped(&on));
    let isolation = Isolation::of(capture);
    // What is not steady hides no short.
    let unsteady = |found: &Obstacle| found.kind == FindingKind::Unsteady;
    let shorts = isolation.as_ref().err().filter(|found| unsteady(found));
    let shorts = shorts.and_then(|_| Isolation::shorts_alone(capture));
    let paths = isolation.as_ref().ok().or(shorts.as_ref());
    let mut survey = survey(capture, sheet, paths);
    let placed = by_touch.placed(survey.map);
    survey.arrive(by_touch.far);
    let mut between: Vec<Finding> =
        paths.map(|paths| findings::of_isolation(paths, sheet, known)).unwrap_or_default();
    between.extend(isolation.as_ref().err().cloned().map(Finding::from));
    if between.iter().any(|one| one.kind == FindingKind::SomethingConnected) {
        survey.look_past_nothing();
    }
    let calculated = known.calculated();
    let loops = loops(sheet, calculated, &survey);
    let held = held_conductors(sheet, known, &survey, &between);
    let mut findings = findings::of_conductors(&survey, &held, sheet, &placed);
    let mut conductors: Vec<Conductor> = held.into_iter().map(|(conductor, _)| conductor).collect();
    compare(&mut findings, comparisons::siblings(sheet, &survey));
    findings.extend(loops.iter().filter_map(comparisons::loop_beyond));
    let mut loops: Vec<Loop> = loops.into_iter().map(|(row, _)| row).collect();
    findings.extend(comparisons::too_long(sheet, known));
    findings.extend(comparisons::thick_wire(known));
    findings.extend(unlikely_length(&survey, sheet, known));
    findings.extend(comparisons::limit_unknown(&conductors));
    findings.extend(comparisons::less_than_wire(sheet, calculated, &conductors, &loops));
    findings.extend(between);
    findings::add_coupled(&mut findings, capture);
    findings.extend(touched.err().map(Finding::from));
    if by_touch.unfinished && !findings.iter().any(|one| one.kind.is_exchange()) {
        findings.push(Obstacle::incomplete(Cause::TouchesUnfinished).into());
    }
    let landing = landing::landing(&known.landed, &conductors);
    if landing == Landing::WorksAsLanded && placed.run.is_none() {
        findings.push(Finding::new(FindingKind::ColoursDisagree, Severity::CannotTell));
    }
    settled::complete(&mut findings, capture);
    if known.cannot_lift.is_some() {
        not_lifted::weaken(&mut findings, &mut conductors, &mut loops);
    }
    settled::order(&mut findings);
    let verdicts = conductors.iter().map(|conductor| conductor.verdict);
    let verdict = verdicts
        .chain(loops.iter().map(|row| row.verdict))
        .chain(settled::verdicts(&findings))
        .fold(Verdict::Pass, Verdict::and);
    let isolation = isolation.ok();
    let capacitances = looks_long::measured(capture, sheet);
    location::add(&mut findings, &survey, sheet, isolation.as_ref(), &capacitances, known);
    let looks_long = isolation.as_ref().and_then(|found| looks_long(&capacitances, found, sheet));
    let misses = match known.cannot_lift {
        None => Misses::of(&conductors, &loops, isolation.as_ref(), sheet),
        Some(_) => Misses::UNKNOWN,
    };
    let not_tested = not_tested(capture, sheet, known, &findings, isolation.is_some(), landing);
    let copper = by_copper(&survey, sheet, known, looks_long.as_ref());
    Judgement {
        verdict,
        conductors,
        loops,
        calculated,
        isolation: isolation.as_ref().map(Isolation::stated).unwrap_or_default(),
        capacitance: looks_long::stated(&capacitances),
        looks_long,
        placed,
        landing,
        copper,
        findings,
        coverage_factor: COVERAGE_FACTOR,
        zero: zeroed(capture, survey.zero_fits),
        decision_rule: sheet.decision_rule,
        sheet: SheetName { name: sheet.name.clone(), version: sheet.version.clone() },
        misses,
        not_tested,
        to_earth: None,
        fit: survey.fit,
    }
}

/// Each conductor with the limit that it is held to; none of a two-wire bus, which has a loop only.
fn held_conductors(
    sheet: &LimitSheet,
    known: &RunKnowledge,
    survey: &Survey,
    between: &[Finding],
) -> Vec<(Conductor, Option<Held>)> {
    if sheet.arrangement == Arrangement::TwoWire {
        return vec![];
    }
    let each = sheet.conductors.iter().map(|limits| {
        let held = Held::one(limits, sheet, known.calculated());
        (conductor(limits, held, survey, between), held)
    });
    each.collect()
}

/// A difference that the sheet limits says all that an uneven conductor's remark would.
fn compare(findings: &mut Vec<Finding>, siblings: Option<Finding>) {
    if let Some(siblings) = siblings {
        findings.retain(|finding| {
            finding.kind != FindingKind::UnevenResistance || finding.posts != siblings.posts
        });
        findings.push(siblings);
    }
}

fn not_tested(
    capture: &Capture,
    sheet: &LimitSheet,
    known: &RunKnowledge,
    findings: &[Finding],
    isolated: bool,
    landing: Landing,
) -> Vec<NotTested> {
    let mut all = vec![NotTested::ToChassisOrShield, NotTested::NoiseAndTraffic];
    if matches!(landing, Landing::NotTold | Landing::NotMeasured | Landing::OtherColours) {
        all.insert(0, NotTested::HowItWasLanded);
    }
    if !isolated {
        all.insert(0, NotTested::ShortsAndLeakage);
    }
    if sheet.loop_of_calculated.is_some() && known.calculated().is_none() {
        all.push(NotTested::LoopAgainstLength);
    }
    let looked = [Phase::Open, Phase::Plug].iter().any(|phase| live::looked(capture, *phase));
    if !looked && !findings.iter().any(|finding| finding.kind == FindingKind::Hazard) {
        all.push(NotTested::VoltageOnTheRun);
    }
    all
}
