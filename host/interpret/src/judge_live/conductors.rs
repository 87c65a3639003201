//! Each conductor against common: its mean, what alternates on it, and whether that only couples in.

use runproof_protocol::Post;

use super::floats::Floating;
use super::held::{by_range, verdict};
use super::places;
use super::seen::Seen;
use super::supply::COUPLED;
use super::window::rms;
use crate::judgement::{
    LiveConductor, LiveHeld, LiveLimit, LivePair, LiveReason, LiveSupply, Measured, Verdict,
};
use crate::limits::{Bounds, ConductorLimits, ConductorName, LimitSheet, Severity};

pub(super) fn conductors(
    seen: &Seen,
    sheet: &LimitSheet,
    floating: &Floating,
    supply: Option<&LiveSupply>,
    pair: Option<&LivePair>,
) -> Vec<LiveConductor> {
    let each = sheet.conductors.iter().map(|limits| {
        let mut found = measured(seen, sheet, limits);
        found.reason = match limits.name {
            _ if sheet.live.is_empty() => unjudged(seen, limits.post),
            ConductorName::Supply => supply.map_or(LiveReason::LimitUnknown, |found| found.reason),
            ConductorName::Common if floating.contains(limits.post) => LiveReason::Floats,
            // It is there where the supply is.
            ConductorName::Common => match supply.map(|found| found.verdict) {
                Some(Verdict::Pass) => LiveReason::WithinLimits,
                _ => LiveReason::NotMeasured,
            },
            ConductorName::DataPlus | ConductorName::DataMinus => {
                let [direct, alternating] = data(seen, sheet, floating, &found);
                found.direct = Some(LiveHeld { verdict: verdict(direct), reason: direct });
                found.alternating = Some(LiveHeld {
                    // What alternates on what hangs on nothing is the jig's own doing as well.
                    verdict: match alternating {
                        LiveReason::Floats => Verdict::CannotTell,
                        other => verdict(other),
                    },
                    reason: alternating,
                });
                graver(direct, alternating)
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
    let against = places::against(sheet).filter(|post| *post != limits.post);
    let posts = against.map(|against| (limits.post, against));
    let known =
        posts.filter(|posts| !seen.beyond.iter().any(|one| places::share_one(*one, *posts)));
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
        direct: None,
        alternating: None,
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

/// By a sheet without ranges for a powered run.
fn unjudged(seen: &Seen, post: Post) -> LiveReason {
    let beyond = seen.beyond.iter().any(|one| one.0 == post || one.1 == post);
    if beyond { LiveReason::BeyondRange } else { LiveReason::LimitUnknown }
}

/// The one that decides; of two alike, the first.
fn graver(one: LiveReason, other: LiveReason) -> LiveReason {
    let both = verdict(one).and(verdict(other));
    if verdict(one) == both { one } else { other }
}

/// Its mean, and what alternates on it, each held to its own range.
fn data(
    seen: &Seen,
    sheet: &LimitSheet,
    floating: &Floating,
    found: &LiveConductor,
) -> [LiveReason; 2] {
    if found.against.is_none() {
        return [LiveReason::NotMeasured; 2];
    }
    if seen.beyond.iter().any(|one| one.0 == found.post || one.1 == found.post) {
        return [LiveReason::BeyondRange; 2];
    }
    if floating.unsure == Some(found.post) {
        return [LiveReason::Undecided; 2];
    }
    if floating.contains(found.post) {
        return [LiveReason::Floats; 2];
    }
    // Against a common that floats nothing is told.
    if found.against.is_some_and(|post| floating.contains(post)) {
        return [LiveReason::NotMeasured; 2];
    }
    let held = |measured: Option<Measured>, range: &Option<Bounds>| match (range, measured) {
        (None, _) => LiveReason::LimitUnknown,
        (Some(_), None) => LiveReason::NotMeasured,
        (Some(range), Some(measured)) => by_range(sheet.decision_rule, measured, range),
    };
    let direct = held(found.direct_v, &sheet.live.data_to_common);
    // What alternates is never below nothing. Under the load the jig's star brings something of the supply, so the
    // high-impedance reading is held; but nothing is told without the other.
    let alone = found.alternating_rms_v.filter(|_| found.loaded_alternating_rms_v.is_some());
    let alone = alone.map(|one| Measured { value: one.value.max(one.u), u: one.u });
    [direct, held(alone, &sheet.live.data_alternating)]
}
