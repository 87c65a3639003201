//! One powered run, drawn at random: its supply, its pair, what else is on it, and what is true of it.

use std::f64::consts::{PI, SQRT_2};

use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::Scene;

/// Between the lines, whether it sends or rests.
const SENDER_OHM: f64 = 60.0;

/// What the supply is, and the words of a scene for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Supply {
    Sine,
    HalfWave,
    FullWave,
    Direct,
    None,
}

/// How the jig was zeroed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Zeroed {
    Fresh,
    Stale,
    Not,
}

/// A run, and what is true of it.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    pub(crate) index: u64,
    pub(crate) jig_seed: u64,
    pub(crate) text: String,
    pub(crate) zeroed: Zeroed,
    pub(crate) supply: Supply,
    /// Supply against common: all there is, and its mean.
    pub(crate) supply_rms_v: f64,
    pub(crate) supply_direct_v: f64,
    pub(crate) hertz: f64,
    /// Data+ against data−, at rest.
    pub(crate) bias_v: f64,
    pub(crate) is_busy: bool,
    pub(crate) hums: bool,
    /// Between any two posts: alternating rms, and the mean's size.
    pub(crate) most_rms_v: f64,
    pub(crate) most_direct_v: f64,
    /// Of the supply, at any instant.
    pub(crate) peak_v: f64,
    /// Between the supply and the jig: its own, the wire's, a joint's.
    pub(crate) source_ohm: f64,
    /// What the supply is when it is loaded, of what it was alone half a second before.
    pub(crate) then: f64,
    /// Data+ and data−: how far each stands from where one that hangs on nothing would.
    pub(crate) off_star_v: [f64; 2],
}

impl Drawn {
    /// The run of this number: always the same, whatever others are drawn.
    pub(crate) fn of(seed: u64, index: u64) -> Self {
        let mut all = Pcg32::seed_from_u64(seed);
        all.advance(index.wrapping_mul(4));
        let jig_seed = u64::from(all.random::<u32>());
        let mut random = Pcg32::seed_from_u64(all.random());
        let random = &mut random;
        let mains = if random.random_bool(0.5) { 50.0 } else { 60.0 };
        let hertz: f64 = mains + random.random_range(-0.5..0.5);
        // What a jig whose seconds are too short or too long sees of it; from a source of its own, so that nothing else is drawn otherwise.
        let beside = &mut Pcg32::new(jig_seed, BESIDE);
        let seen_hertz = hertz / (1.0 + beside.random_range(-CRYSTAL..CRYSTAL));
        let changes: f64 = beside.sample(StandardNormal);
        let supply = match random.random_range(0..100) {
            0..60 => Supply::Sine,
            60..66 => Supply::HalfWave,
            66..72 => Supply::FullWave,
            72..92 => Supply::Direct,
            _ => Supply::None,
        };
        // One of ten is far beyond what a control run may have.
        let grave = random.random_bool(0.1);
        // From a source of its own, so that nothing else is drawn otherwise.
        let joint_ohm = joint(&mut Pcg32::new(jig_seed, JOINTS));
        let (mut text, wires_ohm) = run(random, joint_ohm);
        let volts =
            if grave { random.random_range(30.0..60.0) } else { random.random_range(15.0..30.0) };
        let harmonics = if supply == Supply::Sine { harmonics(random, volts) } else { [0.0; 2] };
        let (rms_v, direct_v, own_ohm) =
            push_supply(&mut text, random, supply, volts, seen_hertz, harmonics);
        let is_busy = random.random_bool(0.2);
        let (bias_v, mean_v) = push_pair(&mut text, random, is_busy);
        let hums = random.random_bool(0.2);
        if hums {
            push_hum(&mut text, random, seen_hertz);
        }
        if is_busy {
            push_traffic(&mut text, random);
        }
        let zeroed = match random.random_range(0..100) {
            0..70 => Zeroed::Fresh,
            70..85 => Zeroed::Stale,
            _ => Zeroed::Not,
        };
        let alternating = (rms_v * rms_v - direct_v * direct_v).max(0.0).sqrt();
        Self {
            index,
            jig_seed,
            text,
            zeroed,
            supply,
            supply_rms_v: rms_v,
            supply_direct_v: direct_v,
            hertz,
            bias_v,
            is_busy,
            hums,
            source_ohm: own_ohm + wires_ohm + joint_ohm,
            then: 1.0 + SUPPLY_CHANGES * changes,
            off_star_v: off_star_v(
                [mean_v + bias_v / 2.0, mean_v - bias_v / 2.0],
                supply,
                direct_v,
            ),
            peak_v: match supply {
                Supply::None => 0.0,
                Supply::Direct => volts,
                _ => volts * SQRT_2 + harmonics[0] * SQRT_2 + harmonics[1] * SQRT_2,
            },
            most_rms_v: alternating,
            most_direct_v: most_apart_v([
                mean_v + bias_v / 2.0,
                mean_v - bias_v / 2.0,
                0.0,
                direct_v,
            ]),
        }
    }

    pub(crate) fn scene(&self) -> Scene {
        Scene::read(&self.text).unwrap_or_else(|error| panic!("{error}: {}", self.text))
    }
}

const JOINTS: u64 = 99;
const BESIDE: u64 = 98;

/// A crystal's tolerance, as parts of 30 ppm have it: anywhere within.
const CRYSTAL: f64 = 30e-6;
/// How much a supply changes between two readings half a second apart, standard deviation. (judgement)
const SUPPLY_CHANGES: f64 = 1e-3;

/// One of five supplies comes through a bad joint.
fn joint(random: &mut Pcg32) -> f64 {
    if random.random_bool(0.2) { random.random_range(1.0..60.0) } else { 0.0 }
}

/// Its length, which matters to the supply load alone: what else a jig draws are microamperes. And what supply and
/// common have in ohms: copper at 25 °C has 1 + 5 × 0.00393 of its resistance at 20 °C (IEC 60028).
fn run(random: &mut Pcg32, joint_ohm: f64) -> (String, f64) {
    let length_m: f64 = random.random_range(1.0..150.0);
    let mut text = format!(
        "about = \"drawn\"\nplug = \"out\"\n\n[run]\nlength_m = {length_m}\nohm_per_km = 20.95\ncopper_c = 25.0\n\
         arrives_at = [1, 2, 3, 4]\nsibling_spread = 0.0\n"
    );
    if joint_ohm > 0.0 {
        text += &format!("[[run.joint]]\npost = 4\nat = 0.5\nohm = {joint_ohm:?}\n");
    }
    (text, 2.0 * length_m * 0.02095 * (1.0 + 5.0 * 0.00393))
}

/// The second and the third, up to a twentieth each.
fn harmonics(random: &mut Pcg32, volts: f64) -> [f64; 2] {
    [(); 2].map(|()| volts * random.random_range(0.0..0.05))
}

/// All there is, rms, its mean, and the source's own ohms. Of a rectified sine with the peak p the mean is p/π of half waves and 2p/π
/// of full ones, all of it p/2 and p/√2: textbook, from memory.
fn push_supply(
    text: &mut String,
    random: &mut Pcg32,
    supply: Supply,
    volts: f64,
    hertz: f64,
    harmonics: [f64; 2],
) -> (f64, f64, f64) {
    let ohm: f64 = random.random_range(0.3..3.0);
    let degrees: f64 = random.random_range(0.0..360.0);
    let peak = volts * SQRT_2;
    let shape = match supply {
        Supply::None => return (0.0, 0.0, ohm),
        Supply::Direct => {
            let signed = if random.random_bool(0.8) { volts } else { -volts };
            *text += &source([4, 3], &format!("direct_v = {signed}"), ohm);
            return (volts, signed, ohm);
        }
        Supply::Sine => "sine",
        Supply::HalfWave => "half-wave",
        Supply::FullWave => "full-wave",
    };
    let wave = format!(
        "volts_rms = {volts}\nhertz = {hertz}\nphase_degrees = {degrees}\nshape = \"{shape}\""
    );
    *text += &source([4, 3], &wave, ohm);
    for (nth, rms_v) in harmonics.iter().enumerate().filter(|(_, volts)| **volts > 0.0) {
        let degrees: f64 = random.random_range(0.0..360.0);
        let times = nth + 2;
        *text += &format!(
            "[[source.harmonic]]\ntimes = {times}\nvolts_rms = {rms_v}\nphase_degrees = {degrees}\n"
        );
    }
    let [second, third] = harmonics;
    match supply {
        Supply::HalfWave => (peak / 2.0, peak / PI, ohm),
        Supply::FullWave => (volts, 2.0 * peak / PI, ohm),
        _ => ((volts * volts + second * second + third * third).sqrt(), 0.0, ohm),
    }
}

/// A source and a resistor a line, and none, one or two terminators; a third lies around the threshold.
fn push_pair(text: &mut String, random: &mut Pcg32, is_busy: bool) -> (f64, f64) {
    let mean_v: f64 = random.random_range(1.5..3.0);
    let rest_v: f64 = match random.random_range(0..3) {
        0 => random.random_range(-1.0..1.0),
        1 => random.random_range(0.17..0.23),
        _ => random.random_range(-0.23..-0.17),
    };
    let ohm: f64 = random.random_range(100.0..1_000.0);
    let terminator_ohm = [f64::INFINITY, 120.0, 60.0][random.random_range(0..3)];
    // What is left with terminator and sender across is what was drawn.
    let siemens = 1.0 / terminator_ohm + if is_busy { 1.0 / SENDER_OHM } else { 0.0 };
    let part = 1.0 / (1.0 + 2.0 * ohm * siemens);
    let half_v = rest_v / part / 2.0;
    for (line, volts) in [(1, mean_v + half_v), (2, mean_v - half_v)] {
        *text += &source([line, 3], &format!("direct_v = {volts}"), ohm);
    }
    if terminator_ohm.is_finite() {
        *text += &format!("\n[[left_on]]\nbetween = [1, 2]\nohm = {terminator_ohm}\n");
    }
    (rest_v, mean_v)
}

/// Of the steady parts of all four.
fn most_apart_v(posts_v: [f64; 4]) -> f64 {
    let most = posts_v.into_iter().fold(f64::MIN, f64::max);
    most - posts_v.into_iter().fold(f64::MAX, f64::min)
}

/// The load's star is the mean of the posts that are held.
fn off_star_v([plus_v, minus_v]: [f64; 2], supply: Supply, direct_v: f64) -> [f64; 2] {
    let held = if supply == Supply::None { 2.0 } else { 3.0 };
    let off_v = |line_v: f64, other_v: f64| (line_v - (other_v + direct_v) / held).abs();
    [off_v(plus_v, minus_v), off_v(minus_v, plus_v)]
}

fn push_hum(text: &mut String, random: &mut Pcg32, hertz: f64) {
    for line in [1, 2] {
        let pf: f64 = random.random_range(100.0..2_000.0);
        *text += &format!(
            "\n[[source]]\nbetween = [{line}, 3]\nvolts_rms = 120.0\nhertz = {hertz}\nthrough = {{ coupled_pf = {pf} }}\n"
        );
    }
}

fn push_traffic(text: &mut String, random: &mut Pcg32) {
    let seed: u32 = random.random();
    let baud = [9_600.0, 19_200.0, 38_400.0][random.random_range(0..3)];
    let idle: u32 = random.random_range(60..600);
    let traffic = format!(
        "traffic = {{ volts = 2.5, baud = {baud:?}, packet_bits = 90, idle_bits = {idle}, seed = {seed} }}"
    );
    *text += &source([1, 2], &traffic, SENDER_OHM);
}

fn source(between: [u8; 2], what: &str, ohm: f64) -> String {
    format!("\n[[source]]\nbetween = {between:?}\n{what}\nthrough = {{ ohm = {ohm:?} }}\n")
}
