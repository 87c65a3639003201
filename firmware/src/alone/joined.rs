//! The plug is out: which posts are joined all the same, by a short, a leak, or what is still landed.

use runproof_protocol::{Lamp, Post, Signs, Tune};

use super::Seen;

/// By so much half of the supply behind 100 kΩ of pulls moves through 136 kΩ. [judgement]
const LEAKS_MICROVOLTS: i32 = 700_000;

/// Hum does not feign less than this. [judgement]
const THROUGH_HUM_MILLIOHMS: i32 = 1_000_000;

/// Lamps of the first two that are joined blink, of two others as well twice as fast.
pub(super) fn signs(seen: &Seen) -> Signs {
    let mut signs = Signs::all(Lamp::STEADY, Tune::Next);
    let joined = |pair: usize, (one, other): (Post, Post)| {
        let ohms = seen.milliohms(pair);
        if seen.is_still() {
            ohms.is_some() || seen.leaks_microvolts(one, other) > LEAKS_MICROVOLTS
        } else {
            ohms.is_some_and(|ohms| ohms < THROUGH_HUM_MILLIOHMS)
        }
    };
    for (pair, (one, other)) in Post::PAIRS.into_iter().enumerate() {
        if !joined(pair, (one, other)) {
            continue;
        }
        let lamps = &mut signs.lamps;
        let others = (0..4).filter(|post| ![one.index(), other.index()].contains(post));
        let apart = lamps[one.index()] == Lamp::STEADY && lamps[other.index()] == Lamp::STEADY;
        let second = apart && others.into_iter().all(|post| lamps[post] == Lamp::BLINK);
        let lamp = if second { Lamp::QUICK_BLINK } else { Lamp::BLINK };
        lamps[one.index()] = lamp;
        lamps[other.index()] = lamp;
        signs.tune = Tune::Fail;
    }
    if seen.is_still() || signs.tune == Tune::Fail { signs } else { Signs::CANNOT_TELL }
}
