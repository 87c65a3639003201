//! The supply under a load of the jig's own: by how much it gives way, and what a control is left with.

mod left;

use left::left;
use runproof_protocol::{Phase, Post, Step};

use super::held::{by_range, verdict};
use super::seen::Seen;
use super::{look, places};
use crate::capture::Capture;
use crate::completeness;
use crate::judgement::budget::coverage;
use crate::judgement::{
    AtControl, LiveFinding, LiveFindingKind, LiveReason, LiveSupply, LiveUnit, LoadUnknown,
    Measured, SupplyKind, SupplyLoad, Verdict,
};
use crate::known::LiveKnowledge;
use crate::limits::{ConductorName, LimitSheet, Quantity, Severity, SupplyForm};

/// The load is anywhere within this of its value (`capture-format.md`).
const LOAD: f64 = 0.05;
/// What leaves less than this under the load feeds nothing: more than a kilohm stands before it. [judgement]
const LEAST: f64 = 0.1;
/// The posts that the load is put across.
const POSTS: (Post, Post) = (Post::P3, Post::P4);
/// Which difference they are.
const CHANNEL: usize = 1;
/// Readings of the loaded step.
const WHOLE: usize = 32;

/// What the phase showed; none where there is none.
pub(super) fn supply_load(
    capture: &Capture,
    sheet: &LimitSheet,
    seen: &Seen,
    supply: Option<&LiveSupply>,
    known: &LiveKnowledge,
) -> Option<SupplyLoad> {
    if !completeness::begun(capture, Phase::SupplyLoad) {
        return None;
    }
    let load_ohm = capture.head.jig.supply_load_ohm;
    let mut found = SupplyLoad {
        load_ohm,
        alone_v: None,
        loaded_v: None,
        load_a: None,
        source_ohm: None,
        unknown: None,
        control: None,
    };
    let load = load_ohm.ok_or(LoadUnknown::NotFinished);
    match load.and_then(|ohm| Ok((ohm, gives_way(capture, sheet, seen, supply)?))) {
        Err(unknown) => found.unknown = Some(unknown),
        Ok((load_ohm, (alone_v, left))) => {
            let loaded_v = left.value * alone_v.value;
            let source_ohm = source(load_ohm, left);
            let u = (left.value * alone_v.u).hypot(left.u * alone_v.value);
            found.alone_v = Some(alone_v);
            found.loaded_v = Some(Measured { value: loaded_v, u });
            found.load_a = Some(loaded_v.abs() / load_ohm);
            found.source_ohm = Some(source_ohm);
            let is_other = supply.is_none_or(|one| one.reason == LiveReason::OtherKind);
            found.control = at_control(sheet, alone_v, source_ohm, known).filter(|_| !is_other);
        }
    }
    Some(found)
}

/// What the supply is alone, and the part of it that is left under the load.
fn gives_way(
    capture: &Capture,
    sheet: &LimitSheet,
    seen: &Seen,
    supply: Option<&LiveSupply>,
) -> Result<(Measured, Measured), LoadUnknown> {
    completeness::check(capture, Phase::SupplyLoad).map_err(|_| LoadUnknown::NotFinished)?;
    let posts = places::supply(sheet).ok_or(LoadUnknown::OtherPosts)?;
    if posts != POSTS && posts != (POSTS.1, POSTS.0) {
        return Err(LoadUnknown::OtherPosts);
    }
    let supply = supply.filter(|one| one.kind != SupplyKind::None);
    let supply = supply.filter(|one| one.kind != SupplyKind::Unknown);
    let supply = supply.ok_or(LoadUnknown::NoSupply)?;
    let alone_v = match (sheet.live.supply_kind, supply.kind) {
        (Some(SupplyForm::Direct), SupplyKind::Direct | SupplyKind::FullWave) => supply.direct_v,
        _ => supply.rms_v,
    };
    let alone_v = alone_v.ok_or(LoadUnknown::NoSupply)?;
    let begin_us = capture.readings(Phase::Live).map(|one| one.at.0).min().unwrap_or(0);
    let front = &seen.alone.front;
    let under = &front.samples(capture, Step::SupplyLoaded, begin_us)[CHANNEL];
    if look::readings(capture, Step::SupplyLoaded).next().is_none() {
        return Err(LoadUnknown::TooMuch);
    }
    if under.len() < WHOLE {
        return Err(LoadUnknown::NotFinished);
    }
    let alone = seen.alone.fits[CHANNEL].as_ref().ok_or(LoadUnknown::NotFinished)?;
    let left = left(alone, &seen.alone.frequencies, under).ok_or(LoadUnknown::Unsteady)?;
    if left.value < LEAST { Err(LoadUnknown::NoSupply) } else { Ok((alone_v, left)) }
}

/// Ohm's law: R = R_load (1 − k) / k.
fn source(load_ohm: f64, left: Measured) -> Measured {
    let value = (load_ohm * (1.0 - left.value) / left.value).max(0.0);
    let by_left = load_ohm * left.u / left.value.powi(2);
    Measured { value, u: coverage::half_width(LOAD * value, by_left / coverage::NORMAL) }
}

/// By the current that the sheet, or the user, says a control takes; none where nobody does.
fn at_control(
    sheet: &LimitSheet,
    alone_v: Measured,
    source_ohm: Measured,
    known: &LiveKnowledge,
) -> Option<AtControl> {
    let Quantity { value: current_a, source, .. } =
        known.control_current.as_ref().or(sheet.live.control_current.as_ref())?;
    let less = |volts: Measured, ohm: Measured| {
        let value = (volts.value.abs() - current_a * ohm.value).max(0.0);
        Measured { value, u: volts.u.hypot(current_a * ohm.u) }
    };
    let here_v = less(alone_v, source_ohm);
    let far_v = known.run_ohm.map(|ohm| less(here_v, ohm));
    let reason = match &sheet.live.supply {
        Some(range) => by_range(sheet.decision_rule, far_v.unwrap_or(here_v), range),
        None => LiveReason::LimitUnknown,
    };
    // That there is too much is told of the supply as it stands.
    let reason = if reason == LiveReason::AboveLimit { LiveReason::WithinLimits } else { reason };
    Some(AtControl {
        current_a: *current_a,
        source: source.clone(),
        here_v,
        run_ohm: known.run_ohm,
        far_v,
        verdict: verdict(reason),
        reason,
    })
}

/// What follows: it sags, or nobody can tell.
pub(super) fn finding(
    found: &SupplyLoad,
    sheet: &LimitSheet,
    stands: Verdict,
) -> Option<LiveFinding> {
    let name = ConductorName::Supply;
    let whom = |finding: LiveFinding| LiveFinding {
        conductors: vec![name],
        posts: sheet.post_of(name).into_iter().collect(),
        ..finding
    };
    if found.unknown == Some(LoadUnknown::NotFinished) {
        let finding = LiveFinding::because(crate::judgement::LiveCause::NotFinished);
        return Some(whom(finding));
    }
    // Of a supply that is out of its range as it stands, that is told.
    let control = found.control.as_ref().filter(|_| stands != Verdict::Fail)?;
    let told = control.far_v.unwrap_or(control.here_v);
    let (kind, severity) = match control.verdict {
        Verdict::Pass => return None,
        Verdict::Fail => (LiveFindingKind::SupplySags, Severity::Fail),
        Verdict::CannotTell => (LiveFindingKind::TooCloseToLimit, Severity::CannotTell),
    };
    let unit = match sheet.live.supply_kind {
        Some(SupplyForm::Direct) => LiveUnit::VoltDirect,
        _ => LiveUnit::VoltRms,
    };
    let finding = LiveFinding::new(kind, severity);
    Some(whom(LiveFinding {
        value: Some(told.value),
        u: Some(told.u),
        unit: Some(unit),
        ..finding
    }))
}
