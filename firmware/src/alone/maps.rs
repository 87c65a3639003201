//! The plug is in: where each conductor arrives, and whether one has more resistance than the others.

use runproof_protocol::{Lamp, Post, Signs, Tune};

use super::Seen;
use crate::identity::RING;

/// Less than this between two posts is no ring: its least is 29.5 Ω. [judgement]
const JOINED_MILLIOHMS: i32 = 15_000;

/// A map's misfit: what it leaves unexplained, or conductors that it makes more unlike than they are.
const FITS_MILLIOHMS: i32 = 1_500;
const APART_MILLIOHMS: i32 = 3_000;

/// A conductor of less than nothing, beyond what readings are off by.
const NEGATIVE_MILLIOHMS: i32 = -1_000;

/// One that is so much, and a seventh of itself, above the least has too much. [judgement]
const UNLIKE_MILLIOHMS: i32 = 1_000;
const UNLIKE_PART: i32 = 7;

/// Post 4 is the other end of every difference. Where it floats behind the pulls' 150 kΩ, a converter's 2.4 MΩ
/// (data sheet SBAS444E, differential input impedance at ±1.024 V) take this part of what is read.
const FLOATING_LOSS_PART: i32 = 17;

/// A conductor of more wants to be held against a limit, of which lamps know nothing: the least that a
/// built-in sheet has for a supply is 3 Ω.
const NUMBERS_MILLIOHMS: i32 = 3_000;

/// All four conductors, or those that reach the plug.
pub(super) fn signs(seen: &Seen) -> Signs {
    let mut signs = Signs::CANNOT_TELL;
    let mut ohms = [None; 6];
    let mut reaches = [false; 4];
    for (pair, (one, other)) in Post::PAIRS.into_iter().enumerate() {
        ohms[pair] = seen.milliohms(pair);
        let Some(ohms) = ohms[pair] else { continue };
        for post in [one, other] {
            reaches[post.index()] = true;
            if ohms < JOINED_MILLIOHMS {
                signs.lamps[post.index()] = Lamp::BLINK;
                signs.tune = Tune::Fail;
            }
        }
    }
    if signs.tune == Tune::Fail {
        return signs;
    }
    if seen.is_still() {
        if reaches == [true; 4] {
            all_arrive(&ohms, &mut signs);
        } else {
            some_arrive(&ohms, reaches, &mut signs);
        }
    }
    signs
}

fn all_arrive(ohms: &[Option<i32>; 6], signs: &mut Signs) {
    let mut every = [0; 6];
    for (one, ohms) in every.iter_mut().zip(ohms) {
        let Some(ohms) = *ohms else { return };
        *one = ohms;
    }
    let mut best = Fit { misfit: i32::MAX, ..Fit::default() };
    let mut second = i32::MAX;
    for map in maps() {
        let one = fit(&every, map);
        if one.misfit < best.misfit {
            second = best.misfit;
            best = one;
        } else {
            second = one.misfit.min(second);
        }
    }
    let Fit { map, misfit, conductors } = best;
    if misfit > allowed(&conductors) || second < misfit + APART_MILLIOHMS {
        return;
    }
    *signs = Signs::all(Lamp::STEADY, Tune::Next);
    let least = least(&conductors);
    for (lamp, one) in signs.lamps.iter_mut().zip(conductors) {
        if one - least > UNLIKE_MILLIOHMS + one / UNLIKE_PART {
            *lamp = Lamp::BLINK;
            signs.tune = Tune::Fail;
        } else if one > NUMBERS_MILLIOHMS {
            *lamp = Lamp::WINK;
            if signs.tune != Tune::Fail {
                signs.tune = Tune::CannotTell;
            }
        }
    }
    if map != [0, 1, 2, 3] {
        signs.exchanged(map.map(|to| Post::ALL.get(to).copied()));
        signs.tune = Tune::Fail;
    }
}

/// Ring and jig are off by parts in a hundred of what is read, and one conductor may have a joint.
fn allowed(conductors: &[i32; 4]) -> i32 {
    FITS_MILLIOHMS + conductors.iter().sum::<i32>() / 4
}

/// Of open conductors the lamps are dark; the others are only held to be straight.
fn some_arrive(ohms: &[Option<i32>; 6], reaches: [bool; 4], signs: &mut Signs) {
    let (mut least, mut most) = (i32::MAX, i32::MIN);
    for (ohms, &(one, other)) in ohms.iter().zip(&Post::PAIRS) {
        let Some(mut ohms) = *ohms else { continue };
        if !reaches[Post::P4.index()] {
            ohms += ohms / FLOATING_LOSS_PART;
        }
        let over = ohms - THROUGH_RING[one.index()][other.index()];
        least = over.min(least);
        most = over.max(most);
    }
    let straight = least >= 2 * NEGATIVE_MILLIOHMS
        && most.saturating_sub(least) < 2 * UNLIKE_MILLIOHMS + most / UNLIKE_PART;
    signs.tune = Tune::Fail;
    for (lamp, reaches) in signs.lamps.iter_mut().zip(reaches) {
        if !reaches {
            *lamp = Lamp::DARK;
        } else if straight {
            *lamp = Lamp::STEADY;
        }
    }
}

/// How a map explains what was read.
#[derive(Default)]
struct Fit {
    map: [usize; 4],
    misfit: i32,
    /// Each one's own resistance.
    conductors: [i32; 4],
}

/// Least squares of six sums of two.
fn fit(ohms: &[i32; 6], map: [usize; 4]) -> Fit {
    let mut over = *ohms;
    let mut conductors = [0; 4];
    let mut all = 0;
    for (over, &(one, other)) in over.iter_mut().zip(&Post::PAIRS) {
        let (one, other) = (one.index(), other.index());
        *over -= THROUGH_RING[map[one] & 3][map[other] & 3];
        conductors[one] += *over;
        conductors[other] += *over;
        all += *over;
    }
    // All but one, which may have a joint, are alike.
    let (mut most, mut second) = (i32::MIN, i32::MIN);
    for one in &mut conductors {
        *one = (*one - all / 3) / 2;
        second = most.min(*one).max(second);
        most = most.max(*one);
    }
    let least = least(&conductors);
    let mut misfit = (second - least) / 2;
    for (over, &(one, other)) in over.iter().zip(&Post::PAIRS) {
        let left = over - conductors[one.index()] - conductors[other.index()];
        misfit = left.abs().max(misfit);
    }
    if least < NEGATIVE_MILLIOHMS {
        misfit = misfit.max(APART_MILLIOHMS - least);
    }
    Fit { map, misfit, conductors }
}

fn least(conductors: &[i32; 4]) -> i32 {
    conductors.iter().fold(i32::MAX, |least, one| least.min(*one))
}

/// Between two of the plug's terminals, through the ring both ways.
const THROUGH_RING: [[i32; 4]; 4] = {
    let [one_three, three_four, four_two, two_one] = RING;
    let (a, b, c, d) = (one_three.0, three_four.0, four_two.0, two_one.0);
    let ways = [[0, d, a, a + b], [d, 0, b + c, c], [a, b + c, 0, b], [a + b, c, b, 0]];
    let mut through = [[0; 4]; 4];
    let mut pair = 0;
    while pair < 16 {
        let way = ways[pair / 4][pair % 4];
        through[pair / 4][pair % 4] = (way * (a + b + c + d - way) / (a + b + c + d)) as i32;
        pair += 1;
    }
    through
};

/// All 24: the place that each conductor reaches.
fn maps() -> impl Iterator<Item = [usize; 4]> {
    (0..256usize).filter_map(|n| {
        let map = [n & 3, n >> 2 & 3, n >> 4 & 3, n >> 6];
        let distinct = map.iter().fold(0, |seen, to| seen | 1 << to) == 0b1111;
        distinct.then_some(map)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two ways in parallel, by hand, cut to whole milliohms.
    #[test]
    fn the_ring_between_its_terminals() {
        let ohms = Post::PAIRS.map(|(one, other)| THROUGH_RING[one.index()][other.index()]);
        assert_eq!(ohms, [74_698, 29_511, 58_904, 70_876, 52_579, 39_948]);
        assert_eq!(maps().count(), 24);
    }

    #[test]
    fn every_map_is_found_on_wires_alike_or_with_one_joint() {
        for map in maps() {
            for joint in [0, 900] {
                let own = [600 + joint, 620, 590, 610];
                let ohms = Post::PAIRS.map(|(one, other)| {
                    let (one, other) = (one.index(), other.index());
                    Some(THROUGH_RING[map[one]][map[other]] + own[one] + own[other])
                });
                let mut signs = Signs::CANNOT_TELL;
                all_arrive(&ohms, &mut signs);
                let mut wanted = Signs::all(Lamp::STEADY, Tune::Fail);
                wanted.exchanged(map.map(|to| Post::ALL.get(to).copied()));
                if map == [0, 1, 2, 3] {
                    wanted.tune = Tune::Next;
                }
                assert_eq!(signs, wanted, "{map:?}");
            }
        }
    }
}
