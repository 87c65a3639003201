//! Powered runs of which a conductor hangs on nothing, or seems to, judged.

#[path = "support/chance.rs"]
mod chance;
#[expect(dead_code, reason = "what only sound runs need")]
#[path = "support/live_bench.rs"]
mod live_bench;
#[expect(dead_code, reason = "what only sound runs need")]
#[path = "support/live_judged.rs"]
mod live_judged;
#[path = "support/network.rs"]
mod network;

use live_bench::{FAR, LiveBench, Wave};
use live_judged::*;
use runproof_interpret::Capture;
use runproof_interpret::capture::Entry;
use runproof_interpret::judgement::{
    At, LiveFindingKind as Kind, LiveJudgement, LiveReason, PairSign, SupplyKind, Verdict,
};
use runproof_interpret::limits::Severity;
use runproof_interpret::next::{Reading, of_live};

#[test]
fn what_hangs_on_nothing() {
    let nothing_on_the_pair = judged(&with_zero(&supplied(8, sine(24.0, 60.0))));
    assert_eq!(kinds(&nothing_on_the_pair), [Kind::PairNotBiased]);
    let one = supplied(8, sine(24.0, 60.0)).with(2, 3, 300.0, direct(2.2));
    let one = judged(&with_zero(&one));
    assert!(has(&one, Kind::Floats), "{:?}", kinds(&one));
    let common = LiveBench::new(8)
        .with(4, FAR, 1.5, sine(24.0, 60.0))
        .with(1, FAR, 300.0, direct(2.8))
        .with(2, FAR, 300.0, direct(2.2));
    let common = judged(&with_zero(&common));
    assert!(has(&common, Kind::CommonMissing), "{:?}", kinds(&common));
    for found in [nothing_on_the_pair, one, common] {
        assert_eq!(found.verdict, Verdict::Fail);
    }
}

/// Without a supply post 4 stands where whatever hangs on nothing does. A line that is held near there is none such, unless it
/// stands there within what can be told.
#[test]
fn a_line_that_stands_near_the_star_is_no_open_one() {
    let mut told = 0;
    for n in 0..60 {
        let plus_v = 2.2;
        let minus_v = 0.6 + 0.02 * f64::from(n);
        let bench = LiveBench::new(100 + n as u64).with(1, 3, 300.0, direct(plus_v)).with(
            2,
            3,
            300.0,
            direct(minus_v),
        );
        let found = judged(&with_zero(&bench));
        let sign = found.pair.as_ref().expect("four").sign;
        let from_star_v = (minus_v - plus_v / 2.0).abs();
        if from_star_v > 0.03 && plus_v - minus_v > 0.22 {
            assert_eq!(sign, PairSign::Right, "{minus_v}: {:?}", kinds(&found));
            told += 1;
        }
        assert_ne!(sign, PairSign::Reversed, "{minus_v}");
        assert_eq!(found.verdict, Verdict::Fail);
    }
    assert!(told >= 55, "{told}");
}

/// An open line that a little leaks onto, beside a supply that hangs on nothing and beside one that does not.
#[test]
fn a_line_that_leaks_hangs_on_nothing_too() {
    let ohms = [30e6, 100e6, 300e6, 1e9, 10e9];
    for (n, (ohm, to)) in ohms.into_iter().flat_map(|ohm| [(ohm, 1), (ohm, 3)]).enumerate() {
        let seed = 200 + n as u64;
        for bench in [LiveBench::new(seed), supplied(seed, direct(12.0))] {
            let bench = bench.with(1, 3, 300.0, direct(2.8)).joined(2, to, ohm);
            let found = judged(&with_zero(&bench));
            let sign = found.pair.as_ref().expect("four").sign;
            assert_eq!(sign, PairSign::Undecided, "{ohm} to {to}: {:?}", kinds(&found));
            assert!(has(&found, Kind::Floats), "{ohm} to {to}: {:?}", kinds(&found));
        }
    }
}

/// 120 V through 100 pF onto both lines of a pair that hangs on nothing: volts alone, next to nothing under the load.
#[test]
fn what_couples_in_collapses() {
    let hum = Wave::Sine { rms_v: 120.0, hertz: 60.0, turn: 0.4 };
    let couples = 1.0 / (std::f64::consts::TAU * 60.0 * 100e-12);
    let bench = biased(LiveBench::new(9), 0.6).with(4, 3, couples, hum);
    let found = judged(&with_zero(&bench));
    let supply = found.supply.as_ref().expect("four");
    assert_eq!(supply.kind, SupplyKind::None, "{supply:?}");
    let (alone, loaded) = (supply.rms_v.expect("v").value, supply.loaded_rms_v.expect("v").value);
    assert!(alone > 10.0 && loaded < 0.1 * alone, "{alone} {loaded}");
    assert!(has(&found, Kind::NoSupply));
    let line = supplied(9, sine(24.0, 60.0)).with(1, 3, couples, hum).joined(2, 3, 1e3);
    let found = judged(&with_zero(&line));
    assert!(has(&found, Kind::Hum), "{:#?}", found.findings);
}

/// What is said of a line that floats, if that is said.
fn floats(found: &LiveJudgement) -> Option<Severity> {
    found.findings.iter().find(|one| one.kind == Kind::Floats).map(|one| one.severity)
}

/// Without a supply, of a jig without a zero: whether data− is held where an open one stands, or is open, is not told.
#[test]
fn without_a_zero_a_line_at_the_star_may_be_held_or_open() {
    for seed in 300..330 {
        let open = LiveBench::new(seed).with(1, 3, 300.0, direct(1.6));
        let held = open.clone().with(2, 3, 300.0, direct(0.8));
        for bench in [&open, &held] {
            let found = judged(&bench.capture());
            assert_eq!(floats(&found), Some(Severity::CannotTell), "{:?}", found.findings);
            let pair = found.pair.as_ref().expect("four");
            let told = (pair.reason, pair.sign, pair.verdict);
            let undecided = (LiveReason::Undecided, PairSign::Undecided, Verdict::CannotTell);
            assert_eq!(told, undecided);
            let line = found.conductors.iter().find(|one| one.post == pair.posts[1]);
            assert_eq!(line.map(|one| one.verdict), Some(Verdict::CannotTell));
            assert_eq!(found.verdict, Verdict::Fail, "there is no supply");
        }
        assert_eq!(floats(&judged(&with_zero(&open))), Some(Severity::Fail));
    }
}

/// Without a zero either: no line is held where these stand.
#[test]
fn without_a_zero_most_open_lines_are_told() {
    for seed in 400..410 {
        let pair = |bench: LiveBench, volts| bench.with(1, 3, 300.0, direct(volts));
        for (open, what) in [
            (pair(supplied(seed, sine(24.0, 60.0)), 2.2), "the supply alternates on it"),
            (pair(supplied(seed, direct(24.0)), 2.2), "a pair at rest has no 6 V"),
            (pair(LiveBench::new(seed), 5.0), "nor 2.5 V"),
            (pair(LiveBench::new(seed), 1.6).joined(2, 1, 25e6), "the load moves it"),
        ] {
            let found = judged(&open.capture());
            assert_eq!(floats(&found), Some(Severity::Fail), "{what}: {:?}", found.findings);
            assert_eq!(found.verdict, Verdict::Fail);
        }
    }
}

/// What may be open is no fault that the next step may take for ruled out.
#[test]
fn what_may_be_open_is_not_nothing_for_the_next_step() {
    let open = LiveBench::new(500).with(1, 3, 300.0, direct(1.6));
    let fault = |mut capture: Capture| {
        capture.entries.insert(0, Entry::At(At::Plate));
        let (_, told) = of_live(&judged(&capture), None).expect("it is known where");
        told.into_iter().find(|(name, _)| *name == "fault").expect("asked").1
    };
    assert_eq!(fault(open.capture()), None);
    assert_eq!(fault(with_zero(&open)), Some(Reading::Word("floats")));
    let held = open.with(2, 3, 300.0, direct(1.1));
    assert_eq!(fault(held.capture()), Some(Reading::Word("nothing")));
}

/// Where no wave was found there may be a small one.
#[test]
fn nothing_that_alternates_is_known_no_better_than_the_noise() {
    let found = judged(&with_zero(&biased(supplied(501, direct(12.0)), 0.6)));
    let lines = found.conductors.iter().filter(|one| one.alternating.is_some());
    assert_eq!(lines.clone().count(), 2);
    for line in lines {
        let alternates = line.alternating_rms_v.expect("read");
        assert_eq!(alternates.value, 0.0);
        assert!((1e-3..0.02).contains(&alternates.u), "{alternates:?}");
    }
}
