//! Nothing is clipped on: posts driven to known voltages, read by the live dividers as a live run is.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Converter, Drive, Post, Range, Step};

use super::End;
use super::live::{PAIR, PAIR_WIDE, SUPPLY, SUPPLY_TO_FIRST};
use super::patterns::{Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::slots::{Look, Slot};
use crate::watch::Watch;

const REPEATS: usize = 4;

/// Eight of two converters fill a pattern.
const SLOTS: usize = 8;

/// Every look of a live run, beside the sense nodes' own difference: all posts alike at either end of the
/// supply, then its two posts against each other both ways.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    let mut taken = Taken::new();
    for look in [PAIR, PAIR_WIDE, SUPPLY, SUPPLY_TO_FIRST] {
        for drives in drives(look) {
            for _ in 0..REPEATS {
                let slots = [Slot::default()
                    .and(Converter::Sense, (look.0, Range::V4))
                    .and(Converter::Live, look); SLOTS];
                patterns.drive(Step::LiveZero, drives, &slots, &mut taken).await?;
            }
        }
    }
    Ok(())
}

fn drives((input, _): Look) -> [[Drive; 4]; 4] {
    let (i, j) = match input.posts() {
        (i, Some(j)) => (i, j),
        (i, None) => (i, Post::P4),
    };
    let against = [Drive::high_and_low(i, j), Drive::high_and_low(j, i)];
    [[Drive::High; 4], [Drive::Low; 4], against[0], against[1]]
}
