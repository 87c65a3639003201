//! All posts driven alike: no current flows, so N and G of a post are at one voltage.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Converter, Drive, Input, Post, Range, Step};

use super::End;
use super::patterns::Patterns;
use crate::bench::Line;
use crate::clock::Clock;
use crate::slots::Slot;
use crate::watch::Watch;

const REPEATS: usize = 4;

/// N1–N4 and G1–G4 at both ends of the supply, four times.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    let slots = Post::ALL.map(|post| {
        let look = (Input::single(post), Range::V4);
        Slot::default().and(Converter::Sense, look).and(Converter::Drive, look)
    });
    for _ in 0..REPEATS {
        for drive in [Drive::High, Drive::Low] {
            patterns.drive(Step::SelfCalibration, [drive; 4], &slots).await?;
        }
    }
    Ok(())
}
