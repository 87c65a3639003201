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

const HALF_SUPPLY: [Drive; 2] = [Drive::High, Drive::Low];

/// The jig alone, its relays open: what its own clamps and inputs draw.
pub(super) async fn before_closing<
    L: Line,
    R: OutputPin<Error = Infallible>,
    C: Clock,
    W: Watch,
>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    under(patterns, [Drive::Off; 4]).await
}

/// With nothing driven, then each post in turn.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    under(patterns, [Drive::Off; 4]).await?;
    for post in Post::ALL {
        under(patterns, Drive::high_at(post)).await?;
    }
    Ok(())
}

/// All sense nodes in turn, 16 times; sent when nothing is driven any more.
async fn under<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    drives: [Drive; 4],
) -> Result<(), End> {
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
        patterns.send_with(Step::Leakage, drives, HALF_SUPPLY, part).await?;
    }
    Ok(())
}
