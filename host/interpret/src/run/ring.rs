//! The end plug: the resistance of its ring between any two of its terminals.

use runproof_protocol::Post;

use crate::capture::Plug;

/// The end plug's ring.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ring {
    ohm: [f64; 4],
}

/// Terminals 1–4 stand on the ring in the order 1, 3, 4, 2.
const PLACE: [usize; 4] = [0, 3, 1, 2];

impl Ring {
    pub(crate) fn of(plug: &Plug) -> Self {
        Self { ohm: plug.ring_ohm }
    }

    /// With resistors that are off by these fractions.
    pub(crate) fn off_by(&self, off: [f64; 4]) -> Self {
        Self { ohm: std::array::from_fn(|n| self.ohm[n] * (1.0 + off[n])) }
    }

    /// Between two terminals: the resistors on one way, S, in parallel with those on the other:
    /// S (T − S)/T.
    pub(crate) fn between_ohm(&self, a: Post, b: Post) -> f64 {
        let (way, total) = self.way(a, b);
        way * (total - way) / total
    }

    /// How far [`between_ohm`](Self::between_ohm) changes per fraction that each resistor changes.
    pub(crate) fn sensitivity_ohm(&self, a: Post, b: Post) -> [f64; 4] {
        let (way, total) = self.way(a, b);
        std::array::from_fn(|n| {
            let share = if on_the_way(n, a, b) { 1.0 - way / total } else { way / total };
            self.ohm[n] * share * share
        })
    }

    fn way(&self, a: Post, b: Post) -> (f64, f64) {
        let on_way = (0..4).filter(|n| on_the_way(*n, a, b));
        (on_way.map(|n| self.ohm[n]).sum(), self.ohm.iter().sum())
    }
}

/// Resistor n lies between places n and n + 1.
fn on_the_way(n: usize, a: Post, b: Post) -> bool {
    let (a, b) = (PLACE[a.index()], PLACE[b.index()]);
    (a.min(b)..a.max(b)).contains(&n)
}

#[test]
fn the_ring_is_two_ways_in_parallel() {
    let ring = Ring { ohm: [33.2, 47.5, 68.1, 150.0] };
    let parallel = |a: f64, b: f64| a * b / (a + b);
    let expected = [
        parallel(150.0, 33.2 + 47.5 + 68.1),
        parallel(33.2, 47.5 + 68.1 + 150.0),
        parallel(33.2 + 47.5, 68.1 + 150.0),
        parallel(33.2 + 150.0, 47.5 + 68.1),
        parallel(68.1, 33.2 + 47.5 + 150.0),
        parallel(47.5, 33.2 + 68.1 + 150.0),
    ];
    for ((a, b), expected) in Post::PAIRS.into_iter().zip(expected) {
        assert!((ring.between_ohm(a, b) - expected).abs() < 1e-12, "{a} {b}");
        // A resistance is homogeneous of degree one in its parts (Euler).
        let sum: f64 = ring.sensitivity_ohm(a, b).iter().sum();
        assert!((sum - expected).abs() < 1e-12, "{a} {b}");
    }
}
