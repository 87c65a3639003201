//! The data pair: its bias, which way round it is, and whether someone sends.

use runproof_protocol::Post;

use super::displaced::Displaced;
use super::fit::Sample;
use super::floats::Floating;
use super::held::verdict;
use super::look::CHANNELS;
use super::places;
use super::seen::Seen;
use crate::judgement::{
    Activity, LiveLimit, LivePair, LiveReason, LiveZeroStatus, Measured, PairSign, Verdict,
};
use crate::limits::{Bounds, LimitSheet, Severity};

/// More than this beyond bias and mains is traffic; less is none. [judgement]
const BUSY_V: f64 = 0.03;
const IDLE_V: f64 = 0.015;
/// So many readings, one after another, within so much of each other show the pair between two messages. [judgement]
const QUIET_READINGS: usize = 6;
const QUIET_V: f64 = 0.03;
/// Nearer to the threshold than this nothing is decided, with a fresh zero; and so much more without. [judgement]
const BAND_V: f64 = 0.015;
const BAND_WITHOUT_ZERO_V: f64 = 0.02;
/// A bias that the load takes half of hangs on something of many kilohms: nothing biases the pair. [judgement]
const LEFT: f64 = 0.5;

pub(super) fn pair(
    seen: &Seen,
    sheet: &LimitSheet,
    floating: &Floating,
    displaced: Option<&Displaced>,
) -> Option<LivePair> {
    let (plus, minus) = places::pair(sheet)?;
    let spread_v = spread(seen, (plus, minus));
    let activity = match spread_v {
        Some(spread_v) if spread_v >= BUSY_V => Activity::Busy,
        Some(spread_v) if spread_v <= IDLE_V => Activity::Idle,
        _ => Activity::Unknown,
    };
    let quiet = (activity == Activity::Busy).then(|| between_messages(seen, (plus, minus)));
    let (bias_v, stands) = match quiet {
        None => (seen.alone.direct((plus, minus)), true),
        Some(Some(bias)) => (Some(bias), true),
        Some(None) => (seen.alone.direct((plus, minus)), false),
    };
    let limits = sheet.live.data_undecided.iter().chain(&sheet.live.data_idle);
    let mut found = LivePair {
        posts: [plus, minus],
        bias_v,
        loaded_bias_v: seen.loaded.direct((plus, minus)),
        sign: PairSign::Undecided,
        activity,
        spread_v,
        between_messages: matches!(quiet, Some(Some(_))),
        decided_beyond_v: None,
        limits: limits
            .zip([Severity::Fail, Severity::Note])
            .map(|(range, severity)| LiveLimit::of(range, severity))
            .collect(),
        verdict: Verdict::CannotTell,
        reason: LiveReason::NotMeasured,
    };
    if seen.beyond.iter().any(|beyond| places::share_one(*beyond, (plus, minus))) {
        (found.bias_v, found.loaded_bias_v, found.spread_v) = (None, None, None);
        found.activity = Activity::Unknown;
        found.reason = LiveReason::BeyondRange;
    } else if let Some(bias) = bias_v {
        found.decided_beyond_v = sheet.live.data_undecided.as_ref().map(|_| band_v(seen, bias));
        (found.reason, found.sign) = told(seen, sheet, floating, &found, bias, stands);
    }
    // Which way round it is otherwise, the supply on it hides.
    if displaced.is_some_and(Displaced::is_on_data) {
        (found.reason, found.sign) = (LiveReason::NotMeasured, PairSign::Undecided);
    }
    found.verdict = match found.reason {
        // Another kind of bus, or common in the place of a data line: it is not known which.
        LiveReason::AboveLimit => Verdict::CannotTell,
        reason => verdict(reason),
    };
    Some(found)
}

fn told(
    seen: &Seen,
    sheet: &LimitSheet,
    floating: &Floating,
    found: &LivePair,
    bias: Measured,
    stands: bool,
) -> (LiveReason, PairSign) {
    let Some(undecided) = &sheet.live.data_undecided else {
        return (LiveReason::LimitUnknown, PairSign::Undecided);
    };
    // Which way round a pair is of which a leg hangs on nothing is not told.
    if found.posts.iter().any(|post| floating.contains(*post)) {
        let is_told = floating.unsure.is_none();
        let reason = if is_told { LiveReason::Floats } else { LiveReason::Undecided };
        return (reason, PairSign::Undecided);
    }
    if !stands {
        return (LiveReason::Busy, PairSign::Undecided);
    }
    let (reason, sign) = decided(seen, undecided, bias);
    let Some(loaded) = found.loaded_bias_v else {
        return (LiveReason::NotMeasured, sign);
    };
    let collapses = loaded.value.abs() + loaded.u < LEFT * (bias.value.abs() - bias.u);
    if found.activity == Activity::Idle && sign != PairSign::Undecided && collapses {
        return (LiveReason::CouplesIn, PairSign::Undecided);
    }
    match &sheet.live.data_idle {
        None if reason == LiveReason::WithinLimits => (LiveReason::LimitUnknown, sign),
        Some(idle) if bias.least() > idle.most => (LiveReason::AboveLimit, sign),
        _ => (reason, sign),
    }
}

/// By the receiver's threshold, with a band on both sides that is wider than the uncertainty: a pair that is told to be
/// right, reversed or within the threshold must be so.
fn decided(seen: &Seen, undecided: &Bounds, bias: Measured) -> (LiveReason, PairSign) {
    let band_v = band_v(seen, bias);
    let value = bias.value;
    if value - band_v >= undecided.most {
        (LiveReason::WithinLimits, PairSign::Right)
    } else if value + band_v <= undecided.least {
        (LiveReason::Reversed, PairSign::Reversed)
    } else if value - band_v > undecided.least && value + band_v < undecided.most {
        (LiveReason::BelowLimit, PairSign::Undecided)
    } else {
        (LiveReason::Undecided, PairSign::Undecided)
    }
}

fn band_v(seen: &Seen, bias: Measured) -> f64 {
    let without = if seen.zero.status == LiveZeroStatus::Fresh { 0.0 } else { BAND_WITHOUT_ZERO_V };
    (2.0 * bias.u).max(BAND_V) + without
}

/// What is on the pair beyond bias and mains, and beyond the converter's noise.
fn spread(seen: &Seen, posts: (Post, Post)) -> Option<f64> {
    let made = super::front::made_of(posts).into_iter().enumerate().filter(|(_, k)| *k != 0.0);
    let noise_v: f64 = made.map(|(channel, _)| seen.alone.noise_v(channel).powi(2)).sum();
    let left_v = seen.alone.left_v(posts)?;
    Some((left_v * left_v - noise_v).max(0.0).sqrt())
}

/// The bias where the pair holds still between two messages; none where it does not, or not at one level.
fn between_messages(seen: &Seen, posts: (Post, Post)) -> Option<Measured> {
    let swapped = (posts.1, posts.0);
    let channel = CHANNELS.into_iter().position(|one| one == posts || one == swapped)?;
    let runs = quiet_runs(&seen.alone.samples[channel]);
    let quiet: Vec<Sample> = runs.concat();
    if quiet.len() < 2 * QUIET_READINGS {
        return None;
    }
    let means =
        runs.iter().map(|run| run.iter().map(|one| one.volts).sum::<f64>() / run.len() as f64);
    let (least, most) = means.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), mean| {
        (f64::min(least, mean), f64::max(most, mean))
    });
    if !(most - least <= QUIET_V) {
        return None;
    }
    let mut bias = seen.alone.with_quiet(channel, quiet)?.direct(posts)?;
    bias.u += (most - least) / 2.0; // what still rings, or hums
    Some(bias)
}

fn quiet_runs(samples: &[Sample]) -> Vec<Vec<Sample>> {
    let mut runs: Vec<Vec<Sample>> = vec![];
    let mut run: Vec<Sample> = vec![];
    for sample in samples {
        let still =
            |one: &Sample| (one.volts - sample.volts).abs() <= QUIET_V + 6.0 * sample.noise_v;
        if run.iter().all(still) {
            run.push(*sample);
        } else {
            let over = std::mem::replace(&mut run, vec![*sample]);
            runs.extend(Some(over).filter(|over| over.len() >= QUIET_READINGS));
        }
    }
    runs.extend(Some(run).filter(|over| over.len() >= QUIET_READINGS));
    // The ends of a run may be half of a message.
    runs.into_iter().map(|run| run[1..run.len() - 1].to_vec()).collect()
}
