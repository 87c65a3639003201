//! Powered runs from a network of the tests' own, judged.

#[path = "support/chance.rs"]
mod chance;
#[expect(dead_code, reason = "what hangs on nothing is tried elsewhere")]
#[path = "support/live_bench.rs"]
mod live_bench;
#[path = "support/live_judged.rs"]
mod live_judged;
#[path = "support/network.rs"]
mod network;

use live_bench::{EARTH, LiveBench, Wave};
use live_judged::*;
use runproof_interpret::capture::{Entry, LiveZero};
use runproof_interpret::judgement::{
    Activity, LiveCause, LiveFindingKind as Kind, LiveJudgement, LiveZeroStatus, Measured,
    PairSign, SupplyKind, Verdict,
};
use runproof_interpret::limits::Severity;
use runproof_interpret::{Capture, LimitSheet, LiveKnowledge, judge_live};

#[test]
fn a_sound_run_passes() {
    let found = judged(&with_zero(&sound(1, sine(26.0, 60.0), 0.6)));
    assert_eq!(found.verdict, Verdict::Pass, "{found:#?}");
}

#[test]
fn a_sound_run_passes_without_a_zero_too() {
    for (hertz, bias_v) in [(50.0, 0.5), (60.0, 0.8), (59.95, 0.3), (50.05, 0.9)] {
        let found = judged(&sound(2, sine(24.0, hertz), bias_v).capture());
        assert_eq!((found.verdict, found.findings.len()), (Verdict::Pass, 0), "{found:#?}");
        assert_eq!(found.zero.status, LiveZeroStatus::None);
        assert_eq!(found.supply.expect("four").nominal_hertz, Some(hertz.round() as u8));
    }
}

#[test]
fn what_a_supply_is() {
    let wave = |peak_v, hertz, full| match full {
        true => Wave::Full { peak_v, hertz, turn: 0.3 },
        false => Wave::Half { peak_v, hertz, turn: 0.3 },
    };
    for (supply, kind, rms_v) in [
        (sine(26.0, 50.0), SupplyKind::AlternatingMains, 26.0),
        (sine(24.0, 60.0), SupplyKind::AlternatingMains, 24.0),
        (wave(36.0, 60.0, false), SupplyKind::HalfWave, 18.0),
        (wave(36.0, 50.0, false), SupplyKind::HalfWave, 18.0),
        (wave(34.0, 60.0, true), SupplyKind::FullWave, 34.0 / 2.0_f64.sqrt()),
        (wave(34.0, 50.0, true), SupplyKind::FullWave, 34.0 / 2.0_f64.sqrt()),
        (direct(12.0), SupplyKind::Direct, 12.0),
        (direct(0.0), SupplyKind::None, 0.0),
    ] {
        let bench = biased(supplied(3, supply), 0.6);
        let found = judged(&with_zero(&bench)).supply.expect("four");
        assert_eq!(found.kind, kind, "{supply:?} {found:#?}");
        let off_v = (found.rms_v.expect("measured").value - rms_v).abs();
        assert!(off_v <= 3.5e-3 * rms_v + 0.02, "{supply:?}: {found:?}");
    }
}

#[test]
fn twelve_volts_direct_by_their_own_sheet() {
    let sheet = LimitSheet::built_in("service-12vdc").expect("built in");
    let judged = |volts| {
        let capture = with_zero(&biased(supplied(4, direct(volts)), 0.6));
        judge_live(&capture, &sheet, &LiveKnowledge::default())
    };
    assert_eq!(judged(12.0).verdict, Verdict::Pass);
    for (volts, kind) in
        [(11.0, Kind::LowSupply), (13.0, Kind::HighSupply), (-12.0, Kind::LowSupply)]
    {
        let found = judged(volts);
        assert_eq!((found.verdict, kinds(&found)), (Verdict::Fail, vec![kind]), "{volts}");
    }
    let alternating =
        judge_live(&sound(4, sine(24.0, 60.0), 0.6).capture(), &sheet, &LiveKnowledge::default());
    assert!(has(&alternating, Kind::OtherSupply), "{:?}", kinds(&alternating));
}

#[test]
fn a_supply_out_of_its_range() {
    for (rms_v, expected, verdict) in [
        (19.0, vec![Kind::LowSupply], Verdict::Fail),
        (20.01, vec![Kind::TooCloseToLimit], Verdict::CannotTell),
        (21.0, vec![Kind::LowSupply], Verdict::Pass),
        (24.0, vec![], Verdict::Pass),
        (31.0, vec![Kind::Hazard, Kind::HighSupply], Verdict::Fail),
        (0.0, vec![Kind::NoSupply], Verdict::Fail),
    ] {
        let found = judged(&with_zero(&sound(5, sine(rms_v, 60.0), 0.6)));
        assert_eq!((found.verdict, kinds(&found)), (verdict, expected), "{rms_v}");
    }
    let weak = biased(LiveBench::new(5).with(4, 3, 20e3, sine(27.0, 60.0)), 0.6);
    let found = judged(&with_zero(&weak));
    assert!(has(&found, Kind::SupplyGivesWay), "{:?}", kinds(&found));
    assert_eq!(found.verdict, Verdict::Fail);
}

#[test]
fn the_pair_by_its_bias() {
    for (bias_v, sign, expected) in [
        (0.6, PairSign::Right, vec![]),
        (0.25, PairSign::Right, vec![]),
        (0.201, PairSign::Undecided, vec![Kind::TooCloseToLimit]),
        (0.12, PairSign::Undecided, vec![Kind::PairLoaded]),
        (0.0, PairSign::Undecided, vec![Kind::PairLoaded]),
        (-0.12, PairSign::Undecided, vec![Kind::PairLoaded]),
        (-0.6, PairSign::Reversed, vec![Kind::ReversedPair]),
        (1.4, PairSign::Right, vec![Kind::PairAboveRange]),
    ] {
        let found = judged(&with_zero(&sound(6, sine(24.0, 60.0), bias_v)));
        assert_eq!(kinds(&found), expected, "{bias_v}");
        let pair = found.pair.expect("four");
        assert_eq!((pair.sign, pair.activity), (sign, Activity::Idle), "{bias_v}");
    }
}

/// Terminated pairs with a bias: a published page of ten nodes, 5 V (0.285 V, resistors inferred); 5 V with 720 Ω each
/// (0.200 V, from memory, exact) and 3.3 V with 330 Ω each (0.275 V, one public page), both into 60 Ω.
#[test]
fn the_bias_of_published_pairs() {
    for (rail_v, each_ohm, load_ohm, published_v, within_v) in [
        (5.0, 470.0, 57.142_857, 0.285, 2e-3),
        (5.0, 720.0, 60.0, 0.200, 1e-4),
        (3.3, 330.0, 60.0, 0.275, 1e-4),
    ] {
        let bench = supplied(7, sine(24.0, 60.0))
            .with(1, 3, each_ohm, direct(rail_v))
            .joined(2, 3, each_ohm)
            .joined(1, 2, load_ohm);
        let pair = judged(&with_zero(&bench)).pair.expect("four");
        let bias = pair.bias_v.expect("measured");
        assert!((bias.value - published_v).abs() <= bias.u + within_v, "{published_v}: {bias:?}");
        assert!(bias.u <= 0.015);
    }
}

#[test]
fn a_source_that_does_not_belong() {
    let wired = |wave| sound(10, sine(24.0, 60.0), 0.6).with(1, 3, 50.0, wave);
    let other_frequency = judged(&with_zero(&wired(sine(15.0, 50.0))));
    assert!(has(&other_frequency, Kind::SecondSource), "{:#?}", other_frequency.findings);
    let other_phase =
        judged(&with_zero(&wired(Wave::Sine { rms_v: 15.0, hertz: 60.0, turn: 0.4 })));
    assert!(has(&other_phase, Kind::SecondSource), "{:#?}", other_phase.findings);
    let same_phase = judged(&with_zero(&wired(sine(15.0, 60.0))));
    assert!(has(&same_phase, Kind::ForeignVoltage), "{:#?}", same_phase.findings);
    let beyond =
        judged(&with_zero(&sound(10, sine(24.0, 60.0), 0.6).with(1, 3, 1.0, direct(15.0))));
    assert!(has(&beyond, Kind::BeyondReceiver), "{:#?}", beyond.findings);
    for found in [other_frequency, other_phase, same_phase, beyond] {
        assert_eq!(found.verdict, Verdict::Fail);
    }
}

#[test]
fn all_conductors_move_together() {
    let bench = sound(11, sine(24.0, 60.0), 0.6)
        .with(3, EARTH, 1e3, sine(115.0, 60.0))
        .joined(EARTH, 0, 1e5);
    let found = judged(&with_zero(&bench));
    assert!(has(&found, Kind::AllMoveTogether), "{:#?}", found.findings);
    let together = found.moves_together_v.expect("read");
    assert!((90.0..116.0).contains(&together.value), "{together:?}");
    assert_ne!(found.verdict, Verdict::Pass);
    // The supply is still itself.
    let supply = found.supply.expect("four");
    assert_eq!(supply.kind, SupplyKind::AlternatingMains);
    assert!((supply.rms_v.expect("v").value - 24.0).abs() < 0.2);
}

#[test]
fn messages_on_the_pair() {
    let busy = |busy, volts| {
        let traffic = Wave::Traffic { volts, bit_s: 1.0 / 9600.0, frame_s: 0.09, busy, seed: 3 };
        judged(&with_zero(
            &sound(12, sine(24.0, 60.0), 0.6).with(1, 2, 50.0, traffic).joined(1, 2, 120.0),
        ))
    };
    let quiet_between = busy(0.4, 3.0);
    let pair = quiet_between.pair.as_ref().expect("four");
    assert_eq!(pair.activity, Activity::Busy, "{pair:#?}");
    let never_quiet = busy(1.0, 3.0);
    let pair = never_quiet.pair.as_ref().expect("four");
    assert_eq!((pair.activity, pair.sign), (Activity::Busy, PairSign::Undecided));
    assert!(never_quiet.findings.iter().any(|one| one.cause == Some(LiveCause::Busy)));
    assert_eq!(never_quiet.verdict, Verdict::CannotTell, "{:#?}", never_quiet.findings);
}

/// Sources at random between any posts: more than 30 V alternating or 42 V direct between any two is told, always.
#[test]
fn no_hazard_is_missed() {
    let (mut hazards, mut told) = (0, 0);
    for seed in 0..300 {
        let c = &mut chance::Chance::new(seed ^ 0x7777);
        let hertz = [50.0, 60.0][usize::from(c.unit() < 0.5)];
        let mut bench = LiveBench::new(seed);
        for _ in 0..3 {
            let a = 1 + (4.0 * c.unit()) as usize;
            let b = 1 + (4.0 * c.unit()) as usize;
            if a == b {
                continue;
            }
            let ohm = 10.0_f64.powf(c.within(0.0, 3.0));
            let volts = c.within(5.0, 45.0);
            let wave = match (5.0 * c.unit()) as u32 {
                0 => direct(volts),
                1 => Wave::Half { peak_v: 2.0 * volts, hertz, turn: c.unit() },
                2 => Wave::Full { peak_v: volts, hertz, turn: c.unit() },
                _ => Wave::Sine { rms_v: volts, hertz, turn: c.unit() },
            };
            bench = bench.with(a, b, ohm, wave);
        }
        let found = judged(&bench.capture());
        let pairs = [(1, 2), (1, 3), (1, 4), (2, 3), (2, 4), (3, 4)];
        let hazard = pairs.into_iter().any(|(i, j)| {
            let (direct_v, alternating_v) = bench.truth(i, j, false);
            alternating_v > 30.0 || direct_v.abs() > 42.0
        });
        hazards += usize::from(hazard);
        told += usize::from(has(&found, Kind::Hazard));
        assert!(!hazard || has(&found, Kind::Hazard), "{seed}: {bench:#?} {found:#?}");
        assert!(!hazard || found.verdict == Verdict::Fail);
    }
    assert!(hazards >= 50 && told <= 260, "{hazards} {told}");
    for (i, j) in [(1, 2), (1, 3), (2, 3), (2, 4)] {
        let found = judged(&LiveBench::new(1).with(i, j, 10.0, sine(230.0, 50.0)).capture());
        assert_eq!(found.findings[0].kind, Kind::Hazard, "{i}-{j}");
    }
}

/// By the parts' tolerances the stated intervals hold the truth as often as they say.
#[test]
fn the_intervals_hold_what_they_say() {
    for zeroed in [true, false] {
        let (mut held, mut count, mut largest_u_v) = (0, 0, 0.0_f64);
        let mut errors = vec![];
        for seed in 0..150 {
            let c = &mut chance::Chance::new(seed ^ 0xAAAA);
            let hertz = if seed % 2 == 0 { 60.0 } else { 50.0 } + c.within(-0.5, 0.5);
            let (bias_v, rms_v) = (c.within(-1.0, 1.0), c.within(18.0, 29.0));
            let bench = sound(seed, Wave::Sine { rms_v, hertz, turn: c.unit() }, bias_v);
            let found = judged(&if zeroed { with_zero(&bench) } else { bench.capture() });
            let (supply, pair) = (found.supply.expect("four"), found.pair.expect("four"));
            let (direct_v, rms_v) = bench.truth(4, 3, false);
            let mut holds = |measured: Option<Measured>, truth: f64| {
                let measured = measured.expect("measured");
                count += 1;
                held += usize::from((measured.value - truth).abs() <= measured.u);
                (measured.value - truth).abs()
            };
            errors.push(holds(supply.rms_v, rms_v) / rms_v);
            holds(supply.direct_v, direct_v);
            holds(supply.loaded_rms_v, bench.truth(4, 3, true).1);
            holds(pair.bias_v, bench.truth(1, 2, false).0);
            holds(pair.loaded_bias_v, bench.truth(1, 2, true).0);
            holds(found.conductors[0].direct_v, bench.truth(1, 3, false).0);
            largest_u_v = largest_u_v.max(pair.bias_v.expect("measured").u);
            let off_hertz = (supply.hertz.expect("mains").value - hertz).abs();
            assert!(off_hertz <= 0.01, "{off_hertz}");
        }
        errors.sort_by(f64::total_cmp);
        let share = f64::from(held as u32) / f64::from(count);
        assert!((0.93..=0.98).contains(&share), "zero {zeroed}: {held} of {count}");
        assert!(errors[errors.len() * 95 / 100] <= 0.0035);
        assert!(largest_u_v <= 0.015, "{largest_u_v}");
    }
}

#[test]
fn a_live_zero_is_refused_with_something_clipped_on() {
    let empty = LiveBench::new(13);
    assert!(LiveZero::from_capture(&empty.zero_capture()).is_ok());
    let zero =
        |bench: &LiveBench| LiveZero::from_capture(&bench.zero_capture()).expect_err("refused");
    zero(&empty.clone().joined(1, 2, 120.0));
    zero(&empty.clone().joined(3, 4, 5e3));
    zero(&empty.clone().with(4, 3, 1.5, sine(24.0, 60.0)));
    zero(&empty.with(1, 3, 1e6, sine(120.0, 60.0)));
}

#[test]
fn a_zero_grows_old_and_one_of_another_jig_is_refused() {
    let mut capture = with_zero(&sound(14, sine(24.0, 60.0), 0.6));
    let fresh = judged(&capture);
    assert_eq!(fresh.zero.status, LiveZeroStatus::Fresh);
    let change = |capture: &mut Capture, with: fn(&mut LiveZero)| {
        for entry in &mut capture.entries {
            if let Entry::LiveZero(zero) = entry {
                with(zero);
            }
        }
    };
    change(&mut capture, |zero| zero.taken_unix_s -= 40 * 86_400);
    let stale = judged(&capture);
    assert_eq!((stale.zero.status, stale.zero.again), (LiveZeroStatus::Stale, true));
    let u =
        |found: &LiveJudgement| found.pair.as_ref().and_then(|pair| pair.bias_v).expect("read").u;
    assert!(u(&stale) > 3.0 * u(&fresh));
    change(&mut capture, |zero| zero.gain[0] = 1.1);
    assert_eq!(judged(&capture).zero.status, LiveZeroStatus::Refused);
}

#[test]
fn without_readings_nothing_passes() {
    use runproof_protocol::Step;
    let whole = with_zero(&sound(15, sine(24.0, 60.0), 0.6));
    assert_eq!(judged(&whole).verdict, Verdict::Pass);
    let mut alone = whole.clone();
    alone.entries.retain(|one| !matches!(one, Entry::Reading(r) if r.step == Step::LiveLoaded));
    assert_eq!(judged(&alone).verdict, Verdict::CannotTell);
    let readings = whole.entries.iter().filter(|one| matches!(one, Entry::Reading(_))).count();
    for n in (0..readings).step_by(7) {
        let mut one_less = whole.clone();
        one_less.entries.remove(n + 1);
        assert_ne!(judged(&one_less).verdict, Verdict::Pass, "{n}");
    }
    // All but its zero, which is the last.
    for n in 0..whole.entries.len() - 1 {
        let mut cut = whole.clone();
        cut.entries.truncate(n);
        assert_ne!(judged(&cut).verdict, Verdict::Pass, "{n}");
    }
}

#[test]
fn a_sheet_without_live_ranges_passes_nothing() {
    let capture = with_zero(&sound(16, sine(24.0, 60.0), 0.6));
    let mut of_before = LimitSheet::service_24vac();
    (of_before.live.supply_kind, of_before.live.data_undecided) = (None, None);
    let built_in = |name| LimitSheet::built_in(name).expect("built in");
    for sheet in [built_in("two-wire-bus"), built_in("made-up-lead"), of_before] {
        let (found, name) = (judge_live(&capture, &sheet, &LiveKnowledge::default()), &sheet.name);
        assert_eq!(found.verdict, Verdict::CannotTell, "{name}");
        assert!(has(&found, Kind::LimitUnknown), "{name}");
        assert!(found.findings.iter().all(|one| one.severity != Severity::Fail), "{name}");
    }
}

/// At the threshold above all: which way round a pair is, and whether it is within what a receiver does not decide, is right
/// or not told.
#[test]
fn the_pair_is_never_told_wrong() {
    let mut told = 0;
    for seed in 0..300 {
        let c = &mut chance::Chance::new(seed ^ 0x1234);
        let threshold = [-0.2, 0.2][usize::from(c.unit() < 0.5)];
        let bias_v = threshold + c.within(-0.06, 0.06);
        let supply = Wave::Sine { rms_v: c.within(20.0, 29.0), hertz: 60.0, turn: c.unit() };
        let bench = sound(seed, supply, bias_v);
        let capture = if seed % 2 == 0 { with_zero(&bench) } else { bench.capture() };
        let pair = judged(&capture).pair.expect("four");
        let bias_v = bench.truth(1, 2, false).0;
        let right = match (pair.sign, pair.verdict) {
            (PairSign::Right, _) => bias_v >= 0.2,
            (PairSign::Reversed, _) => bias_v <= -0.2,
            (PairSign::Undecided, Verdict::CannotTell) => true,
            (PairSign::Undecided, _) => bias_v.abs() < 0.2,
        };
        assert!(right, "{seed}: {bias_v}: {pair:?}");
        told += usize::from(pair.verdict != Verdict::CannotTell);
    }
    assert!(told > 100, "{told}");
}
