//! The ring of the fixture, as it is seen through a lead.

use runproof_interpret::{Glance, THROUGH_THE_PLUG_OHM};

/// Two posts at least meet as they do through the ring. With a short beside it others meet by metal.
pub(crate) fn ring_is_in(glance: &Glance) -> bool {
    glance.ohm.iter().any(|ohm| THROUGH_THE_PLUG_OHM.contains(ohm))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ring_is_told_from_metal() {
        const NO: f64 = f64::INFINITY;
        assert!(ring_is_in(&Glance { ohm: [75.0, 29.4, 61.0, 64.6, 51.3, 40.0] }));
        assert!(ring_is_in(&Glance { ohm: [0.1, 27.0, 41.0, 27.0, 41.0, 41.0] }), "with a short");
        assert!(!ring_is_in(&Glance { ohm: [0.1, NO, NO, NO, NO, NO] }), "the short alone");
        assert!(!ring_is_in(&Glance::OPEN));
    }
}
