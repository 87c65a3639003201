//! Powered runs from a network of the tests' own, judged.

#[path = "support/chance.rs"]
mod chance;
#[path = "support/live_bench.rs"]
mod live_bench;
#[path = "support/network.rs"]
mod network;

use live_bench::{FAR, LiveBench, Wave};
use runproof_interpret::capture::{Entry, LiveZero};
use runproof_interpret::judgement::{LiveJudgement, Verdict};
use runproof_interpret::{Capture, LimitSheet, judge_live};

fn sine(rms_v: f64, hertz: f64) -> Wave {
    Wave::Sine { rms_v, hertz, turn: 0.1 }
}

fn sound(seed: u64, supply: Wave, bias_v: f64) -> LiveBench {
    LiveBench::new(seed)
        .with(4, 3, 1.5, supply)
        .with(1, 3, 300.0, Wave::Direct { volts: 2.5 + bias_v / 2.0 })
        .with(2, 3, 300.0, Wave::Direct { volts: 2.5 - bias_v / 2.0 })
}

fn with_zero(bench: &LiveBench) -> Capture {
    let mut capture = bench.capture();
    let mut empty = bench.clone();
    (empty.sources, empty.resistors) = (vec![], vec![]);
    let mut zero = LiveZero::from_capture(&empty.zero_capture()).expect("a zero");
    zero.taken_unix_s -= 86_400;
    capture.entries.push(Entry::LiveZero(zero));
    capture
}

fn judged(capture: &Capture) -> LiveJudgement {
    judge_live(capture, &LimitSheet::service_24vac(), None)
}

#[test]
fn a_sound_run_passes() {
    let found = judged(&with_zero(&sound(1, sine(26.0, 60.0), 0.6)));
    assert_eq!(found.verdict, Verdict::Pass, "{found:#?}");
}
