//! Before the relays close: is there voltage on the run?

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{
    Converter, DIVIDER_FOOT, Drive, HAZARD, HazardKind, Input, Microvolts, Pattern, Range, Reading,
    Step,
};

use super::End;
use super::patterns::{Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::identity::DIVIDER;
use crate::slots::Slot;

/// 125 samples cover 200 ms: ten cycles of 50 Hz, twelve of 60 Hz.
const SLOTS: usize = 8 * Pattern::READINGS_MAX;

/// One slot every 1.59 ms, which keeps the harmonics of 50 and 60 Hz apart.
const PACE_MICROS: u64 = 1_590;

/// Between each pair of posts that a converter can tell, and the first twice as often.
const ORDER: [Input; 4] = [Input::P1P2, Input::P3P4, Input::P1P4, Input::P2P4];

/// One code at the divider's foot, as it stands at the post.
const POST_MICROVOLTS_PER_CODE: i64 =
    (RANGE.full_scale_microvolts() as u64 * DIVIDER.0 / DIVIDER_FOOT.0 / 32_768) as i64;

const RANGE: Range = Range::V1;

/// Reads all pairs with the relays open; ends in a hazard if any differs by more than the limit. A
/// dead run shows millivolts; what only couples into a floating run can show more and is refused
/// with it, until the loaded reading can tell the two apart.
pub(super) async fn check<L: Line, R: OutputPin<Error = Infallible>, C: Clock>(
    patterns: &mut Patterns<'_, L, R, C>,
) -> Result<(), End> {
    let mut largest_microvolts = 0;
    let mut due = patterns.now();
    let mut taken = Taken::new();
    for input in ORDER.into_iter().cycle().take(SLOTS) {
        patterns.until(due).await;
        due = due.after(PACE_MICROS);
        let slot = Slot::default().and(Converter::Live, (input, RANGE));
        taken.add(&slot, &patterns.convert(slot).await?);
        if taken.is_full() {
            largest_microvolts = largest_microvolts.max(largest(taken.readings()));
            patterns.send(Step::Live, [Drive::Off; 4], &taken).await?;
            taken = Taken::new();
        }
    }
    if largest_microvolts > HAZARD.0 {
        return Err(End::Hazard(HazardKind::BeforeClosing, Microvolts(largest_microvolts)));
    }
    Ok(())
}

/// A saturated code stands for the end of the range, ±210 V: far beyond the limit.
fn largest(readings: &[Reading]) -> i64 {
    let microvolts = |reading: &Reading| i64::from(reading.code).abs() * POST_MICROVOLTS_PER_CODE;
    readings.iter().map(microvolts).max().unwrap_or(0)
}
