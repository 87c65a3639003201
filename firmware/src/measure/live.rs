//! What stands on the run before anything is driven: is there voltage, and, of a run that may have it, which?
//!
//! It is read twice, by the high-impedance divider alone and with the load across the posts. What
//! only couples into a floating run collapses under the load; before the relays may close, what does
//! not is a hazard.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{
    Converter, DIVIDER_FOOT, Drive, HAZARD, HazardKind, Input, Microvolts, Pattern, Phase, Range,
    SUPPLY_LOAD_MAX, Step,
};

use super::End;
use super::patterns::{PULLS_OFF, Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::identity::DIVIDER;
use crate::slots::{Look, Slot};
use crate::watch::Watch;

/// The data pair of a live run, where it is no more than 52 V; and beyond that.
pub(super) const PAIR: Look = (Input::P1P2, Range::V0);
pub(super) const PAIR_WIDE: Look = (Input::P1P2, Range::V2);
/// Its supply, and what ties the two together.
pub(super) const SUPPLY: Look = (Input::P3P4, Range::V2);
pub(super) const SUPPLY_TO_FIRST: Look = (Input::P1P4, Range::V2);
/// Post 4 against the jig's own ground: under the load all posts do together what it does.
const TOGETHER: Look = (Input::P4, Range::V4);

/// One slot every 1.59 ms, which keeps the harmonics of 50 and 60 Hz apart.
const PACE_MICROS: u64 = 1_590;

/// Before the relays close: between each pair of posts that a converter can tell.
const BEFORE_CLOSING: [Look; 4] =
    [(Input::P1P2, RANGE), (Input::P3P4, RANGE), (Input::P1P4, RANGE), LAST];
/// Under the load its place is every other time that of what all posts do together.
const LAST: Look = (Input::P2P4, RANGE);

const RANGE: Range = Range::V1;

/// One code at the divider's foot, as it stands at the post.
const POST_MICROVOLTS_PER_CODE: u32 = per_code(RANGE);

const HAZARD_CODES: u32 = HAZARD.0 as u32 / POST_MICROVOLTS_PER_CODE;

/// The most that the supply load bears, as it is read.
const SUPPLY_CODES: u32 = SUPPLY_LOAD_MAX.0 as u32 / per_code(SUPPLY.1);

const fn per_code(range: Range) -> u32 {
    (range.full_scale_microvolts() as u64 * DIVIDER.0 / DIVIDER_FOOT.0 / 32_768) as u32
}

/// What is looked at, turn by turn, and in how many patterns of 16.
fn looks(phase: Phase, step: Step) -> (&'static [Look; 4], usize) {
    let alone = step == Step::Live;
    match (phase, alone) {
        (Phase::Live, true) => (&[PAIR, SUPPLY, PAIR, SUPPLY_TO_FIRST], 8),
        (Phase::Live, false) => (&[PAIR, SUPPLY, TOGETHER, SUPPLY_TO_FIRST], 4),
        // 25 ms show whether there is too much for the load, and 50 ms what is left under it.
        (Phase::SupplyLoad, true) => (&[SUPPLY; 4], 1),
        (Phase::SupplyLoad, false) => (&[SUPPLY; 4], 2),
        // 50 ms are enough to see a peak.
        (Phase::Glance | Phase::FarLights | Phase::Fixture, _) => (&BEFORE_CLOSING, 2),
        // 200 ms, ten cycles of 50 Hz and twelve of 60 Hz; and 100 ms under the load.
        (_, true) => (&BEFORE_CLOSING, 8),
        (_, false) => (&BEFORE_CLOSING, 4),
    }
}

/// Reads all with the relays open; unless the run may be live, ends in a hazard if any two posts may differ by
/// more than the limit under the load, or if a reading is beyond its range at all. The load stays on.
pub(super) async fn check<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    phase: Phase,
) -> Result<(), End> {
    let may_be_live = matches!(phase, Phase::Live | Phase::SupplyLoad);
    let mut taken = Taken::new();
    let mut pair = PAIR;
    let under = if phase == Phase::SupplyLoad { Step::SupplyLoaded } else { Step::LiveLoaded };
    for step in [Step::Live, under] {
        if step != Step::Live {
            patterns.load(step).await;
        }
        let (looks, count) = looks(phase, step);
        let mut largest = Largest::default();
        let mut due = patterns.now();
        for turn in 0..count * Pattern::READINGS_MAX {
            patterns.until(due).await;
            due = due.after(PACE_MICROS);
            let look = match looks[turn % looks.len()] {
                PAIR => pair,
                LAST if step == Step::LiveLoaded && turn % 8 == 7 => TOGETHER,
                look => look,
            };
            let slot = Slot::default().and(Converter::Live, look);
            let conversions = patterns.convert(slot).await?;
            taken.add(&slot, &conversions);
            if look != TOGETHER {
                largest.see(turn, conversions[Converter::Live.index()].code);
            }
            if taken.is_full() {
                if largest.saturated {
                    pair = PAIR_WIDE;
                }
                let sent = patterns.send(step, [Drive::Off; 4], PULLS_OFF, &taken).await;
                if !may_be_live && largest.hazardous(step) {
                    let largest = Microvolts((largest.one() * POST_MICROVOLTS_PER_CODE).into());
                    return Err(End::Hazard(HazardKind::BeforeClosing, largest));
                }
                sent?;
                taken.clear();
            }
        }
        if phase == Phase::SupplyLoad && largest.one() > SUPPLY_CODES {
            break;
        }
    }
    patterns.watch().prepare();
    Ok(())
}

/// The largest codes seen, whatever their sign.
#[derive(Default)]
struct Largest {
    /// Turn by turn: of 1−2, 3−4, 1−4, 2−4 before the relays close.
    by_turn: [u32; 4],
    /// A code at the end of its range, ±210 V, where how much more is not known.
    saturated: bool,
}

impl Largest {
    fn see(&mut self, turn: usize, code: i16) {
        let code = code.unsigned_abs();
        let largest = &mut self.by_turn[turn % 4];
        *largest = (*largest).max(code.into());
        self.saturated |= code >= i16::MAX as u16;
    }

    /// What is seen without the load may only couple in, unless it is beyond all measure.
    fn hazardous(&self, step: Step) -> bool {
        self.saturated || step == Step::LiveLoaded && self.between_any() > HAZARD_CODES
    }

    fn one(&self) -> u32 {
        self.by_turn.into_iter().fold(0, u32::max)
    }

    /// 1−3 and 2−3 are no converter's input: at most the sum of their ways over post 4.
    fn between_any(&self) -> u32 {
        let [_, to_3, to_1, to_2] = self.by_turn;
        self.one().max(to_3 + to_1.max(to_2))
    }
}
