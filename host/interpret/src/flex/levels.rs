//! From which posts carry to what that says of each lane.

use runproof_protocol::{Drive, Post};

/// What is said of the lanes; a bit each, in their order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Told {
    /// They are watched as the posts are driven.
    pub(super) watched: u8,
    /// Of these it is known how they are.
    pub(super) known: u8,
    /// Of these the conductor is broken, or the pair touches.
    pub(super) on: u8,
    /// Something is, and whom it is of cannot be known.
    pub(super) untold: bool,
}

const EVERY_POST: u8 = 0b1111;
const SIDES: [u8; 2] = [0b0011, 0b1100];

/// With the plug in, posts 1 and 2 high and 3 and 4 low: which conductors are broken. With both of a side nothing flows at all.
pub(super) fn conductors(carries: u8) -> Told {
    let missing = !carries & EVERY_POST;
    if SIDES.iter().any(|side| missing & side == *side) {
        return Told { watched: EVERY_POST, untold: true, ..Told::default() };
    }
    Told { watched: EVERY_POST, known: EVERY_POST, on: missing, untold: false }
}

/// With the plug out: which pairs touch, where those before did.
pub(super) fn pairs(drives: &[Drive; 4], carries: u8, before: u8) -> Told {
    let at = |level| posts(|post| drives[post.index()] == level);
    let (high, low) = (carries & at(Drive::High), carries & at(Drive::Low));
    let unlike = |a: u8, b: u8| {
        pair_bits(|pair| (pair & a != 0 && pair & b != 0) && pair & a != pair && pair & b != pair)
    };
    let watched = unlike(at(Drive::High), at(Drive::Low));
    let may = unlike(high, low);
    let told = |on, untold| Told { watched, known: watched, on, untold };
    match (high.count_ones(), low.count_ones()) {
        (0, 0) => told(0, false),
        (0, _) | (_, 0) => told(0, true),
        (1, _) | (_, 1) => told(may, false),
        _ => {
            // Two and two: which with which, only those tell that touched already.
            let known = before & may;
            let left = (high | low) & !posts_of(known);
            let rest = unlike(high & left, low & left);
            match (known, left.count_ones(), rest.count_ones()) {
                (0, _, _) => Told { watched, known: 0, on: 0, untold: true },
                (_, 0, _) => told(known, false),
                (_, 2, 1) => told(known | rest, false),
                _ => Told { watched, known, on: known, untold: true },
            }
        }
    }
}

fn posts(holds: impl Fn(Post) -> bool) -> u8 {
    Post::ALL.into_iter().filter(|post| holds(*post)).fold(0, |bits, post| bits | bit(post))
}

const fn bit(post: Post) -> u8 {
    1 << post.index()
}

/// Bits of pairs, of those whose posts hold.
fn pair_bits(holds: impl Fn(u8) -> bool) -> u8 {
    let all = Post::PAIRS.into_iter().enumerate();
    all.filter(|(_, (a, b))| holds(bit(*a) | bit(*b))).fold(0, |bits, (n, _)| bits | 1 << n)
}

fn posts_of(pairs: u8) -> u8 {
    let all = Post::PAIRS.into_iter().enumerate();
    all.filter(|(n, _)| pairs >> n & 1 != 0).fold(0, |bits, (_, (a, b))| bits | bit(a) | bit(b))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ACROSS: [Drive; 4] = [Drive::High, Drive::High, Drive::Low, Drive::Low];
    const ALONG: [Drive; 4] = [Drive::High, Drive::Low, Drive::High, Drive::Low];

    fn named(bits: u8) -> String {
        let all = Post::PAIRS.iter().enumerate().filter(|(n, _)| bits >> n & 1 != 0);
        all.map(|(_, (a, b))| format!("{a}{b} ")).collect::<String>().trim_end().into()
    }

    #[test]
    fn a_conductor_that_does_not_carry_is_broken_unless_its_whole_side_is() {
        assert_eq!(conductors(0b1111).on, 0);
        for post in 0..4 {
            let told = conductors(!(1 << post) & EVERY_POST);
            assert_eq!((told.on, told.known, told.untold), (1 << post, EVERY_POST, false));
        }
        for carries in [0b1010, 0b0101, 0b1001, 0b0110] {
            assert_eq!(conductors(carries).on, !carries & EVERY_POST);
        }
        for carries in [0, 0b0001, 0b0100, 0b1000, 0b0010, 0b0011, 0b1100] {
            let told = conductors(carries);
            assert_eq!((told.on, told.known, told.untold), (0, 0, true), "{carries:04b}");
        }
    }

    #[test]
    fn pairs_that_are_driven_alike_are_not_watched() {
        assert_eq!(named(pairs(&ACROSS, 0, 0).watched), "13 14 23 24");
        assert_eq!(named(pairs(&ALONG, 0, 0).watched), "12 14 23 34");
    }

    #[test]
    fn two_that_carry_touch() {
        for drives in [ACROSS, ALONG] {
            for (n, (a, b)) in Post::PAIRS.into_iter().enumerate() {
                let told = pairs(&drives, bit(a) | bit(b), 0);
                let alike = drives[a.index()] == drives[b.index()];
                assert_eq!(told.on, if alike { 0 } else { 1 << n });
                assert_eq!(told.untold, alike);
            }
        }
    }

    #[test]
    fn a_third_touches_what_it_is_unlike() {
        assert_eq!(named(pairs(&ACROSS, 0b0111, 0).on), "13 23");
        assert_eq!(named(pairs(&ACROSS, 0b1101, 0).on), "13 14");
        assert!(pairs(&ACROSS, 0b0001, 0).untold);
    }

    #[test]
    fn of_all_four_only_what_was_before_tells_who_touches_whom() {
        let told = pairs(&ACROSS, 0b1111, 0);
        assert_eq!((told.on, told.known, told.untold), (0, 0, true));
        let one_three = pairs(&ACROSS, 0b0101, 0).on;
        let told = pairs(&ACROSS, 0b1111, one_three);
        assert_eq!((named(told.on).as_str(), told.untold), ("13 24", false));
        let told = pairs(&ACROSS, 0b1111, pairs(&ACROSS, 0b0111, 0).on);
        assert_eq!((named(told.on).as_str(), told.untold), ("13 23", true));
    }
}
