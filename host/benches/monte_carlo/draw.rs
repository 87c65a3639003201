//! One run, drawn at random: its wire, its fault, and what else is on it.

mod faults;
mod hum;

use std::fmt;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{EndPlug, JigState, Run, Scene};
use runproof_interpret::copper::{CelsiusRange, Gauge, Length, expected_ohm};

use crate::class::Class;

/// Sizes that control cable is made of.
const AWG: [u8; 5] = [16, 18, 20, 22, 24];
const LENGTH_M: [f64; 2] = [1.0, 150.0];
const COPPER_C: [f64; 2] = [-20.0, 70.0];
/// Standard deviations of cores from their mean.
const SIBLING_SPREAD: f64 = 0.02;
const CAPACITANCE_SPREAD: f64 = 0.015;
/// The jig when it is zeroed, and how far from that when it measures; the end plug outdoors.
const ZEROED: f64 = 0.75;
const JIG_C: [f64; 2] = [10.0, 40.0];
const JIG_APART_K: [f64; 2] = [-30.0, 30.0];
const PLUG_C: [f64; 2] = [-20.0, 70.0];
/// Of one conductor to the other three: what the sheet allows.
const PF_PER_M: [f64; 2] = [70.0, 160.0];

/// A run, and how it can be drawn again.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    pub(crate) index: u64,
    /// Parts, contacts, siblings and noise are drawn from it.
    pub(crate) jig_seed: u64,
    pub(crate) class: Class,
    pub(crate) awg: u8,
    pub(crate) scene: Scene,
    /// The length was drawn so that each is as likely; else, each decade.
    pub(crate) is_of_even_length: bool,
    /// The operator says that both ends were seen lifted.
    pub(crate) lifted: bool,
    /// The jig was zeroed when it was so warm, in °C.
    pub(crate) zeroed_at_c: Option<f64>,
}

impl Drawn {
    /// The run of this number: always the same, whatever others are drawn.
    pub(crate) fn of(seed: u64, index: u64) -> Self {
        let mut all = Pcg32::seed_from_u64(seed);
        all.advance(index.wrapping_mul(4));
        let jig_seed = u64::from(all.random::<u32>());
        let mut random = Pcg32::seed_from_u64(all.random());
        let random = &mut random;
        let class = Class::of_percent(random.random_range(0..100));
        let awg = AWG[random.random_range(0..AWG.len())];
        let is_of_even_length = random.random_bool(0.5);
        let length_m = if is_of_even_length {
            random.random_range(LENGTH_M[0]..LENGTH_M[1])
        } else {
            logarithmic(random, LENGTH_M)
        };
        let mut scene = Scene {
            about: String::new(),
            run: Run {
                length_m,
                ohm_per_km: ohm_per_km(awg),
                copper_c: random.random_range(COPPER_C[0]..COPPER_C[1]),
                warms_k_per_min: 0.0,
                pf_per_m: random.random_range(PF_PER_M[0]..PF_PER_M[1]) / 3.0,
                sibling_spread: SIBLING_SPREAD,
                capacitance_spread: CAPACITANCE_SPREAD,
                clipped_to: [1, 2, 3, 4],
                arrives_at: [1, 2, 3, 4],
                plugged_to: [1, 2, 3, 4],
                open: vec![],
                joint: vec![],
                short: vec![],
            },
            plug: EndPlug::GoesIn,
            left_on: vec![],
            source: vec![],
            touch: vec![],
            flexed: vec![],
            key_out_s: f64::INFINITY,
            key_reversed_s: f64::INFINITY,
            jig: JigState::default(),
        };
        faults::put(class, &mut scene, random);
        scene.source.extend(hum::any(class, random));
        let lifted = random.random_bool(0.5) && class != Class::Device;
        let zero_c = random.random_range(JIG_C[0]..JIG_C[1]);
        scene.jig = JigState {
            celsius: zero_c + random.random_range(JIG_APART_K[0]..JIG_APART_K[1]),
            plug_celsius: random.random_range(PLUG_C[0]..PLUG_C[1]),
            ..JigState::default()
        };
        let zeroed_at_c = random.random_bool(ZEROED).then_some(zero_c);
        Self { index, jig_seed, class, awg, scene, is_of_even_length, lifted, zeroed_at_c }
    }

    /// What couples in from the mains, rms.
    pub(crate) fn hum_microamperes(&self) -> Option<f64> {
        self.scene.source.first().map(|source| 1e6 * hum::amperes(source))
    }
}

/// Each decade as likely.
fn logarithmic(random: &mut Pcg32, [least, most]: [f64; 2]) -> f64 {
    least * (most / least).powf(random.random_range(0.0..1.0))
}

/// Solid, at 20 °C.
fn ohm_per_km(awg: u8) -> f64 {
    let gauge: Gauge = format!("{awg}awg-solid").parse().expect("a gauge");
    let at_20_c: CelsiusRange = "20C".parse().expect("a temperature");
    expected_ohm(gauge, Length::from_metres(1_000.0).expect("a length"), at_20_c).ohm
}

/// On one line.
impl fmt::Display for Drawn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { index, jig_seed, class, awg, scene, lifted, zeroed_at_c, .. } = self;
        let Run { length_m, copper_c, pf_per_m, .. } = scene.run;
        write!(f, "run {index} jig {jig_seed} {}: ", class.name())?;
        write!(f, "{awg} AWG {length_m:.2} m {copper_c:.1} °C {:.0} pF/m", 3.0 * pf_per_m)?;
        let run = &scene.run;
        for (what, map) in [
            ("clipped to", run.clipped_to),
            ("arrives at", run.arrives_at),
            ("plugged to", run.plugged_to),
        ] {
            if map != [1, 2, 3, 4] {
                write!(f, ", {what} {map:?}")?;
            }
        }
        for open in &run.open {
            write!(f, ", open {} at {:.3}", open.post, open.at)?;
        }
        for joint in &run.joint {
            write!(f, ", joint {} at {:.3} {:.3} Ω", joint.post, joint.at, joint.ohm)?;
        }
        for short in &run.short {
            write!(f, ", path {:?} at {:.3} {:.4} Ω", short.posts, short.at, short.ohm)?;
        }
        for device in &scene.left_on {
            write!(f, ", device {:?} {} Ω", device.between, device.ohm)?;
        }
        for hum in &scene.source {
            let microamperes = 1e6 * hum::amperes(hum);
            write!(f, ", hum {:?} {microamperes:.2} µA {} Hz", hum.between, hum.hertz)?;
        }
        let plug = if scene.plug == EndPlug::Out { ", no plug" } else { "" };
        let JigState { celsius, plug_celsius, .. } = scene.jig;
        write!(f, "{plug}, jig {celsius:.0} °C, plug {plug_celsius:.0} °C")?;
        if let Some(celsius) = zeroed_at_c {
            write!(f, ", zeroed at {celsius:.0} °C")?;
        }
        f.write_str(if *lifted { ", told lifted" } else { "" })
    }
}
