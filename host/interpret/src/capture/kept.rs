//! A zero as a jig keeps it, and back; only what could stand in a capture as well is taken.

use runproof_protocol::records::{KeptPlug, KeptZero};
use runproof_protocol::{JigParts, Microohms, Millicelsius, Milliohms, Nanoohms, Plug as Ring};

use super::{Head, JigConstants, Zero};

/// What a zero can be; the capture's format says the same.
pub(super) const ZERO_OHM: std::ops::RangeInclusive<f64> = 1.0..=1e3;
pub(super) const ZERO_U_OHM: std::ops::RangeInclusive<f64> = 1e-6..=1.0;
pub(super) const JIG_C: std::ops::RangeInclusive<f64> = -100.0..=200.0;

impl Zero {
    /// For the jig and plug of this head, on the jig; none, if the plug's name is too long for it.
    #[must_use]
    pub fn to_keep(&self, head: &Head) -> Option<KeptZero> {
        Some(KeptZero {
            ohm: self.ohm.map(|ohm| Microohms((ohm * 1e6).round() as u32)),
            u: self.u_ohm.map(|ohm| Nanoohms((ohm * 1e9).round() as u32)),
            jig: self.jig_c.map(|celsius| Millicelsius((celsius * 1e3).round() as i32)),
            taken_unix_s: self.taken_unix_s,
            series: head.jig.series_ohm.map(milliohms),
            plug: head.plug.to_keep()?,
        })
    }

    /// As it was kept; none, if it can be no zero.
    #[must_use]
    pub fn kept(kept: &KeptZero) -> Option<Self> {
        let zero = Self {
            ohm: kept.ohm.map(|ohm| f64::from(ohm.0) / 1e6),
            u_ohm: kept.u.map(|ohm| f64::from(ohm.0) / 1e9),
            jig_c: kept.jig.map(|celsius| f64::from(celsius.0) / 1e3),
            taken_unix_s: kept.taken_unix_s,
        };
        let can_be = zero.ohm.iter().all(|ohm| ZERO_OHM.contains(ohm))
            && zero.u_ohm.iter().all(|ohm| ZERO_U_OHM.contains(ohm))
            && zero.jig_c.is_none_or(|celsius| JIG_C.contains(&celsius));
        can_be.then_some(zero)
    }
}

impl Head {
    /// Whether a zero that the jig keeps was taken with these parts and this plug.
    #[must_use]
    pub fn is_of(&self, kept: &KeptZero) -> bool {
        kept.series == self.jig.series_ohm.map(milliohms)
            && self.plug.to_keep().as_ref() == Some(&kept.plug)
    }
}

impl JigConstants {
    /// The values of its parts, on the jig.
    #[must_use]
    pub fn to_keep(&self) -> JigParts {
        JigParts {
            series: self.series_ohm.map(milliohms),
            series_tolerance_ppm: (self.series_tolerance * 1e6).round() as u32,
            pull: milliohms(self.pull_ohm),
            divider: milliohms(self.divider_ohm),
            sense: milliohms(self.sense_ohm),
        }
    }
}

impl super::Plug {
    /// On the jig; none, if its name is too long.
    #[must_use]
    pub fn to_keep(&self) -> Option<KeptPlug> {
        Some(KeptPlug {
            name: self.id.parse().ok()?,
            plug: Ring {
                ring: self.ring_ohm.map(milliohms),
                tolerance_ppm: (self.tolerance * 1e6).round() as u32,
            },
        })
    }
}

fn milliohms(ohm: f64) -> Milliohms {
    Milliohms((ohm * 1e3).round() as u64)
}

#[test]
fn a_zero_comes_back_as_it_went() {
    let zero = Zero {
        ohm: [42.123_456, 52.0, 63.0, 74.0, 85.0, 999.999_999],
        u_ohm: [0.000_123_456; 6],
        jig_c: Some(-12.345),
        taken_unix_s: 1_790_000_000,
    };
    let identity = runproof_protocol::Identity {
        serial: Default::default(),
        board: Default::default(),
        firmware: Default::default(),
        parts: runproof_protocol::JigParts {
            series: [Milliohms(346_000); 4],
            series_tolerance_ppm: 15_000,
            pull: Milliohms(100_000_000),
            divider: Milliohms(4_522_000_000),
            sense: Milliohms(3_197_279),
        },
        plug: Ring { ring: [33_200, 47_500, 68_100, 150_000].map(Milliohms), tolerance_ppm: 1_000 },
        supply_load: Milliohms(0),
    };
    let mut head = super::head_from(&identity, "test").expect("plausible");
    let kept = zero.to_keep(&head).expect("fits");
    assert_eq!(Zero::kept(&kept), Some(zero));
    assert!(head.is_of(&kept));
    head.plug.id = "B".into();
    assert!(!head.is_of(&kept));
    head.plug.id = "a name that is too long".into();
    assert_eq!(zero.to_keep(&head), None);
    let absurd = KeptZero { ohm: [Microohms(999); 6], ..kept.clone() };
    assert_eq!(Zero::kept(&absurd), None);
    let absurd = KeptZero { jig: Some(Millicelsius(200_001)), ..kept };
    assert_eq!(Zero::kept(&absurd), None);
}
