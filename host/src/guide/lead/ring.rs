//! The ring of the end plug, as it is seen through a lead: is it in, and has it gone?

use runproof_interpret::{Glance, THROUGH_THE_PLUG_OHM};

/// Of what was joined before, so much is joined no more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Gone {
    /// Nothing.
    Not,
    /// Something, and something of the ring is left.
    InPart,
    /// All that can be the ring's.
    Whole,
}

/// Two posts at least meet as they do through the ring. With a short beside it others meet by metal.
pub(super) fn ring_is_in(glance: &Glance) -> bool {
    glance.ohm.iter().any(|ohm| THROUGH_THE_PLUG_OHM.contains(ohm))
}

/// How the fixture stands `now`, against how it `stood` with both ends in.
pub(super) fn gone(now: &Glance, stood: &Glance) -> Gone {
    let (joined, were) = (count(now), count(stood));
    // A single path of some ohms between two conductors is the lead's own, where more were joined before.
    let is_left = ring_is_in(now) && (joined > 1 || were <= 1);
    match (joined < were, is_left) {
        (_, false) if joined < were || were == 0 => Gone::Whole,
        (true, true) => Gone::InPart,
        _ => Gone::Not,
    }
}

fn count(glance: &Glance) -> usize {
    glance.joined().iter().filter(|joined| **joined).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    const NO: f64 = f64::INFINITY;
    const IN: Glance = Glance { ohm: [75.0, 29.4, 61.0, 64.6, 51.3, 40.0] };

    fn after(ohm: [f64; 6], stood: [f64; 6]) -> Gone {
        gone(&Glance { ohm }, &Glance { ohm: stood })
    }

    #[test]
    fn the_ring_goes_post_by_post_and_a_short_stays() {
        assert!(ring_is_in(&IN) && !ring_is_in(&Glance::OPEN));
        assert_eq!(after(IN.ohm, IN.ohm), Gone::Not);
        assert_eq!(after([75.0, 29.4, NO, 64.6, NO, NO], IN.ohm), Gone::InPart);
        assert_eq!(after([NO; 6], IN.ohm), Gone::Whole);
        let short = [0.1, 27.0, 41.0, 27.0, 41.0, 41.0];
        assert_eq!(after([0.1, NO, NO, NO, NO, NO], short), Gone::Whole);
        assert!(!ring_is_in(&Glance { ohm: [0.1, NO, NO, NO, NO, NO] }), "end A alone");
        assert_eq!(after([20.0, NO, NO, NO, NO, NO], short), Gone::Whole, "a poor short");
    }
}
