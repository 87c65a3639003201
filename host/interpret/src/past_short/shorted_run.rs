//! A run of like conductors with one short, as the posts see it.

use nalgebra::SVector;
use runproof_protocol::Post;

use crate::map::Map;
use crate::run::Expected;

/// What is read: each two posts with the end plug in, in the order of [`Post::PAIRS`], then the two
/// that are shorted with it out.
pub(super) type Readings = SVector<f64, 7>;

/// One short between two conductors.
#[derive(Clone, Copy, Debug)]
pub(super) struct ShortedRun<'a> {
    pub(super) expected: &'a Expected,
    /// Where the conductors arrive, were the short not there.
    pub(super) map: Map,
    /// Which two are shorted.
    pub(super) posts: (Post, Post),
}

/// How each conductor differs from what they have in common.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Unlike {
    /// Its wire, as a fraction.
    pub(super) wire: [f64; 4],
    /// Its contacts at the jig, in ohms.
    pub(super) near_ohm: [f64; 4],
    /// Its contact at the plug, in ohms.
    pub(super) far_ohm: [f64; 4],
}

impl ShortedRun<'_> {
    /// With conductors of `wire_ohm` each, of which `fraction` lies before a short of `fault_ohm`.
    pub(super) fn readings(
        &self,
        fraction: f64,
        [wire_ohm, fault_ohm]: [f64; 2],
        unlike: &Unlike,
    ) -> Readings {
        let expected = self.expected;
        let wire = unlike.wire.map(|off| wire_ohm * (1.0 + off));
        let near: [f64; 4] = std::array::from_fn(|k| {
            fraction * wire[k] + expected.contacts.near_ohm + unlike.near_ohm[k]
        });
        let far: [f64; 4] = std::array::from_fn(|k| {
            (1.0 - fraction) * wire[k] + expected.contacts.far_ohm + unlike.far_ohm[k]
        });
        // From the short on: a resistance between any two is what the plug has, and both far legs.
        let beyond = |a: Post, b: Post| {
            if a == b {
                return 0.0;
            }
            let plug_ohm = expected.ring.between_ohm(self.map.reaches(a), self.map.reaches(b));
            plug_ohm + far[a.index()] + far[b.index()]
        };
        let (i, j) = self.posts;
        let across_ohm = beyond(i, j) + fault_ohm;
        let mut readings = Readings::zeros();
        for (n, (a, b)) in Post::PAIRS.into_iter().enumerate() {
            // A resistor between i and j takes T²/(R_ij + R) from what is between a and b; T is the
            // voltage between i and j that one ampere from a to b makes (superposition).
            let transfer_ohm = (beyond(a, j) + beyond(b, i) - beyond(a, i) - beyond(b, j)) / 2.0;
            readings[n] = near[a.index()] + near[b.index()] + beyond(a, b)
                - transfer_ohm.powi(2) / across_ohm;
        }
        readings[6] = near[i.index()] + near[j.index()] + fault_ohm;
        readings
    }
}
