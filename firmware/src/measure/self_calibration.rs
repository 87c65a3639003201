//! The jig by itself: its own patterns, of which each reading's truth is known from another.
//!
//! All posts driven alike: no current flows, so N and G of a post are at one voltage. It also shows that the
//! watch sees every post. With nothing on the clips, the live dividers read posts that are driven, as they read
//! a live run, beside the drive nodes' own difference: next to nothing flows between these and the posts.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Converter, Drive, Fault, Input, Microvolts, Post, Range, Step, Stop};

use super::End;
use super::live::{PAIR, PAIR_WIDE, SUPPLY, SUPPLY_TO_FIRST};
use super::patterns::{Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::slots::{Look, Slot};
use crate::watch::Watch;

/// High and low, four times.
const ALIKE: usize = 8;

/// Of the live dividers: each of four looks, each of four drives, four times.
const LOOKS: [Look; 4] = [PAIR, PAIR_WIDE, SUPPLY, SUPPLY_TO_FIRST];
const DRIVES: usize = 4;
const REPEATS: usize = 4;

/// Half of the supply, by which a post moves from high to low; in the best of the repeats, because a
/// little mains on the run, which is told elsewhere, moves it as well.
const SEEN_MIN: Microvolts = Microvolts(1_650_000);

/// N1–N4 and G1–G4 at both ends of the supply; then, if asked for, the live dividers.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    dividers: bool,
) -> Result<(), End> {
    let mut taken = Taken::new();
    let mut moved = [0; 4];
    let mut before = [Microvolts(0); 4];
    let count = if dividers { ALIKE + LOOKS.len() * DRIVES * REPEATS } else { ALIKE };
    for n in 0..count {
        let (step, drives, slots) = match n.checked_sub(ALIKE) {
            None => (Step::SelfCalibration, alike(n), single()),
            Some(n) => of_dividers(n),
        };
        let used = if n < ALIKE { Post::ALL.len() } else { slots.len() };
        patterns.drive(step, drives, &slots[..used], &mut taken).await?;
        let now = taken.observed();
        for post in Post::ALL {
            let (before, now) = (&mut before[post.index()], now[post.index()]);
            let most = &mut moved[post.index()];
            *most = (before.0 - now.0).max(*most);
            *before = now;
            if n == ALIKE - 1 && *most < SEEN_MIN.0 {
                return Err(End::Stop(Stop::Fault(Fault::WatchBlind(post))));
            }
        }
    }
    Ok(())
}

/// High first, then low.
fn alike(n: usize) -> [Drive; 4] {
    [if n.is_multiple_of(2) { Drive::High } else { Drive::Low }; 4]
}

fn single() -> [Slot; 8] {
    let mut slots = [Slot::default(); 8];
    for (slot, post) in slots.iter_mut().zip(Post::ALL) {
        let look = (Input::single(post), Range::V4);
        *slot = Slot::default().and(Converter::Sense, look).and(Converter::Drive, look);
    }
    slots
}

/// All posts alike, then the look's two against each other both ways.
fn of_dividers(n: usize) -> (Step, [Drive; 4], [Slot; 8]) {
    let look = LOOKS[n / (DRIVES * REPEATS)];
    let drive = n / REPEATS % DRIVES;
    let drives = match (drive, look.0.posts()) {
        (2, (i, Some(j))) => Drive::high_and_low(i, j),
        (3, (i, Some(j))) => Drive::high_and_low(j, i),
        _ => alike(drive),
    };
    let truth = (look.0, Range::V4);
    let slot = Slot::default().and(Converter::Drive, truth).and(Converter::Live, look);
    (Step::LiveZero, drives, [slot; 8])
}
