//! Whether cores, metal and shield are held together, or stand still, told from glances alone; no jig, no screen.

use runproof_interpret::Glance;
use runproof_interpret::to_earth::shows_contact;
use runproof_protocol::Microseconds;

/// They are held together when so many glances in a row say so.
const GLANCES: u32 = 2;

/// What stands apart like this for so long is not being worked on.
const APART_MICROS: u64 = 3_000_000;

/// Nobody holds on for so long who was told to let go: what still meets then is joined. (judgement)
const JOINED_MICROS: u64 = 10_000_000;

/// What glances in a row have shown.
#[derive(Debug)]
pub(super) struct Earthing {
    with_shield: bool,
    /// How it stands, since when, and how often that was seen.
    standing: Option<(Glance, Microseconds, u32)>,
}

impl Earthing {
    pub(super) fn new(with_shield: bool) -> Self {
        Self { with_shield, standing: None }
    }

    /// All are held together now.
    pub(super) fn held(&mut self, at: Microseconds, glance: Glance) -> bool {
        let (_, times) = self.stand(at, glance);
        self.meet(&glance) && times >= GLANCES
    }

    /// Let go, and untouched since; or joined by more than a hand.
    pub(super) fn stands_still(&mut self, at: Microseconds, glance: Glance) -> bool {
        let (since, _) = self.stand(at, glance);
        let needed_micros = if self.meet(&glance) { JOINED_MICROS } else { APART_MICROS };
        at.0.saturating_sub(since.0) >= needed_micros
    }

    /// Cores and all that they must not meet, do.
    pub(super) fn meet(&self, glance: &Glance) -> bool {
        shows_contact(glance, self.with_shield)
    }

    fn stand(&mut self, at: Microseconds, glance: Glance) -> (Microseconds, u32) {
        let meets = self.meet(&glance);
        let (since, times) = match self.standing {
            // A hand's contact moves; what is joined or apart remains so.
            Some((before, since, times)) if self.meet(&before) == meets => {
                if meets || before.like(&glance) { (since, times + 1) } else { (at, 1) }
            }
            _ => (at, 1),
        };
        self.standing = Some((glance, since, times));
        (since, times)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TOUCHED: Glance =
        Glance { ohm: [0.3, 0.4, f64::INFINITY, 0.5, f64::INFINITY, f64::INFINITY] };

    fn at(seconds: f64) -> Microseconds {
        Microseconds((seconds * 1e6) as u64)
    }

    #[test]
    fn held_is_what_two_glances_show() {
        let mut earthing = Earthing::new(true);
        assert!(!earthing.held(at(0.0), Glance::OPEN));
        assert!(!earthing.held(at(0.5), TOUCHED));
        assert!(!earthing.held(at(1.0), Glance::OPEN));
        assert!(!earthing.held(at(1.5), TOUCHED));
        assert!(earthing.held(at(2.0), TOUCHED));
        let metal_only = Glance { ohm: [0.3; 6].map(|ohm: f64| ohm * 1e9) };
        assert!(!earthing.meet(&metal_only));
        let mut metal_only = Glance::OPEN;
        metal_only.ohm[0] = 0.3;
        assert!(Earthing::new(false).meet(&metal_only) && !earthing.meet(&metal_only));
    }

    #[test]
    fn it_stands_still_apart_or_joined() {
        let mut earthing = Earthing::new(false);
        assert!(!earthing.stands_still(at(0.0), TOUCHED));
        assert!(!earthing.stands_still(at(4.0), TOUCHED), "still held");
        assert!(!earthing.stands_still(at(4.5), Glance::OPEN));
        assert!(!earthing.stands_still(at(7.0), Glance::OPEN));
        assert!(earthing.stands_still(at(7.5), Glance::OPEN));
        let mut joined = Earthing::new(false);
        assert!(!joined.stands_still(at(0.0), TOUCHED));
        assert!(joined.stands_still(at(10.0), TOUCHED));
    }
}
