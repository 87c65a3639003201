//! One reel, drawn at random: its wire, how warm it is, what is declared of it.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Circuitry, EndPlug, JigState, Run, Scene};
use runproof_interpret::copper::{CelsiusRange, Gauge, Surface};
use runproof_interpret::reel::{Declared, Marks};

/// Sizes that control cable is made of, and their makes.
const AWG: [&str; 5] = ["16awg", "18awg", "20awg", "22awg", "24awg"];
const MM2: [&str; 4] = ["1.5mm2", "1mm2", "0.75mm2", "0.5mm2"];
const LENGTH_M: [f64; 2] = [5.0, 300.0];
const COPPER_C: [f64; 2] = [0.0, 35.0];
/// How wide an interval of temperature is declared; the truth lies anywhere in it.
const WIDE_K: [f64; 4] = [1.0, 2.0, 4.0, 8.0];
/// Of cores of one reel about their mean.
const SIBLING_SPREAD: f64 = 0.01;
const CAPACITANCE_SPREAD: f64 = 0.015;
const PF_PER_M: [f64; 2] = [70.0, 160.0];
/// Copper-clad aluminium against copper of the same size: from 17 % of copper by volume to the least conductivity that
/// class 10A of ASTM B566 allows.
const COPPER_CLAD: [f64; 2] = [1.479, 1.590];
/// Printed marks: so far off as a fraction, and so many metres beyond them at each end.
const MARKS_OFF: f64 = 0.01;
const END_M: f64 = 0.3;
const ZEROED: f64 = 0.75;
const JIG_C: [f64; 2] = [15.0, 30.0];
const JIG_APART_K: [f64; 2] = [-10.0, 10.0];

/// What a reel is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Copper of the declared size.
    Copper,
    /// The same, of 18 AWG solid plain, 150 m, at ± 2 K, with a wire tolerance that is told or not.
    Bar,
    /// Copper-clad aluminium of the declared size.
    CopperClad,
    /// Copper of the next thinner size that is sold.
    Thinner,
    /// Copper of the declared size, still warming.
    Warming,
}

/// A reel, and how it can be drawn again.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    pub(crate) jig_seed: u64,
    pub(crate) kind: Kind,
    /// As it really is.
    pub(crate) gauge: Gauge,
    pub(crate) scene: Scene,
    pub(crate) declared: Declared,
    /// The mean of its cores as they lie.
    pub(crate) ohm: f64,
    pub(crate) zeroed_at_c: Option<f64>,
}

impl Drawn {
    /// The reel of this number: always the same, whatever others are drawn.
    pub(crate) fn of(seed: u64, index: u64) -> Self {
        let mut all = Pcg32::seed_from_u64(seed);
        all.advance(index.wrapping_mul(4));
        let jig_seed = u64::from(all.random::<u32>());
        let mut random = Pcg32::seed_from_u64(all.random());
        let random = &mut random;
        let kind = match random.random_range(0..100) {
            0..55 => Kind::Copper,
            55..65 => Kind::Bar,
            65..85 => Kind::CopperClad,
            85..95 => Kind::Thinner,
            _ => Kind::Warming,
        };
        let wire = Wire::drawn(kind, random);
        let length_m = match (kind, random.random_bool(0.5)) {
            (Kind::Bar, _) => 150.0,
            (_, true) => random.random_range(LENGTH_M[0]..LENGTH_M[1]),
            (_, false) => {
                LENGTH_M[0] * (LENGTH_M[1] / LENGTH_M[0]).powf(random.random_range(0.0..1.0))
            }
        };
        let wide_k = if kind == Kind::Bar { 4.0 } else { WIDE_K[random.random_range(0..4)] };
        let coldest_c = random.random_range(COPPER_C[0]..COPPER_C[1]);
        let copper_c = coldest_c + random.random_range(0.0..wide_k);
        let zero_c = random.random_range(JIG_C[0]..JIG_C[1]);
        let celsius = zero_c + random.random_range(JIG_APART_K[0]..JIG_APART_K[1]);
        let mut scene = Scene {
            about: String::new(),
            run: Run {
                length_m,
                ohm_per_km: wire.ohm_per_km,
                copper_c,
                warms_k_per_min: match kind {
                    Kind::Warming => 0.05 * 40.0_f64.powf(random.random_range(0.0..1.0)),
                    _ => 0.0,
                },
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
            jig: JigState { celsius, plug_celsius: celsius, ..JigState::default() },
        };
        // A tolerance is of the mean of a reel's cores; they scatter about it.
        let told = scene.run.ohm_per_km * length_m / 1e3 * (1.0 + 0.00393 * (copper_c - 20.0));
        let cores = Circuitry::new(scene.clone(), jig_seed).conductors_ohm();
        scene.run.ohm_per_km *= told / (cores.iter().sum::<f64>() / 4.0);
        let ends_m = random.random_range(-END_M..END_M) + random.random_range(-END_M..END_M);
        let marked_m = (length_m + ends_m) / (1.0 + random.random_range(-MARKS_OFF..MARKS_OFF));
        let marks = random.random_bool(0.7).then(|| Marks::try_from([100.0, 100.0 + marked_m]));
        let declared = Declared {
            gauge: Some(wire.declared),
            surface: Some(wire.surface),
            wire_tolerance_percent: wire.tolerance_percent,
            copper_c: CelsiusRange::try_from([coldest_c, coldest_c + wide_k]).ok(),
            marks: marks.and_then(Result::ok),
            ..Declared::default()
        };
        let zeroed_at_c = random.random_bool(ZEROED).then_some(zero_c);
        Self { jig_seed, kind, gauge: wire.gauge, scene, declared, ohm: told, zeroed_at_c }
    }
}

struct Wire {
    declared: Gauge,
    gauge: Gauge,
    surface: Surface,
    tolerance_percent: Option<f64>,
    /// The mean of its cores at 20 °C.
    ohm_per_km: f64,
}

impl Wire {
    /// Anywhere within what the standard allows the size, or within a tolerance that is told.
    fn drawn(kind: Kind, random: &mut Pcg32) -> Self {
        let sizes: &[&str] = if random.random_bool(0.5) { &AWG } else { &MM2 };
        let solid = random.random_bool(0.5);
        let plain = random.random_bool(0.75);
        // The thinnest has no thinner one among these.
        let last = sizes.len() - usize::from(kind == Kind::Thinner);
        let nth = random.random_range(0..last);
        let make = if solid { "solid" } else { "stranded" };
        let of = |size: &str, make: &str| format!("{size}-{make}").parse().expect("a gauge");
        let (declared, surface): (Gauge, _) = match kind {
            Kind::Bar => (of("18awg", "solid"), Surface::Plain),
            _ => (of(sizes[nth], make), if plain { Surface::Plain } else { Surface::Tinned }),
        };
        let gauge = match kind {
            Kind::Thinner => of(sizes[nth + 1], make),
            _ => declared,
        };
        let tolerance_percent = random.random_bool(0.5).then_some(1.0);
        let bounds = Declared {
            gauge: Some(gauge),
            surface: Some(surface),
            wire_tolerance_percent: tolerance_percent,
            ..Declared::default()
        };
        let bounds = bounds.wire().expect("a gauge was declared");
        let copper = random.random_range(bounds.least_ohm_per_km..bounds.most_ohm_per_km);
        let clad = match kind {
            Kind::CopperClad => random.random_range(COPPER_CLAD[0]..COPPER_CLAD[1]),
            _ => 1.0,
        };
        Self { declared, gauge, surface, tolerance_percent, ohm_per_km: copper * clad }
    }
}
