//! All posts driven alike: no current flows, so N and G of a post are at one voltage. It also shows
//! that the watch sees every post.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Converter, Drive, Fault, Input, Microvolts, Post, Range, Step, Stop};

use super::End;
use super::patterns::{Patterns, Taken};
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
    let mut taken = Taken::new();
    let mut moved = [0; 4];
    for _ in 0..REPEATS {
        let mut before = [Microvolts(0); 4];
        for drive in [Drive::High, Drive::Low] {
            patterns.drive(Step::SelfCalibration, [drive; 4], &slots, &mut taken).await?;
            for post in Post::ALL {
                let (now, before) = (taken.observed()[post.index()], &mut before[post.index()]);
                let most = &mut moved[post.index()];
                if drive == Drive::Low {
                    *most = (before.0 - now.0).max(*most);
                }
                *before = now;
            }
        }
    }
    let blind = Post::ALL.into_iter().find(|post| moved[post.index()] < SEEN_MIN.0);
    blind.map_or(Ok(()), |post| Err(End::Stop(Stop::Fault(Fault::WatchBlind(post)))))
}
