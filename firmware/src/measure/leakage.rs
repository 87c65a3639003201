//! The pulls hold all posts at half the supply, one post is driven high: what reaches the others?

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Converter, Drive, Input, Pattern, Post, Range, Step};

use super::End;
use super::patterns::{Patterns, Taken};
use super::turns::turns;
use crate::bench::Line;
use crate::clock::Clock;
use crate::slots::Slot;
use crate::watch::Watch;

/// A run of 150 m has settled behind the pulls' 100 kΩ.
const SETTLE_MICROS: u64 = 14_000;

const PARTS: usize = 4;

const DRIVEN: [[Drive; 4]; 5] = {
    let [one, two, three, four] = Post::ALL;
    [
        [Drive::Off; 4],
        Drive::high_at(one),
        Drive::high_at(two),
        Drive::high_at(three),
        Drive::high_at(four),
    ]
};

const HALF_SUPPLY: [Drive; 2] = [Drive::High, Drive::Low];

/// With the relays open the jig alone, with nothing driven: what its own clamps and inputs draw. With them
/// closed each post in turn as well. All sense nodes in turn, 16 times; sent when nothing is driven any more.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    let driven = if patterns.relays_closed() { &DRIVEN[..] } else { &DRIVEN[..1] };
    for &drives in driven {
        patterns.hold(drives, HALF_SUPPLY);
        let begin = patterns.now().after(SETTLE_MICROS);
        let mut parts = [const { Taken::new() }; PARTS];
        for (place, (due, post)) in turns(begin, PARTS * Pattern::READINGS_MAX).enumerate() {
            patterns.until(due).await;
            let slot = Slot::default().and(Converter::Sense, (Input::single(post), Range::V4));
            parts[place / Pattern::READINGS_MAX].add(&slot, &patterns.convert(slot).await?);
        }
        patterns.let_go();
        for part in &parts {
            patterns.send(Step::Leakage, drives, HALF_SUPPLY, part).await?;
        }
    }
    Ok(())
}
