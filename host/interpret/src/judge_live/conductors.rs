//! Each conductor against common: its mean, what alternates on it, and whether that only couples in.

use runproof_protocol::Post;

use super::held::{by_range, verdict};
use super::pair::touches;
use super::seen::Seen;
use super::supply::COUPLED;
use super::window::rms;
use crate::judgement::{
    LiveConductor, LiveLimit, LivePair, LiveReason, LiveSupply, Measured, Verdict,
};
use crate::limits::{Bounds, ConductorLimits, ConductorName, LimitSheet, Severity};

/// The conductor that the others are told against.
pub(super) fn against(sheet: &LimitSheet) -> Option<Post> {
    sheet.post_of(ConductorName::Common).or_else(|| sheet.post_of(ConductorName::Wire2))
}

pub(super) fn conductors(
    seen: &Seen,
    sheet: &LimitSheet,
    floating: &[Post],
    supply: Option<&LiveSupply>,
    pair: Option<&LivePair>,
) -> Vec<LiveConductor> {
    let each = sheet.conductors.iter().map(|limits| {
        let mut found = measured(seen, sheet, limits);
        found.reason = match limits.name {
            ConductorName::Supply => supply.map_or(LiveReason::LimitUnknown, |found| found.reason),
            ConductorName::Common if floating.contains(&limits.post) => LiveReason::Floats,
            // It is there where the supply is.
            ConductorName::Common => match supply.map(|found| found.verdict) {
                Some(Verdict::Pass) => LiveReason::WithinLimits,
                _ => LiveReason::NotMeasured,
            },
            ConductorName::DataPlus | ConductorName::DataMinus => {
                data(seen, sheet, floating, &found)
            }
            ConductorName::Wire1 | ConductorName::Wire2 => {
                pair.map_or(LiveReason::LimitUnknown, |found| found.reason)
            }
        };
        found.verdict = verdict(found.reason);
        found
    });
    each.collect()
}

fn measured(seen: &Seen, sheet: &LimitSheet, limits: &ConductorLimits) -> LiveConductor {
    let against = against(sheet).filter(|post| *post != limits.post);
    let posts = against.map(|against| (limits.post, against));
    let known = posts.filter(|posts| !seen.beyond.iter().any(|one| touches(*one, *posts)));
    let [direct_v, loaded_direct_v] =
        [&seen.alone, &seen.loaded].map(|window| known.and_then(|posts| window.direct(posts)));
    let [alternating_rms_v, loaded_alternating_rms_v] =
        [&seen.alone, &seen.loaded].map(|window| known.and_then(|posts| window.alternating(posts)));
    let ranges = [&sheet.live.data_to_common, &sheet.live.data_alternating];
    let is_data = matches!(limits.name, ConductorName::DataPlus | ConductorName::DataMinus);
    let ranges = ranges.into_iter().flatten().filter(|_| is_data);
    LiveConductor {
        name: limits.name,
        post: limits.post,
        against,
        direct_v,
        alternating_rms_v,
        loaded_direct_v,
        loaded_alternating_rms_v,
        couples_in: alternating_rms_v
            .zip(known)
            .and_then(|(alone, posts)| couples_in(seen, alone, posts)),
        limits: ranges.map(|range| LiveLimit::of(range, Severity::Fail)).collect(),
        verdict: Verdict::CannotTell,
        reason: LiveReason::NotMeasured,
    }
}

/// Whether what alternates is another under the load: it collapses, or the load's star, which brings something of the
/// supply, moves it. What comes by wire stays as it is. None where nothing alternates.
fn couples_in(seen: &Seen, alone: Measured, posts: (Post, Post)) -> Option<bool> {
    let [before, under] = [&seen.alone, &seen.loaded].map(|window| window.between(posts));
    let under = under?;
    let before = super::seen::moved(&before?, &seen.alone.frequencies, &seen.loaded.frequencies);
    let moved: Vec<f64> = under.iter().zip(&before).skip(1).map(|(a, b)| a - b).collect();
    let (moved_v, stays_v) = (rms(&moved), (1.0 - COUPLED) * rms(&before[1..]));
    (alone.value > 2.0 * alone.u).then_some(moved_v >= stays_v)
}

fn data(seen: &Seen, sheet: &LimitSheet, floating: &[Post], found: &LiveConductor) -> LiveReason {
    if found.against.is_none() {
        return LiveReason::NotMeasured;
    }
    if seen.beyond.iter().any(|one| one.0 == found.post || one.1 == found.post) {
        return LiveReason::BeyondRange;
    }
    if floating.contains(&found.post) {
        return LiveReason::Floats;
    }
    // Against a common that floats nothing is told.
    if found.against.is_some_and(|post| floating.contains(&post)) {
        return LiveReason::NotMeasured;
    }
    let (Some(to_common), Some(alternating)) =
        (&sheet.live.data_to_common, &sheet.live.data_alternating)
    else {
        return LiveReason::LimitUnknown;
    };
    let rule = sheet.decision_rule;
    let held = |measured: Option<Measured>, range: &Bounds| {
        measured.map_or(LiveReason::NotMeasured, |measured| by_range(rule, measured, range))
    };
    // What alternates is never below nothing.
    let alternates = |measured: Option<Measured>| {
        held(measured.map(|one| Measured { value: one.value.max(one.u), u: one.u }), alternating)
    };
    let under_load = alternates(found.loaded_alternating_rms_v);
    let alone = alternates(found.alternating_rms_v);
    match held(found.direct_v, to_common) {
        LiveReason::WithinLimits => {}
        other => return other,
    }
    match (alone, under_load) {
        (_, LiveReason::NotMeasured) => LiveReason::NotMeasured,
        // What alternates there beyond that the load's star brings from the supply.
        (LiveReason::WithinLimits, _) => LiveReason::WithinLimits,
        // It collapses, or moves: a remark, no fault of this conductor.
        (_, LiveReason::WithinLimits) => LiveReason::WithinLimits,
        _ if found.couples_in == Some(true) => LiveReason::WithinLimits,
        (_, other) => other,
    }
}
