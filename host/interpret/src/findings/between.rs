//! What is between conductors that should have nothing between them: a fault, or something that is still
//! landed.

use runproof_protocol::Post;

use crate::isolation::{Isolation, Path};
use crate::judgement::{COVERAGE_FACTOR, Cause, ExplainsComplaint, Finding, FindingKind, Severity};
use crate::known::RunKnowledge;
use crate::limits::ConductorName::{Common, DataMinus, DataPlus, Supply, Wire1, Wire2};
use crate::limits::{Limit, LimitSheet};

/// One terminator of 120 Ω, or two of them, with the run before them. [judgement]
const TERMINATOR_OHM: std::ops::Range<f64> = 50.0..190.0;

/// A transformer's 24 V winding, or what it feeds, with the run before it: 150 m of 24 AWG have 32 Ω there
/// and back when they are warm. [judgement]
const WINDING_OHM: std::ops::Range<f64> = 0.2..60.0;

/// A receiver's input to common (12 kΩ is one unit load: TIA-485-A), several of them, or what biases
/// them. [judgement]
const RECEIVER_OHM: std::ops::Range<f64> = 1_000.0..30_000.0;

/// A device loads both data conductors alike; damp hardly does. [judgement]
const ALIKE: f64 = 0.1;

pub(crate) fn of_isolation(
    isolation: &Isolation,
    sheet: &LimitSheet,
    known: &RunKnowledge,
) -> Vec<Finding> {
    let receiver = receiver(isolation, sheet).filter(|_| !known.lifted);
    let explained =
        |path: &Path| receiver.as_ref().is_some_and(|(_, paths)| paths.contains(&path.posts));
    let mut findings: Vec<Finding> = isolation
        .shorted()
        .into_iter()
        .map(|group| short(group, isolation, sheet, known))
        .collect();
    let leaks = isolation.paths.iter().filter(|path| !path.is_short() && !path.at_least);
    findings.extend(leaks.filter(|path| !explained(path)).filter_map(|path| leak(path, sheet)));
    findings.extend(receiver.map(|(finding, _)| finding));
    findings
}

/// Conductors that touch; of just two it may be a device.
fn short(
    group: Vec<Post>,
    isolation: &Isolation,
    sheet: &LimitSheet,
    known: &RunKnowledge,
) -> Finding {
    let path = isolation.among(&group).max_by(|a, b| a.ohm.total_cmp(&b.ohm));
    let ohm = path.map_or(0.0, |path| path.ohm);
    let is = |a, b| group.len() == 2 && [a, b].iter().all(|name| on(sheet, *name, &group));
    let device = match ohm {
        _ if known.lifted => None,
        _ if (is(DataPlus, DataMinus) || is(Wire1, Wire2)) && TERMINATOR_OHM.contains(&ohm) => {
            Some(Cause::Terminator)
        }
        _ if is(Supply, Common) && WINDING_OHM.contains(&ohm) => Some(Cause::Winding),
        _ => None,
    };
    let mut finding = match device {
        Some(_) => Finding::new(FindingKind::SomethingConnected, Severity::CannotTell),
        None => Finding::new(FindingKind::Short, Severity::Fail),
    };
    finding.cause = device;
    finding.explains_complaint = ExplainsComplaint::Yes;
    valued(finding, group, ohm, path.map(|path| path.u_ohm))
}

/// A poor path, by the sheet's limits: a fail when it is surely below one, a note when it may be below the
/// other.
fn leak(path: &Path, sheet: &LimitSheet) -> Option<Finding> {
    let (limit, severity) = beyond(path, sheet)?;
    let mut finding = Finding::new(FindingKind::Leakage, severity);
    finding.explains_complaint = limit.explains_complaint;
    Some(valued(finding, vec![path.posts.0, path.posts.1], path.ohm, Some(path.u_ohm)))
}

/// The limit that a path is beyond, or too near to, and what that means; none of a good one.
pub(crate) fn beyond<'a>(path: &Path, sheet: &'a LimitSheet) -> Option<(&'a Limit, Severity)> {
    let u_ohm = COVERAGE_FACTOR * path.u_ohm;
    let (fail, note) = (&sheet.leakage.fail_below, &sheet.leakage.note_below);
    if path.ohm + u_ohm < fail.value {
        Some((fail, fail.severity))
    } else if path.ohm - u_ohm < fail.value {
        Some((fail, fail.severity.max(Severity::CannotTell)))
    } else if path.ohm - u_ohm < note.value {
        Some((note, note.severity))
    } else {
        None
    }
}

/// Both data conductors loaded alike to common: the finding, and the paths that it explains.
fn receiver(isolation: &Isolation, sheet: &LimitSheet) -> Option<(Finding, Vec<(Post, Post)>)> {
    let [plus, minus, common] = [DataPlus, DataMinus, Common].map(|name| sheet.post_of(name));
    let to_common = [plus?, minus?].map(|data| isolation.between(data, common?));
    let (one, other) = (to_common[0]?, to_common[1]?);
    let is_load = |path: &Path| !path.at_least && RECEIVER_OHM.contains(&path.ohm);
    let is_alike = (one.ohm - other.ohm).abs() <= ALIKE * one.ohm.max(other.ohm);
    if !(is_load(one) && is_load(other) && is_alike) {
        return None;
    }
    let mut finding = Finding::new(FindingKind::SomethingConnected, Severity::CannotTell);
    finding.cause = Some(Cause::Receiver);
    let posts = vec![plus?, minus?, common?];
    let ohm = (one.ohm + other.ohm) / 2.0;
    Some((valued(finding, posts, ohm, None), vec![one.posts, other.posts]))
}

pub(crate) fn valued(finding: Finding, posts: Vec<Post>, ohm: f64, u_ohm: Option<f64>) -> Finding {
    let finding = finding.ohms(ohm, u_ohm.map(|u_ohm| COVERAGE_FACTOR * u_ohm));
    Finding { posts, ..finding }
}

fn on(sheet: &LimitSheet, name: crate::limits::ConductorName, posts: &[Post]) -> bool {
    sheet.post_of(name).is_some_and(|post| posts.contains(&post))
}
