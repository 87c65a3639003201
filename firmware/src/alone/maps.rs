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
    let ohms: [Option<i32>; 6] = [0, 1, 2, 3, 4, 5].map(|pair| seen.milliohms(pair));
    let reaches = Post::ALL.map(|post| touching(post).any(|pair| ohms[pair].is_some()));
    let mut signs = Signs::CANNOT_TELL;
    let joined = |pair: &usize| ohms[*pair].is_some_and(|one| one < JOINED_MILLIOHMS);
    for pair in (0..6).filter(joined) {
        let (one, other) = Post::PAIRS[pair];
        signs.lamps[one.index()] = Lamp::BLINK;
        signs.lamps[other.index()] = Lamp::BLINK;
        signs.tune = Tune::Fail;
    }
    if signs.tune == Tune::Fail {
        return signs;
    }
    if seen.is_still() {
        match reaches.iter().filter(|reaches| **reaches).count() {
            4 => all_arrive(ohms, &mut signs),
            _ => some_arrive(ohms, reaches, &mut signs),
        }
    }
    signs
}

/// The pairs that a post is of.
fn touching(post: Post) -> impl Iterator<Item = usize> {
    (0..6).filter(move |pair| Post::PAIRS[*pair].0 == post || Post::PAIRS[*pair].1 == post)
}

fn all_arrive(ohms: [Option<i32>; 6], signs: &mut Signs) {
    let [Some(a), Some(b), Some(c), Some(d), Some(e), Some(f)] = ohms else { return };
    let mut best: Option<(i32, [usize; 4], [i32; 4])> = None;
    let mut second = i32::MAX;
    for map in maps() {
        let (misfit, conductors) = fit([a, b, c, d, e, f], map);
        match best {
            Some((least, ..)) if misfit >= least => second = misfit.min(second),
            _ => {
                second = best.map_or(second, |(least, ..)| least.min(second));
                best = Some((misfit, map, conductors));
            }
        }
    }
    let Some((misfit, map, conductors)) = best else { return };
    if misfit > allowed(&conductors) || second < misfit + APART_MILLIOHMS {
        return;
    }
    *signs = Signs::all(Lamp::STEADY, Tune::Next);
    let least = conductors.iter().copied().min().unwrap_or(0);
    for (lamp, one) in signs.lamps.iter_mut().zip(conductors) {
        if one > NUMBERS_MILLIOHMS {
            *lamp = Lamp::WINK;
            signs.tune = Tune::CannotTell;
        }
    }
    for (lamp, one) in signs.lamps.iter_mut().zip(conductors) {
        if one - least > UNLIKE_MILLIOHMS + one / UNLIKE_PART {
            *lamp = Lamp::BLINK;
            signs.tune = Tune::Fail;
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
fn some_arrive(mut ohms: [Option<i32>; 6], reaches: [bool; 4], signs: &mut Signs) {
    if !reaches[Post::P4.index()] {
        for ohm in ohms.iter_mut().flatten() {
            *ohm += *ohm / FLOATING_LOSS_PART;
        }
    }
    signs.tune = Tune::Fail;
    for (lamp, reaches) in signs.lamps.iter_mut().zip(reaches) {
        if !reaches {
            *lamp = Lamp::DARK;
        }
    }
    let over = |pair: usize| {
        Some(ohms[pair]? - ring(Post::PAIRS[pair].0.index(), Post::PAIRS[pair].1.index()))
    };
    let sums = (0..6).filter_map(over);
    let (least, most) =
        sums.fold((i32::MAX, i32::MIN), |(least, most), one| (one.min(least), one.max(most)));
    let straight = least >= 2 * NEGATIVE_MILLIOHMS
        && most.saturating_sub(least) < 2 * UNLIKE_MILLIOHMS + most / UNLIKE_PART;
    if straight {
        for (lamp, _) in signs.lamps.iter_mut().zip(reaches).filter(|(_, reaches)| *reaches) {
            *lamp = Lamp::STEADY;
        }
    }
}

/// Each conductor's own resistance under a map, and the map's misfit: least squares of six sums of two.
fn fit(ohms: [i32; 6], map: [usize; 4]) -> (i32, [i32; 4]) {
    let mut over = [0; 6];
    let mut of_post = [0; 4];
    for (pair, (one, other)) in Post::PAIRS.into_iter().enumerate() {
        let (one, other) = (one.index(), other.index());
        over[pair] = ohms[pair] - ring(map[one], map[other]);
        of_post[one] += over[pair];
        of_post[other] += over[pair];
    }
    let all = over.iter().sum::<i32>() / 3;
    let conductors = of_post.map(|sum| (sum - all) / 2);
    let mut misfit = 0;
    for (pair, (one, other)) in Post::PAIRS.into_iter().enumerate() {
        let left = over[pair] - conductors[one.index()] - conductors[other.index()];
        misfit = left.abs().max(misfit);
    }
    let least = conductors.iter().copied().min().unwrap_or(0);
    let mut above = conductors;
    above.sort_unstable();
    // All but one, which may have a joint, are alike.
    misfit = misfit.max((above[2] - least) / 2);
    if least < NEGATIVE_MILLIOHMS {
        misfit = misfit.max(APART_MILLIOHMS - least);
    }
    (misfit, conductors)
}

/// Between two of the plug's terminals.
fn ring(one: usize, other: usize) -> i32 {
    let pair =
        |(a, b): &(Post, Post)| [(one, other), (other, one)].contains(&(a.index(), b.index()));
    Post::PAIRS.iter().position(pair).map_or(0, |pair| THROUGH_RING[pair])
}

/// Between the terminals of each pair, through the ring both ways: 1–2, 1–3, 1–4, 2–3, 2–4, 3–4.
const THROUGH_RING: [i32; 6] = {
    let [one_three, three_four, four_two, two_one] = RING;
    let (a, b, c, d) = (one_three.0, three_four.0, four_two.0, two_one.0);
    let ways = [d, a, a + b, b + c, c, b];
    let mut through = [0; 6];
    let mut pair = 0;
    while pair < 6 {
        through[pair] = (ways[pair] * (a + b + c + d - ways[pair]) / (a + b + c + d)) as i32;
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
        let ohms = Post::PAIRS.map(|(one, other)| ring(one.index(), other.index()));
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
                    Some(ring(map[one], map[other]) + own[one] + own[other])
                });
                let mut signs = Signs::CANNOT_TELL;
                all_arrive(ohms, &mut signs);
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
