//! Before the relays close: is there voltage on the run?
//!
//! It is read twice, by the high-impedance divider alone and with the load across the posts. What
//! only couples into a floating run collapses under the load; what does not is a hazard.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{
    Converter, DIVIDER_FOOT, Drive, HAZARD, HazardKind, Input, Microvolts, Pattern, Range, Reading,
    Step,
};

use super::End;
use super::patterns::{PULLS_OFF, Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::identity::DIVIDER;
use crate::slots::Slot;
use crate::watch::Watch;

/// How long is looked, in patterns of 16 readings.
#[derive(Clone, Copy)]
pub(super) struct Look {
    patterns: usize,
    loaded_patterns: usize,
}

/// 200 ms, ten cycles of 50 Hz and twelve of 60 Hz; and 100 ms under the load.
pub(super) const FULL: Look = Look { patterns: 8, loaded_patterns: 4 };

/// 50 ms each: enough to see a peak.
pub(super) const SHORT: Look = Look { patterns: 2, loaded_patterns: 2 };

/// One slot every 1.59 ms, which keeps the harmonics of 50 and 60 Hz apart.
const PACE_MICROS: u64 = 1_590;

/// Between each pair of posts that a converter can tell, and the first twice as often.
const ORDER: [Input; 4] = [Input::P1P2, Input::P3P4, Input::P1P4, Input::P2P4];

/// One code at the divider's foot, as it stands at the post.
const POST_MICROVOLTS_PER_CODE: i32 =
    (RANGE.full_scale_microvolts() as u64 * DIVIDER.0 / DIVIDER_FOOT.0 / 32_768) as i32;

const RANGE: Range = Range::V1;

/// Reads all pairs with the relays open; ends in a hazard if any two posts may differ by more than
/// the limit under the load, or if a reading is beyond its range at all. The load stays on.
pub(super) async fn check<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    look: Look,
) -> Result<(), End> {
    let mut taken = Taken::new();
    for (step, count) in [(Step::Live, look.patterns), (Step::LiveLoaded, look.loaded_patterns)] {
        if step == Step::LiveLoaded {
            patterns.load().await;
        }
        let mut largest = Largest::default();
        let mut due = patterns.now();
        for turn in 0..count * Pattern::READINGS_MAX {
            patterns.until(due).await;
            due = due.after(PACE_MICROS);
            let slot = Slot::default().and(Converter::Live, (ORDER[turn % ORDER.len()], RANGE));
            taken.add(&slot, &patterns.convert(slot).await?);
            if taken.is_full() {
                taken.readings().iter().for_each(|reading| largest.see(reading));
                let sent = patterns.send(step, [Drive::Off; 4], PULLS_OFF, &taken).await;
                if largest.hazardous(step) {
                    let largest = Microvolts(largest.one.into());
                    return Err(End::Hazard(HazardKind::BeforeClosing, largest));
                }
                sent?;
                taken.clear();
            }
        }
    }
    patterns.prepare_watch();
    Ok(())
}

/// The largest voltages seen, in microvolts at the posts.
#[derive(Default)]
struct Largest {
    /// Of 1−2, 3−4, 1−4, 2−4.
    by_pair: [i32; 4],
    /// Of all readings.
    one: i32,
    /// A code at the end of its range, ±210 V, where how much more is not known.
    saturated: bool,
}

impl Largest {
    fn see(&mut self, reading: &Reading) {
        let microvolts = i32::from(reading.code).abs() * POST_MICROVOLTS_PER_CODE;
        for (largest, input) in self.by_pair.iter_mut().zip(ORDER) {
            if input == reading.channel.input {
                *largest = microvolts.max(*largest);
            }
        }
        self.one = self.one.max(microvolts);
        self.saturated |= reading.saturated();
    }

    /// What is seen without the load may only couple in, unless it is beyond all measure.
    fn hazardous(&self, step: Step) -> bool {
        self.saturated || step == Step::LiveLoaded && self.between_any() > HAZARD.0 as i32
    }

    /// 1−3 and 2−3 are no converter's input: at most the sum of their ways over post 4.
    fn between_any(&self) -> i32 {
        let [_, to_3, to_1, to_2] = self.by_pair;
        self.one.max(to_1 + to_3).max(to_2 + to_3)
    }
}
