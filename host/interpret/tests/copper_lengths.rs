//! Random runs of known gauge, length and warmth: what their copper tells holds the truth.

#[path = "support/bench.rs"]
mod bench;
#[path = "support/chance.rs"]
mod chance;
#[path = "support/network.rs"]
mod network;

use bench::Bench;
use chance::Chance;
use runproof_interpret::copper::Length;
use runproof_interpret::judgement::{Basis, Copper};
use runproof_interpret::{LimitSheet, RunKnowledge, judge};

const SEEDS: u64 = 600;

/// Solid copper wire: Ω/km at 20 °C (ASTM B258, IEC 60028), and its temperature coefficient.
const GAUGES: [(&str, f64); 5] =
    [("16awg", 13.17), ("18awg", 20.95), ("20awg", 33.31), ("22awg", 52.96), ("24awg", 84.22)];
const PER_KELVIN: f64 = 0.003_93;

struct Truth {
    gauge: &'static str,
    metres: f64,
    celsius: f64,
    ohm: f64,
}

fn any(chance: &mut Chance) -> Truth {
    let (gauge, ohm_per_km) = GAUGES[(chance.within(0.0, 5.0).floor() as usize).min(4)];
    let (metres, celsius) = (chance.within(1.0, 150.0), chance.within(-19.0, 69.0));
    let ohm = ohm_per_km / 1e3 * metres * (1.0 + PER_KELVIN * (celsius - 20.0));
    Truth { gauge, metres, celsius, ohm }
}

/// Of every third run one conductor has a joint of some ohms.
fn told(truth: &Truth, known: &RunKnowledge, seed: u64) -> Option<Copper> {
    let mut bench = Bench::new(truth.ohm, seed);
    if seed.is_multiple_of(3) {
        bench.wire_ohm[seed as usize % 4] += 2.0 + (seed % 5) as f64;
    }
    judge(&bench.capture(), &LimitSheet::service_24vac(), known).copper
}

fn knowing(gauge: &str, temperature: &str) -> RunKnowledge {
    RunKnowledge {
        gauge: Some(gauge.parse().expect("a gauge")),
        temperature: temperature.parse().expect("a range"),
        ..RunKnowledge::default()
    }
}

/// However much of make and warmth is known.
#[test]
fn the_interval_holds_the_true_length() {
    let chance = &mut Chance::new(258);
    let (mut long_enough, mut wrong) = (0, vec![]);
    for seed in 0..SEEDS {
        let truth = any(chance);
        let within = format!("{:.1}..{:.1}C", truth.celsius - 1.0, truth.celsius + 1.0);
        let solid = format!("{}-solid", truth.gauge);
        for (gauge, temperature) in
            [(truth.gauge, "-20..70C"), (truth.gauge, &within), (&solid, &within)]
        {
            let found = told(&truth, &knowing(gauge, temperature), seed).expect("all are known");
            assert_eq!((found.basis, found.gauges.len()), (Basis::Gauge, 0));
            assert_eq!(found.too_short, found.metres.is_none());
            let Some(looks) = found.metres else {
                assert!(truth.ohm < 0.4, "{} m of {gauge} are not too short", truth.metres);
                continue;
            };
            long_enough += 1;
            if !(looks.least..=looks.most).contains(&truth.metres) {
                wrong.push(format!("seed {seed}: {:.1} m of {gauge}: {looks:?}", truth.metres));
            }
            // Make and warmth are within 4 %, and the resistance is known within 0.1 Ω.
            let width_m = truth.metres * (0.08 + 0.2 / truth.ohm);
            assert!(gauge != solid || looks.width() < 1.3 * width_m, "{looks:?}");
        }
    }
    println!("{long_enough} lengths, {} of them wrong", wrong.len());
    assert!(long_enough > 1_500);
    // An uncertainty of 95 % counts beside what make and warmth allow.
    assert!(wrong.len() * 100 <= long_enough, "{}", wrong.join("\n"));
}

#[test]
fn the_true_gauge_is_among_those_that_fit() {
    let chance = &mut Chance::new(60_228);
    let (mut told_some, mut wrong) = (0, vec![]);
    for seed in 0..SEEDS {
        let truth = any(chance);
        let length = Length::from_metres(truth.metres);
        let known = RunKnowledge { length, ..RunKnowledge::default() };
        let found = told(&truth, &known, seed).expect("all are known");
        assert_eq!((found.basis, found.metres), (Basis::Length, None));
        if found.too_short {
            assert!(found.gauges.is_empty() && truth.ohm < 0.25, "{} Ω", truth.ohm);
            continue;
        }
        told_some += 1;
        let right = truth.gauge.parse().is_ok_and(|gauge| found.gauges.contains(&gauge));
        let awgs = found.gauges.iter().filter(|gauge| gauge.to_string().ends_with("AWG")).count();
        if !right || awgs > 4 {
            wrong.push(format!("seed {seed}: {:.1} m of {}: {found:?}", truth.metres, truth.gauge));
        }
    }
    println!("{told_some} gauges, {} of them wrong", wrong.len());
    assert!(told_some > 500 && wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The data pair's wires, which differ by what the bench drew.
#[test]
fn the_unbalance_is_within_its_uncertainty() {
    let chance = &mut Chance::new(8_023);
    let (mut shares, mut within, mut count) = (0, 0, 0);
    for seed in 0..SEEDS {
        let truth = any(chance);
        let mut bench = Bench::new(truth.ohm, seed);
        bench.wire_ohm[1] *= chance.within(1.0, 1.4);
        let judgement =
            judge(&bench.capture(), &LimitSheet::service_24vac(), &RunKnowledge::default());
        let Some(found) = judgement.copper.and_then(|copper| copper.unbalance) else { continue };
        let signed = if found.post.number() == 2 { found.ohm } else { -found.ohm };
        let [plus, minus, ..] = bench.wire_ohm;
        count += 1;
        within += usize::from((signed - (minus - plus)).abs() <= found.expanded_uncertainty_ohm);
        let Some((percent, u)) = found.percent.zip(found.expanded_uncertainty_percent) else {
            continue;
        };
        shares += usize::from(
            (signed.signum() * percent - 100.0 * (minus - plus) / (minus + plus)).abs() <= u,
        );
    }
    println!("of {count}: {within} differences and {shares} shares are within their uncertainty");
    assert!(
        count as u64 * 100 > SEEDS * 90 && within * 100 >= count * 95 && shares * 100 >= count * 90
    );
}
