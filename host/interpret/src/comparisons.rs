//! Findings that take more than one conductor, or the run as it was told: sibling difference, loop,
//! length, a limit that is not known.

use runproof_protocol::Post;

use crate::copper::{Calculated, Gauge};
use crate::held::Held;
use crate::judgement::{
    COVERAGE_FACTOR, Conductor, ExplainsComplaint, Finding, FindingKind, Loop, Reason, Severity,
    Unit,
};
use crate::known::RunKnowledge;
use crate::limits::LimitSheet;
use crate::run::Leg;
use crate::survey::Survey;

/// The conductor with the most against the one with the least; told only where all four are known.
pub(crate) fn siblings(sheet: &LimitSheet, survey: &Survey) -> Option<Finding> {
    if survey.legs.len() < sheet.conductors.len() {
        return None;
    }
    let by_ohm = |a: &&Leg, b: &&Leg| a.ohm.total_cmp(&b.ohm);
    let least = survey.legs.iter().min_by(by_ohm)?;
    let most = survey.legs.iter().max_by(by_ohm)?;
    let held = Held::beyond_sibling(sheet, least.ohm)?;
    let ohm = most.ohm - least.ohm;
    let u_ohm = most.budget.combined_ohm().hypot(least.budget.combined_ohm());
    let reason = held.decide(ohm, COVERAGE_FACTOR * u_ohm);
    let kind = match reason {
        Reason::BeyondLimit => FindingKind::SiblingDifference,
        _ => FindingKind::TooCloseToSiblingDifference,
    };
    let mut finding = of_ohms(kind, &held, held.gravity(reason)?, (ohm, u_ohm));
    finding.posts = vec![most.post];
    Some(finding)
}

/// A loop that is beyond its limit, or too close to it.
pub(crate) fn loop_beyond((row, held): &(Loop, Held)) -> Option<Finding> {
    let kind = match row.reason {
        Reason::BeyondLimit => FindingKind::HighLoopResistance,
        _ => FindingKind::TooCloseToLoopLimit,
    };
    let measured = (row.resistance_ohm?, row.expanded_uncertainty_ohm? / COVERAGE_FACTOR);
    let mut finding = of_ohms(kind, held, held.gravity(row.reason)?, measured);
    finding.posts = row.posts.to_vec();
    Some(finding)
}

/// The run is longer, by what was told, than the sheet allows.
pub(crate) fn too_long(sheet: &LimitSheet, known: &RunKnowledge) -> Option<Finding> {
    let (limit, length) = (sheet.maximum_length.as_ref()?, known.length?);
    if length.metres() <= limit.value {
        return None;
    }
    let mut finding = Finding::new(FindingKind::TooLong, limit.severity);
    finding.value = Some(length.metres());
    finding.unit = Some(Unit::Metre);
    finding.explains_complaint = limit.explains_complaint;
    Some(finding)
}

/// Cores as thick as that may carry mains.
pub(crate) fn thick_wire(known: &RunKnowledge) -> Option<Finding> {
    known.gauge.filter(Gauge::may_be_mains)?;
    let mut finding = Finding::new(FindingKind::ThickWire, Severity::Note);
    finding.explains_complaint = ExplainsComplaint::Unlikely;
    Some(finding)
}

/// Of four conductors and every check one is beyond its uncertainty now and then; beyond so many of it
/// none is. (judgement)
const SURELY: f64 = 2.0;

/// Conductors have less, surely, than the wire that was told can have: it is another. Where limits
/// follow from it they say nothing.
pub(crate) fn less_than_wire(
    sheet: &LimitSheet,
    wire: Option<Calculated>,
    conductors: &[Conductor],
    loops: &[Loop],
) -> Option<Finding> {
    let least_ohm = wire?.least_ohm;
    let is_less = |ohm: Option<f64>, u_ohm: Option<f64>, least_ohm: f64| {
        ohm.zip(u_ohm).is_some_and(|(ohm, u_ohm)| ohm + SURELY * u_ohm < least_ohm)
    };
    let one_by_one = conductors
        .iter()
        .filter(|one| is_less(one.resistance_ohm, one.expanded_uncertainty_ohm, least_ohm));
    let mut less: Vec<(Vec<Post>, Option<f64>)> =
        one_by_one.map(|one| (vec![one.post], one.resistance_ohm)).collect();
    if conductors.is_empty() {
        let around = loops.iter().filter(|row| {
            is_less(row.resistance_ohm, row.expanded_uncertainty_ohm, 2.0 * least_ohm)
        });
        less.extend(around.map(|row| (row.posts.to_vec(), row.resistance_ohm)));
    }
    let (_, first_ohm) = less.first()?;
    let follows = sheet.beyond_wire.is_some() || sheet.loop_of_calculated.is_some();
    let severity = if follows { Severity::CannotTell } else { Severity::Note };
    let mut finding = Finding::new(FindingKind::LessThanWire, severity);
    finding.value = *first_ohm;
    finding.unit = Some(Unit::Ohm);
    finding.posts = less.iter().flat_map(|(posts, _)| posts.iter().copied()).collect();
    finding.explains_complaint = ExplainsComplaint::Unlikely;
    Some(finding)
}

/// Conductors were measured, but what they may have takes a wire that was not told.
pub(crate) fn limit_unknown(conductors: &[Conductor]) -> Option<Finding> {
    let unknown = conductors.iter().any(|one| one.reason == Reason::LimitUnknown);
    unknown.then(|| {
        let mut finding = Finding::new(FindingKind::LimitUnknown, Severity::CannotTell);
        finding.explains_complaint = ExplainsComplaint::Unlikely;
        finding
    })
}

fn of_ohms(
    kind: FindingKind,
    held: &Held,
    severity: Severity,
    (ohm, u_ohm): (f64, f64),
) -> Finding {
    let mut finding = Finding::new(kind, severity).ohms(ohm, Some(COVERAGE_FACTOR * u_ohm));
    finding.explains_complaint = held.explains_complaint;
    finding
}
