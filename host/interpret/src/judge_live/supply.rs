//! The supply: what it is, how much, whether it stays under the load.

use runproof_protocol::Post;

use super::floats::Floating;
use super::held::{by_range, verdict};
use super::places;
use super::seen::Seen;
use super::window::Window;
use crate::judgement::{LiveLimit, LiveReason, LiveSupply, Measured, SupplyKind, Verdict};
use crate::limits::{LimitSheet, Severity, SupplyForm};

/// Less than this is no supply. [judgement]
pub(super) const NOTHING_V: f64 = 1.0;
/// What couples in leaves no more than this under the load: a nanofarad at 60 Hz is 2.7 MΩ beside 47 kΩ. [judgement]
pub(super) const COUPLED: f64 = 0.25;
/// What is not explained may be so much of it. [judgement]
const UNEXPLAINED: f64 = 0.2;
/// So far from 50 or 60 Hz a mains can be. [judgement]
const MAINS_OFF_HERTZ: f64 = 2.0;

pub(super) fn supply(seen: &Seen, sheet: &LimitSheet, floating: &Floating) -> Option<LiveSupply> {
    let posts = places::supply(sheet)?;
    let [alone, loaded] = [&seen.alone, &seen.loaded].map(|window| all(window, posts));
    let direct_v = seen.alone.direct(posts);
    let mut found = LiveSupply {
        kind: SupplyKind::Unknown,
        nominal_hertz: None,
        rms_v: alone,
        direct_v,
        alternating_rms_v: seen.alone.alternating(posts),
        hertz: None,
        loaded_rms_v: loaded,
        limits: limits(sheet),
        verdict: Verdict::CannotTell,
        reason: LiveReason::NotMeasured,
    };
    let (reason, kind) = told(seen, sheet, floating, posts, &found);
    // Where the sheet expects none, that there is none is no fault.
    let expected = sheet.live.supply.is_some() || reason == LiveReason::BeyondRange;
    let reason = if expected { reason } else { LiveReason::LimitUnknown };
    found.kind = kind;
    if kind == SupplyKind::Unknown && reason == LiveReason::BeyondRange {
        (found.rms_v, found.direct_v) = (None, None);
        (found.alternating_rms_v, found.loaded_rms_v) = (None, None);
    }
    if matches!(kind, SupplyKind::AlternatingMains | SupplyKind::HalfWave | SupplyKind::FullWave) {
        found.hertz = seen.hertz;
        found.nominal_hertz = seen.hertz.and_then(|hertz| nominal(hertz.value));
    }
    (found.reason, found.verdict) = (reason, verdict(reason));
    Some(found)
}

/// All there is, with what the fit leaves beyond the converter's noise: harmonics of rectifiers have no end.
fn all(window: &Window, posts: (Post, Post)) -> Option<Measured> {
    let fitted = window.all(posts)?;
    let beyond_v = beyond(window, posts)?;
    let value = fitted.value.hypot(beyond_v);
    Some(Measured { value, u: fitted.u + (value - fitted.value) })
}

/// What the fit leaves beyond noise, rms.
fn beyond(window: &Window, posts: (Post, Post)) -> Option<f64> {
    let left_v = window.left_v(posts)?;
    Some(if left_v > 4.0 * window.converters_noise_v(posts) { left_v } else { 0.0 })
}

fn limits(sheet: &LimitSheet) -> Vec<LiveLimit> {
    let judged = sheet.live.supply.as_ref().map(|range| LiveLimit::of(range, Severity::Fail));
    let noted = sheet.live.supply_noted.as_ref().map(|range| LiveLimit::of(range, Severity::Note));
    judged.into_iter().chain(noted).collect()
}

fn told(
    seen: &Seen,
    sheet: &LimitSheet,
    floating: &Floating,
    posts: (Post, Post),
    found: &LiveSupply,
) -> (LiveReason, SupplyKind) {
    if seen.beyond.iter().any(|beyond| places::share_one(*beyond, posts)) {
        return (LiveReason::BeyondRange, SupplyKind::Unknown);
    }
    let Some(alone) = found.rms_v else {
        return (LiveReason::NotMeasured, SupplyKind::Unknown);
    };
    if floating.contains(posts.1) {
        return (LiveReason::NotMeasured, SupplyKind::Unknown);
    }
    if alone.most() < NOTHING_V || floating.contains(posts.0) {
        return (LiveReason::Nothing, SupplyKind::None);
    }
    if let Some(loaded) = found.loaded_rms_v
        && loaded.most() <= COUPLED * alone.value
    {
        return (LiveReason::CouplesIn, SupplyKind::None);
    }
    let kind = kind(seen, posts, alone);
    let reason = match (sheet.live.supply_kind, &sheet.live.supply, kind) {
        (_, _, SupplyKind::Other | SupplyKind::Unknown) => LiveReason::NotMeasured,
        (None, _, _) | (_, None, _) => LiveReason::LimitUnknown,
        (Some(SupplyForm::Alternating), Some(range), SupplyKind::AlternatingMains) => {
            held(sheet, found.rms_v, found, range)
        }
        (Some(SupplyForm::Direct), Some(range), SupplyKind::Direct | SupplyKind::FullWave) => {
            held(sheet, found.direct_v, found, range)
        }
        _ => LiveReason::OtherKind,
    };
    (reason, kind)
}

/// Within its range alone, and not out of it under the load.
fn held(
    sheet: &LimitSheet,
    measured: Option<Measured>,
    found: &LiveSupply,
    range: &crate::limits::Bounds,
) -> LiveReason {
    let (Some(measured), Some(loaded)) = (measured, found.loaded_rms_v) else {
        return LiveReason::NotMeasured;
    };
    let alone = by_range(sheet.decision_rule, measured, range);
    if alone == LiveReason::WithinLimits && loaded.most() < range.least {
        return LiveReason::BelowLimit;
    }
    alone
}

/// Half waves have 2/π of their fundamental as their mean, and 4/3π as second harmonic; full waves 2/3 of their mean as
/// that (Fourier series of rectified sines).
pub(super) fn kind(seen: &Seen, posts: (Post, Post), all: Measured) -> SupplyKind {
    let window = &seen.alone;
    let (Some(direct), Some(alternating)) = (window.direct(posts), window.alternating(posts))
    else {
        return SupplyKind::Unknown;
    };
    let left_v = beyond(window, posts).unwrap_or(f64::INFINITY);
    if left_v > UNEXPLAINED * all.value {
        return SupplyKind::Other;
    }
    let mean = direct.value.abs();
    if alternating.value.hypot(left_v) <= 0.1 * mean {
        return SupplyKind::Direct;
    }
    if seen.waves.hertz.is_none_or(|hertz| nominal(hertz).is_none()) {
        return SupplyKind::Other;
    }
    let wave = |harmonic: u8| {
        let n = seen.waves.harmonics.iter().position(|other| *other == harmonic);
        let parts = n.and_then(|n| window.wave(posts, n));
        parts.map_or(0.0, |[cosine, sine]| cosine.hypot(sine))
    };
    let (first, second) = (wave(1), wave(2));
    let others = second.hypot(wave(3)).hypot(wave(4));
    if first > 0.0 && mean <= 0.2 * first && others <= 0.3 * first {
        SupplyKind::AlternatingMains
    } else if (0.5..0.8).contains(&(mean / first)) && (0.3..0.55).contains(&(second / first)) {
        SupplyKind::HalfWave
    } else if first <= 0.2 * second && (0.45..0.85).contains(&(second / mean)) {
        SupplyKind::FullWave
    } else {
        SupplyKind::Other
    }
}

fn nominal(hertz: f64) -> Option<u8> {
    [50_u8, 60].into_iter().find(|one| (hertz - f64::from(*one)).abs() <= MAINS_OFF_HERTZ)
}
