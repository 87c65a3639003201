//! Made-up leads, drawn from a seed: what a simulated operator has in the box.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Joint, OpenConductor, Run, Short};
use serde::Serialize;

/// Each is so long: 5.5 ft.
pub(crate) const LENGTH_M: f64 = 1.6764;
/// 18 AWG.
const OHM_PER_KM: f64 = 20.95;

/// What is wrong with a lead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Fault {
    Sound,
    Crossed,
    Open,
    Short,
    HighResistance,
    Damp,
}

/// The first twenty.
const BOX: [Fault; 20] = {
    use Fault::{Crossed, Damp, HighResistance, Open, Short, Sound};
    [
        Sound,
        Sound,
        Crossed,
        Sound,
        Sound,
        Sound,
        Open,
        Sound,
        Sound,
        Sound,
        Short,
        Sound,
        Sound,
        HighResistance,
        Sound,
        Sound,
        Damp,
        Sound,
        Open,
        Sound,
    ]
};

/// Of those behind them, so many in a hundred are sound. (judgement)
const SOUND_PERCENT: u32 = 85;

/// A lead, and what is wrong with it.
pub(crate) struct Lead {
    pub(crate) fault: Fault,
    pub(crate) run: Run,
}

impl Lead {
    /// The lead that lies there `nth`, from 0.
    pub(crate) fn nth(nth: u32, seed: u64) -> Self {
        let mut random = Pcg32::new(seed, u64::from(nth));
        let fault = BOX.get(nth as usize).copied().unwrap_or_else(|| drawn(&mut random));
        let mut run = Run {
            warms_k_per_min: 0.0,
            length_m: LENGTH_M,
            ohm_per_km: OHM_PER_KM * random.random_range(0.98..1.02),
            copper_c: random.random_range(19.0..26.0),
            pf_per_m: random.random_range(27.0..40.0),
            sibling_spread: 0.01,
            capacitance_spread: 0.01,
            clipped_to: [1, 2, 3, 4],
            arrives_at: [1, 2, 3, 4],
            plugged_to: [1, 2, 3, 4],
            open: vec![],
            joint: vec![],
            short: vec![],
        };
        let post = random.random_range(1..=4_u8);
        let other = (post + random.random_range(0..3_u8)) % 4 + 1;
        let at = random.random_range(0.02..0.98);
        match fault {
            Fault::Sound => {}
            Fault::Crossed => {
                run.arrives_at.swap(usize::from(post) - 1, usize::from(other) - 1);
            }
            Fault::Open => run.open.push(OpenConductor { post, at }),
            Fault::Short => {
                let ohm = random.random_range(0.02..2.0);
                run.short.push(Short { posts: [post, other], at, ohm });
            }
            Fault::HighResistance => {
                run.joint.push(Joint { post, at, ohm: random.random_range(0.7..4.0) });
            }
            Fault::Damp => {
                let ohm = random.random_range(8_000.0..60_000.0);
                run.short.push(Short { posts: [post, other], at, ohm });
            }
        }
        Self { fault, run }
    }
}

fn drawn(random: &mut Pcg32) -> Fault {
    use Fault::{Crossed, Damp, HighResistance, Open, Short, Sound};
    if random.random_range(0..100) < SOUND_PERCENT {
        return Sound;
    }
    [Crossed, Open, Short, HighResistance, Damp][random.random_range(0..5_usize)]
}

/// Where chance comes from that is not of one lead.
pub(super) fn chance(seed: u64) -> Pcg32 {
    Pcg32::seed_from_u64(seed)
}
