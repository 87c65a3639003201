//! Whether a process keeps its limits, held against the handbook's example.

use proptest::prelude::*;
use runproof_quality::capability::capability;
use runproof_quality::{Chance, Description, Limits, NoStatistic};

use crate::published::{self, close, number};

fn confidence(value: f64) -> Chance {
    Chance::new(value).unwrap()
}

/// NIST/SEMATECH e-Handbook 6.1.6.
#[test]
fn the_handbooks_process() {
    let handbook = published::table("handbook.toml");
    let example = &handbook["capability"];
    let [usl, lsl, mean, s] = ["USL", "LSL", "mean", "s"].map(|key| number(&example[key]));
    let sample = Description::from_summary(50, mean, s).unwrap();
    let found = capability(&sample, Limits::Both(lsl, usl), Some(14.0), confidence(0.95)).unwrap();
    close(found.cp.unwrap().value, number(&example["Cp"]), 1e-12);
    close(found.cpu.unwrap().value, number(&example["Cpu"]), 5e-5);
    close(found.cpl.unwrap().value, number(&example["Cpl"]), 5e-5);
    close(found.cpk.value, number(&example["Cpk"]), 5e-5);
    // 12 / (6 √(4 + 4)).
    close(found.cpm.unwrap(), 0.5f64.sqrt(), 1e-12);
    // Bissell's: 0.6667 ± 1.959964 √(1/450 + 0.4444/98).
    close(found.cpk.interval.most - found.cpk.value, 0.161_114, 5e-6);
}

#[test]
fn with_one_limit_the_other_indices_are_not_told() {
    let sample = Description::from_summary(30, 10.0, 1.0).unwrap();
    let found = capability(&sample, Limits::Upper(14.0), Some(9.0), confidence(0.9)).unwrap();
    assert_eq!((found.cp, found.cpl, found.cpm), (None, None, None));
    assert_eq!(found.cpu, Some(found.cpk));
    let mirrored = Description::from_summary(30, -10.0, 1.0).unwrap();
    let mirrored = capability(&mirrored, Limits::Lower(-14.0), None, confidence(0.9)).unwrap();
    assert_eq!(mirrored.cpk, found.cpk);
}

/// Readings that hardly vary, as of a converter that rests, or a limit that is far away.
#[test]
fn the_most_able_process_is_told_as_well() {
    for deviation in [1e-3, 1e-9, 1e-200] {
        let sample = Description::from_summary(30, 10.0, deviation).unwrap();
        let limits = Limits::Both(9.0, 11.5);
        let found = capability(&sample, limits, None, confidence(0.9)).unwrap();
        assert!(found.cpk.interval.holds(found.cpk.value) && found.cpk.interval.least > 0.0);
        // All that is unsure is the deviation then, as with Cp.
        let [cp, cpl] = [found.cp.unwrap(), found.cpl.unwrap()];
        close(cpl.interval.least / cpl.value, cp.interval.least / cp.value, 1e-3);
    }
}

#[test]
fn what_cannot_be_told_says_why() {
    let still = Description::from_summary(30, 10.0, 0.0).unwrap();
    let limits = Limits::Both(1.0, 20.0);
    let told = |sample, limits, target| capability(sample, limits, target, confidence(0.9));
    assert_eq!(told(&still, limits, None), Err(NoStatistic::NoVariation));
    let sample = Description::from_summary(30, 10.0, 1.0).unwrap();
    for (limits, target) in [
        (Limits::Both(20.0, 1.0), None),
        (Limits::Both(f64::NAN, 1.0), None),
        (Limits::Upper(f64::INFINITY), None),
        (limits, Some(f64::NAN)),
    ] {
        assert_eq!(told(&sample, limits, target), Err(NoStatistic::NotNumbers));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn an_index_lies_within_its_interval_and_more_values_narrow_it(
        mean in -3.0..3.0_f64, s in 0.2..3.0_f64, count in 3_usize..200,
    ) {
        let of = |count| {
            let sample = Description::from_summary(count, mean, s).unwrap();
            capability(&sample, Limits::Both(-5.0, 5.0), None, confidence(0.9)).unwrap()
        };
        let (few, many) = (of(count), of(4 * count));
        for (few, many) in [
            (few.cp.unwrap(), many.cp.unwrap()),
            (few.cpu.unwrap(), many.cpu.unwrap()),
            (few.cpl.unwrap(), many.cpl.unwrap()),
            (few.cpk, many.cpk),
        ] {
            prop_assert!(few.interval.holds(few.value) && many.interval.holds(many.value));
            let width = |index: runproof_quality::capability::Index| index.interval.most - index.interval.least;
            prop_assert!(width(many) < width(few));
        }
        prop_assert!(few.cpk.value <= few.cp.unwrap().value + 1e-12);
    }
}
