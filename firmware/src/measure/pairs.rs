//! Each pair of posts driven against each other: the readings that resistance is made of.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Converter, Drive, Input, Post, Range, Step};

use super::End;
use super::patterns::{Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::slots::Slot;
use crate::watch::Watch;

/// In the order + + − −, a pattern every 9.09 ms passes 0.04 of 50 and of 60 Hz hum into the difference
/// of the two polarities; alternating ones would pass 0.67 and 0.95.
const PACE_MICROS: u64 = 9_090;

/// Within this of zero on the wide range, the narrow one has room for it.
const NARROW_CODES: u16 = 7_200; // 0.9 V at ±4.096 V

/// The differences, whose range follows what the pre-scan saw.
const DIFFERENCES: [Input; 3] = [Input::P1P4, Input::P2P4, Input::P3P4];

/// As they are, or the other way round: the pre-scan, then the pairs.
const ONCE: [bool; 1] = [false];
const BOTH_WAYS: [bool; 4] = [false, false, true, true];

/// Looks at each pair once, on the widest range; then, unless that is all, takes each + + − − on the ranges that fit.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    only_once: bool,
) -> Result<(), End> {
    let mut ranges = [[Range::V4; 3]; 6];
    let mut taken = Taken::new();
    for step in [Step::PreScan, Step::Pairs] {
        let turned = if step == Step::PreScan { &ONCE[..] } else { &BOTH_WAYS[..] };
        let mut due = patterns.now();
        for (ranges, (i, j)) in ranges.iter_mut().zip(Post::PAIRS) {
            let slots = slots(i, j, *ranges);
            for &turned in turned {
                if step == Step::Pairs {
                    patterns.until(due).await;
                    due = patterns.now().after(PACE_MICROS); // after a host that made us wait, no hurry
                }
                let drives =
                    if turned { Drive::high_and_low(j, i) } else { Drive::high_and_low(i, j) };
                patterns.drive(step, drives, &slots, &mut taken).await?;
            }
            *ranges = DIFFERENCES.map(|input| fitting(&taken, input));
        }
        if only_once {
            break;
        }
    }
    Ok(())
}

/// Beside the three differences and N4, the drive nodes of both driven posts, twice.
fn slots(i: Post, j: Post, [one, two, three]: [Range; 3]) -> [Slot; 4] {
    let slot = |sense, range, drive| {
        Slot::default()
            .and(Converter::Sense, (sense, range))
            .and(Converter::Drive, (Input::single(drive), Range::V4))
    };
    [
        slot(Input::P1P4, one, i),
        slot(Input::P2P4, two, j),
        slot(Input::P3P4, three, i),
        slot(Input::P4, Range::V4, j),
    ]
}

fn fitting(taken: &Taken, input: Input) -> Range {
    let narrow = taken
        .readings()
        .iter()
        .filter(|reading| {
            reading.channel.converter == Converter::Sense && reading.channel.input == input
        })
        .all(|reading| reading.code.unsigned_abs() <= NARROW_CODES);
    if narrow { Range::V1 } else { Range::V4 }
}
