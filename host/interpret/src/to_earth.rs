//! The test to earth: all cores together on post 1 against bare metal on post 2 and a shield's drain on post 3.
//!
//! Only the open phase is measured. A clip that is not on its metal reads like perfect insulation, so nothing
//! passes unless it was shown, before and after, that it is.

mod contact;
mod found;
mod shield;

use contact::shown;
pub use contact::shows_contact;
use found::{Read, read};
use runproof_protocol::{Phase, Post};

use crate::capture::{Capture, Entry, ToEarth as Clipped};
use crate::completeness;
use crate::findings::add_coupled;
use crate::isolation::{Isolation, OHM_MAX};
use crate::judgement::{
    COVERAGE_FACTOR, Cause, Finding, FindingKind, Isolation as Stated, Judgement, Landing, Misses,
    NotTested, Placed, SheetName, ToEarth, Verdict,
};
use crate::limits::LimitSheet;
use crate::live;
use crate::obstacle::Obstacle;
use crate::settled;

/// Where all cores are held together.
pub const CORES: Post = Post::P1;

/// On bare metal: chassis, conduit, or equipment earth.
pub const METAL: Post = Post::P2;

/// On a shield's drain wire, where there is one.
pub const SHIELD: Post = Post::P3;

pub(crate) fn judged(capture: &Capture, sheet: &LimitSheet, clipped: Clipped) -> Judgement {
    let against: Vec<Post> = [METAL].into_iter().chain(clipped.shield.map(|_| SHIELD)).collect();
    let contact_shown: Vec<Post> =
        against.iter().copied().filter(|post| shown(capture, *post)).collect();
    let isolation = alone(capture).and_then(|()| Isolation::of_joined(capture));
    let unsteady = |found: &&Obstacle| found.kind == FindingKind::Unsteady;
    let shorts = isolation.as_ref().err().filter(unsteady);
    let shorts = shorts.and_then(|_| Isolation::shorts_alone(capture));
    let mut findings: Vec<Finding> =
        isolation.as_ref().err().cloned().map(Finding::from).into_iter().collect();
    let Read { found, verdicts, bonded } = match isolation.as_ref().ok() {
        Some(isolation) => read(isolation, sheet, clipped, &contact_shown),
        None => found::shorts(shorts.as_ref(), sheet, clipped),
    };
    findings.extend(found);
    add_coupled(&mut findings, capture);
    settled::complete(&mut findings, capture);
    settled::order(&mut findings);
    let verdict = settled::verdicts(&findings).chain(verdicts.iter().map(|(_, one)| *one));
    let verdict = verdict.fold(Verdict::Pass, Verdict::and);
    let of = |post| verdicts.iter().find(|(one, _)| *one == post).map(|(_, verdict)| *verdict);
    let stated = isolation.as_ref().map(Isolation::stated).unwrap_or_default();
    let in_use = |post: &Post| *post == CORES || against.contains(post);
    let stated: Vec<_> = stated.into_iter().filter(|one| one.posts.iter().all(in_use)).collect();
    let all_shown = contact_shown.len() == against.len() && isolation.is_ok();
    let fails = |post: &Post| of(*post) == Some(Verdict::Fail);
    let is_tested = |post: &Post| isolation.is_ok() && contact_shown.contains(post) || fails(post);
    let tested = against.iter().all(is_tested);
    Judgement {
        verdict,
        conductors: vec![],
        loops: vec![],
        calculated: None,
        misses: Misses { joint_ohm: None, leak_ohm: all_shown.then(|| least_unseen_ohm(&stated)) },
        isolation: stated,
        capacitance: vec![],
        looks_long: None,
        placed: Placed::default(),
        landing: Landing::NotTold,
        copper: None,
        not_tested: not_tested(capture, clipped, tested, &findings),
        findings,
        coverage_factor: COVERAGE_FACTOR,
        decision_rule: sheet.decision_rule,
        sheet: SheetName { name: sheet.name.clone(), version: sheet.version.clone() },
        to_earth: Some(ToEarth {
            to_metal: of(METAL).unwrap_or(Verdict::CannotTell),
            to_shield: clipped.shield.map(|_| of(SHIELD).unwrap_or(Verdict::CannotTell)),
            drain: clipped.shield,
            bonded,
            contact_shown,
            fail_below_ohm: sheet.leakage.fail_below.value,
            note_below_ohm: sheet.leakage.note_below.value,
        }),
        zero: None,
        fit: None,
    }
}

/// What was clipped so has no plug phase, and is said once.
fn alone(capture: &Capture) -> Result<(), Obstacle> {
    let clipped = |entry: &&Entry| matches!(entry, Entry::ToEarth(_));
    let once = capture.entries.iter().filter(clipped).count() == 1;
    if once && !completeness::begun(capture, Phase::Plug) {
        return Ok(());
    }
    Err(Obstacle::incomplete(Cause::Contradictory))
}

/// The least path that nothing was seen of.
fn least_unseen_ohm(isolation: &[Stated]) -> f64 {
    let unseen = isolation.iter().filter(|one| one.at_least && one.posts.contains(&CORES));
    unseen.map(|one| one.resistance_ohm).fold(OHM_MAX, f64::min)
}

fn not_tested(
    capture: &Capture,
    clipped: Clipped,
    tested: bool,
    findings: &[Finding],
) -> Vec<NotTested> {
    let mut all = vec![NotTested::EachConductor];
    if !tested {
        all.insert(0, NotTested::ToChassisOrShield);
    } else if clipped.shield.is_none() {
        all.push(NotTested::ToShield);
    }
    all.push(NotTested::NoiseAndTraffic);
    let hazard = findings.iter().any(|finding| finding.kind == FindingKind::Hazard);
    if !live::looked(capture, Phase::Open) && !hazard {
        all.push(NotTested::VoltageOnTheRun);
    }
    all
}
