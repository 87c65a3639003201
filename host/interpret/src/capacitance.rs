//! What hangs on each post beyond the jig, from how long it takes to rise.
//!
//! Time is in proportion to capacitance: t = R·C·ln(V/(V − threshold)). The same post with the jig
//! alone gives where the scale begins, and with the reference beside it what a picofarad takes; neither
//! the pulls nor the threshold need be known.

use runproof_protocol::{Phase, Picofarads, Post};

use crate::capture::{Capture, JigConstants, Rise};

/// Of the reference, at most: any value within is as likely.
const REFERENCE_TOLERANCE: f64 = 0.01;

/// What a jig has that does not say it: at each sense node, at a post in all, and at a reference line
/// that floats, in picofarads; from a low post to ground, in ohms.
const SENSE_PF: f64 = 1_000.0;
const OWN_PF: f64 = 1_100.0;
const PAD_PF: f64 = 5.0;
const LOW_OHM: f64 = 620.0;

/// With the relays closed the live divider helps the pulls: a rise takes so much less, by the threshold,
/// which may lie from 1.3 to 2 V. [computed]
const DIVIDER_HASTENS: f64 = 0.0057;
/// Of what is corrected, as a fraction of all that hangs on the post. [computed]
const U_CORRECTED: f64 = 0.003;

/// One post's capacitance to all the others.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Capacitance {
    pub(crate) post: Post,
    pub(crate) picofarads: f64,
    /// Its standard uncertainty.
    pub(crate) u_picofarads: f64,
    /// That part of it which all posts have in common, and have alike: the model's.
    pub(crate) u_common_picofarads: f64,
}

/// What hangs on each of these posts; nothing where one was not timed, or did not rise.
pub(crate) fn capacitances(
    capture: &Capture,
    phase: Phase,
    posts: impl IntoIterator<Item = Post>,
) -> Option<Vec<Capacitance>> {
    posts.into_iter().map(|post| capacitance(capture, phase, post)).collect()
}

fn capacitance(capture: &Capture, phase: Phase, post: Post) -> Option<Capacitance> {
    let mean = |relays_closed, referred| {
        let of_post = capture.rises(phase).filter(|rise| rise.post == post);
        Mean::of(of_post.filter(|rise| {
            rise.relays_closed == relays_closed && rise.reference.is_some() == referred
        }))
    };
    let (alone, referred, with_run) = (mean(false, false)?, mean(false, true)?, mean(true, false)?);
    let mut references = capture.rises(phase).filter_map(|rise| rise.reference);
    let Picofarads(reference) = references.next()?;
    let told = references.all(|other| other.0 == reference);
    let reference_pf = f64::from(reference) - PAD_PF;
    let pf_per_micro = reference_pf / (referred.micros - alone.micros);
    if !told || !pf_per_micro.is_finite() || pf_per_micro <= 0.0 {
        return None;
    }
    let apparent_pf = pf_per_micro * (with_run.micros - alone.micros);
    let picofarads = corrected(apparent_pf, pf_per_micro, &capture.head.jig);
    let u_micros = referred.u_micros.hypot(alone.u_micros);
    let u_scale =
        (REFERENCE_TOLERANCE / 3.0_f64.sqrt()).hypot(u_micros * pf_per_micro / reference_pf);
    let u_time_pf = with_run.u_micros.hypot(alone.u_micros) * pf_per_micro;
    let u_corrected_pf = (OWN_PF + picofarads) * U_CORRECTED;
    let u_picofarads = u_time_pf.hypot(picofarads * u_scale).hypot(u_corrected_pf);
    Some(Capacitance { post, picofarads, u_picofarads, u_common_picofarads: u_corrected_pf })
}

/// The pulls R reach the sense node with its capacitor C₁; the post hangs on that by r. Of a capacitance C
/// at the post, the slow one of two time constants is R(C₁ + C) + r·C²/(C₁ + C), and the quick one,
/// r·C₁·C/(C₁ + C), delays it. The pulls also lift the other posts a little, and the run's with them.
fn corrected(apparent_pf: f64, pf_per_micro: f64, jig: &JigConstants) -> f64 {
    const ROUNDS: usize = 4; // each leaves a twentieth of the error
    let by_resistance = jig.sense_ohm / jig.pull_ohm;
    let logarithm = 1e6 / (pf_per_micro * jig.pull_ohm); // ln(V/(V − threshold))
    let lifted = LOW_OHM / jig.pull_ohm / logarithm;
    (0..ROUNDS).fold(apparent_pf, |picofarads, _| {
        let picofarads = picofarads.max(0.0);
        let all_pf = OWN_PF + picofarads;
        let slow = by_resistance * picofarads / all_pf;
        let quick = by_resistance / logarithm * SENSE_PF / all_pf;
        apparent_pf - picofarads * (slow + quick - lifted) + DIVIDER_HASTENS * all_pf
    })
}

/// A mean of times, and its standard uncertainty.
struct Mean {
    micros: f64,
    u_micros: f64,
}

/// Standard uncertainty of one time that was counted in whole microseconds.
const U_COUNT_MICROS: f64 = 0.289;

impl Mean {
    /// Of all releases; nothing if there was none, or if one never rose.
    fn of<'a>(rises: impl Iterator<Item = &'a Rise>) -> Option<Self> {
        let all: Option<Vec<f64>> =
            rises.flat_map(|rise| &rise.micros).map(|one| one.map(f64::from)).collect();
        let all = all.filter(|all| !all.is_empty())?;
        let count = all.len() as f64;
        let micros = all.iter().sum::<f64>() / count;
        let squares: f64 = all.iter().map(|one| (one - micros).powi(2)).sum();
        let spread_micros = (squares / (count - 1.0).max(1.0)).sqrt();
        Some(Self { micros, u_micros: spread_micros.hypot(U_COUNT_MICROS) / count.sqrt() })
    }
}

#[cfg(test)]
mod tests {
    use runproof_protocol::Microseconds;

    use super::*;
    use crate::capture::{Head, Plug};
    use crate::published::{MICHELSO, MICHELSO_DEVIATION, MICHELSO_MEAN};

    fn rise(relays_closed: bool, reference: Option<Picofarads>, micros: &[Option<u16>]) -> Rise {
        let (phase, post, at) = (Phase::Open, Post::P2, Microseconds(0));
        Rise { phase, pattern: 0, post, reference, relays_closed, micros: micros.to_vec(), at }
    }

    fn measured(rises: impl IntoIterator<Item = Rise>) -> Option<Capacitance> {
        let jig = JigConstants {
            serial: String::new(),
            board: String::new(),
            firmware: String::new(),
            series_ohm: [346.0; 4],
            series_tolerance: 0.015,
            sense_ohm: 0.0,
            pull_ohm: 1e5,
            divider_ohm: 4.5e6,
            supply_load_ohm: None,
        };
        let plug =
            Plug { id: String::new(), ring_ohm: [33.2, 47.5, 68.1, 150.0], tolerance: 0.001 };
        let mut capture =
            Capture::new(Head { made_by: String::new(), taken_unix_s: None, jig, plug });
        rises.into_iter().for_each(|rise| capture.push_rise(rise));
        capacitances(&capture, Phase::Open, [Post::P2])?.pop()
    }

    /// By t = R·C·ln((V − start)/(V − threshold)), the textbook's law of charging: whatever resistor,
    /// threshold and delay, the capacitance comes back.
    #[test]
    fn neither_pull_nor_threshold_nor_delay_matters() {
        for (ohm, threshold_v, delay_micros) in
            [(1e5, 1.3, 0.0), (9e4, 2.0, 30.0), (1.2e5, 1.65, 4.0)]
        {
            for run_pf in [0.0, 420.0, 3_150.0, 9_000.0] {
                let rise = |relays_closed, reference: Option<Picofarads>| {
                    let beside_pf =
                        reference.map_or(0.0, |reference| f64::from(reference.0) - PAD_PF);
                    let hangs_pf = if relays_closed { run_pf } else { 0.0 };
                    let all_pf = OWN_PF + beside_pf + hangs_pf;
                    let begins_v = 3.3 * LOW_OHM / ohm * hangs_pf / all_pf;
                    let constants = ((3.3 - begins_v) / (3.3 - threshold_v)).ln();
                    let hastens = if relays_closed { DIVIDER_HASTENS } else { 0.0 };
                    let micros = ohm * all_pf * 1e-6 * constants * (1.0 - hastens) + delay_micros;
                    let counted = Some(micros.round() as u16).filter(|micros| *micros < 1_250);
                    self::rise(relays_closed, reference, &[counted; 4])
                };
                let rises =
                    [rise(false, None), rise(false, Some(Picofarads(1_000))), rise(true, None)];
                let risen = rises[2].micros[0].is_some();
                let found = measured(rises);
                assert_eq!(found.is_some(), risen, "{run_pf} pF");
                let Some(Capacitance { picofarads, u_picofarads, .. }) = found else { continue };
                let off = (picofarads - run_pf).abs();
                assert!(off <= 2.0 * u_picofarads.max(10.0), "{picofarads} of {run_pf} pF");
            }
        }
    }

    /// NIST StRD, Michelso: the certified mean and standard deviation, of times counted in whole
    /// microseconds.
    #[test]
    fn the_certified_mean_and_deviation_of_nist() {
        let times = MICHELSO.map(|beyond| Some(29_900 + beyond));
        let Some(found) = Mean::of([rise(false, None, &times)].iter()) else {
            panic!("times");
        };
        assert!((found.micros / (100.0 * MICHELSO_MEAN) - 1.0).abs() < 1e-14, "{}", found.micros);
        let u_micros = (100.0 * MICHELSO_DEVIATION).hypot(U_COUNT_MICROS) / 10.0;
        assert!((found.u_micros / u_micros - 1.0).abs() < 1e-12, "{}", found.u_micros);
    }

    #[test]
    fn what_is_missing_or_absurd_is_nothing() {
        let reference = Some(Picofarads(1_000));
        let good = || {
            [
                rise(false, None, &[Some(70); 4]),
                rise(false, reference, &[Some(140); 4]),
                rise(true, None, &[Some(280); 16]),
            ]
        };
        assert!(measured(good()).is_some());
        for missing in 0..3 {
            let mut rises: Vec<Rise> = good().into();
            rises.remove(missing);
            assert!(measured(rises).is_none(), "without {missing}");
            let mut rises = good();
            rises[missing].micros[2] = None;
            assert!(measured(rises).is_none(), "{missing} did not rise once");
            let mut rises = good();
            rises[missing].micros.clear();
            assert!(measured(rises).is_none(), "{missing} empty");
        }
        let mut backwards = good();
        backwards[1].micros = vec![Some(60); 4];
        assert!(measured(backwards).is_none());
        let other = rise(false, Some(Picofarads(500)), &[Some(140); 4]);
        assert!(measured(good().into_iter().chain([other])).is_none());
    }
}
