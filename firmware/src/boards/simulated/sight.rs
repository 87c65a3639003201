//! What a converter's input sees: a voltage, which may be held within the rails.

use super::Nanoseconds;
use super::circuit::Emf;

/// The difference of two nodes.
#[derive(Clone, Debug)]
pub(super) enum Sight {
    /// As the circuit has it.
    Free(Emf),
    /// Each of the two is held within these volts.
    Held {
        plus: Emf,
        minus: Emf,
        /// Least and most.
        within_v: [f64; 2],
    },
}

/// So often a voltage is looked at that is held for a part of the time.
const STEP_NANOS: u64 = 2_000;

impl Sight {
    /// Nothing is held where neither goes beyond the rails.
    pub(super) fn new(plus: Emf, minus: Emf, held_within_v: Option<[f64; 2]>) -> Self {
        let beyond = |emf: &Emf, [least_v, most_v]: [f64; 2]| {
            let [low_v, high_v] = emf.bounds();
            low_v < least_v || high_v > most_v
        };
        match held_within_v {
            Some(within_v) if beyond(&plus, within_v) || beyond(&minus, within_v) => {
                Self::Held { plus, minus, within_v }
            }
            _ => Self::Free(plus - minus),
        }
    }

    /// Its integral over time, in volts times nanoseconds.
    pub(super) fn area(&self, from: Nanoseconds, to: Nanoseconds) -> f64 {
        match self {
            Self::Free(emf) => emf.area(from, to),
            Self::Held { plus, minus, within_v: [least_v, most_v] } => {
                let at = |emf: &Emf, seconds: f64| {
                    let radians = |hertz: f64| std::f64::consts::TAU * hertz * seconds;
                    emf.at(seconds, radians).clamp(*least_v, *most_v)
                };
                let steps = (to - from).div_ceil(STEP_NANOS);
                let step_nanos = (to - from) as f64 / steps as f64;
                let middle_s = |n: u64| (from as f64 + (n as f64 + 0.5) * step_nanos) * 1e-9;
                let volts: f64 = (0..steps).map(middle_s).map(|s| at(plus, s) - at(minus, s)).sum();
                volts * step_nanos
            }
        }
    }
}
