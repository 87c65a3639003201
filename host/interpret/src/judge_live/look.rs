//! What the live phase reads: three differences that span the four posts, and post 4 alone.

use runproof_protocol::{DIVIDER_FOOT, Drive, Phase, Post, Range, Step};

use crate::capture::{Capture, Channel, Node, Reading};

/// The differences, in the order of everything that is kept by channel.
pub(crate) const CHANNELS: [(Post, Post); 3] =
    [(Post::P1, Post::P2), (Post::P3, Post::P4), (Post::P1, Post::P4)];

/// A conversion averages its input so long: the converter's data rate, 860 samples a second.
pub(crate) const CONVERSION_S: f64 = 1.0 / 860.0;

/// From the order to the conversion's begin (SBAS444E: single-shot, 25 µs).
const BEGINS_AFTER_S: f64 = 25e-6;

/// The readings of one step of the live phase.
pub(crate) fn readings(capture: &Capture, step: Step) -> impl Iterator<Item = &Reading> {
    let phase = if step == Step::SupplyLoaded { Phase::SupplyLoad } else { Phase::Live };
    capture.readings(phase).filter(move |reading| {
        reading.step == step
            && reading.channel.node == Node::Live
            && reading.drives == [Drive::Off; 4]
            && reading.pulls == [Drive::Off; 2]
            && !reading.relays_closed
    })
}

/// Which of the [`CHANNELS`] this is.
pub(crate) fn channel_of(channel: Channel) -> Option<usize> {
    CHANNELS.into_iter().position(|(i, j)| (channel.post, channel.against) == (i, Some(j)))
}

/// The middle of a conversion, on the clock of `begin_us`.
pub(crate) fn middle_s(reading: &Reading, begin_us: u64) -> f64 {
    reading.at.0.saturating_sub(begin_us) as f64 * 1e-6 + BEGINS_AFTER_S + CONVERSION_S / 2.0
}

/// At an end of its range, or beyond: no number.
pub(crate) fn is_beyond_range(reading: &Reading) -> bool {
    reading.saturated
        || !(reading.volts.abs() < reading.range.full_scale_volts() - 1.5 * step_v(reading.range))
}

/// One step of the converter's code.
pub(crate) fn step_v(range: Range) -> f64 {
    range.full_scale_volts() / 32_768.0
}

/// Standard deviation of one reading, at the converter: noise at 860 samples a second (SBAS444E, table of noise:
/// peak to peak, of 6.6 standard deviations), and the step of its code.
pub(crate) fn noise_v(range: Range) -> f64 {
    let peak_to_peak_v = match range {
        Range::V4 => 266.93e-6,
        Range::V2 => 118.63e-6,
        Range::V1 => 64.26e-6, // from memory
        Range::V0 => 35.83e-6,
    };
    (peak_to_peak_v / 6.6_f64).hypot(step_v(range) / 12.0_f64.sqrt())
}

/// Volts at the posts for a volt at the converter, nominal.
pub(crate) fn ratio(capture: &Capture) -> f64 {
    capture.head.jig.divider_ohm / DIVIDER_FOOT.ohms()
}

/// How much of a difference is left of it by the converter's own input across both feet.
pub(crate) fn left_by_load(range: Range, divider_ohm: f64) -> f64 {
    let foot_ohm = DIVIDER_FOOT.ohms();
    let node_ohm = foot_ohm * (divider_ohm - foot_ohm) / divider_ohm;
    1.0 / (1.0 + 2.0 * node_ohm / crate::observations::across_ohm(range))
}

/// The same of one foot against ground.
pub(crate) fn left_by_ground(range: Range, divider_ohm: f64) -> f64 {
    let foot_ohm = DIVIDER_FOOT.ohms();
    let node_ohm = foot_ohm * (divider_ohm - foot_ohm) / divider_ohm;
    1.0 / (1.0 + node_ohm / crate::observations::ground_ohm(range))
}
