//! All posts driven alike: no current flows, so N and G of a post are at one voltage. It also shows
//! that the watch sees every post.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Converter, Drive, Fault, Input, Microvolts, Post, Range, Step, Stop};

use super::End;
use super::patterns::Patterns;
use crate::bench::Line;
use crate::clock::Clock;
use crate::slots::Slot;
use crate::watch::Watch;

const REPEATS: usize = 4;

/// Half of the supply, by which a post moves from high to low; in the best of the repeats, because a
/// little mains on the run, which is told elsewhere, moves it as well.
const SEEN_MIN: Microvolts = Microvolts(1_650_000);

/// N1–N4 and G1–G4 at both ends of the supply, four times.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    let slots = Post::ALL.map(|post| {
        let look = (Input::single(post), Range::V4);
        Slot::default().and(Converter::Sense, look).and(Converter::Drive, look)
    });
    let mut moved = [Microvolts(0); 4];
    for _ in 0..REPEATS {
        let high = patterns.drive(Step::SelfCalibration, [Drive::High; 4], &slots).await?;
        let low = patterns.drive(Step::SelfCalibration, [Drive::Low; 4], &slots).await?;
        for (most, (high, low)) in moved.iter_mut().zip(high.observed().iter().zip(low.observed()))
        {
            *most = Microvolts(high.0 - low.0).max(*most);
        }
    }
    let blind = Post::ALL.into_iter().find(|post| moved[post.index()] < SEEN_MIN);
    blind.map_or(Ok(()), |post| Err(End::Stop(Stop::Fault(Fault::WatchBlind(post)))))
}
