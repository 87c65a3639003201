//! Powered runs of a test, and what is asked of their judgement.

use runproof_interpret::capture::{Entry, LiveZero};
use runproof_interpret::judgement::{LiveFindingKind as Kind, LiveJudgement};
use runproof_interpret::{Capture, LimitSheet, LiveKnowledge, judge_live};

use crate::live_bench::{LiveBench, Wave};

pub(crate) fn sine(rms_v: f64, hertz: f64) -> Wave {
    Wave::Sine { rms_v, hertz, turn: 0.1 }
}

pub(crate) fn sound(seed: u64, supply: Wave, bias_v: f64) -> LiveBench {
    LiveBench::new(seed)
        .with(4, 3, 1.5, supply)
        .with(1, 3, 300.0, Wave::Direct { volts: 2.5 + bias_v / 2.0 })
        .with(2, 3, 300.0, Wave::Direct { volts: 2.5 - bias_v / 2.0 })
}

pub(crate) fn with_zero(bench: &LiveBench) -> Capture {
    let mut capture = bench.capture();
    let mut empty = bench.clone();
    (empty.sources, empty.resistors) = (vec![], vec![]);
    let mut zero = LiveZero::from_capture(&empty.zero_capture()).expect("a zero");
    zero.taken_unix_s -= 86_400;
    capture.entries.push(Entry::LiveZero(zero));
    capture
}

pub(crate) fn judged(capture: &Capture) -> LiveJudgement {
    judge_live(capture, &LimitSheet::service_24vac(), &LiveKnowledge::default())
}

pub(crate) fn has(found: &LiveJudgement, kind: Kind) -> bool {
    found.findings.iter().any(|one| one.kind == kind)
}

pub(crate) fn kinds(found: &LiveJudgement) -> Vec<Kind> {
    found.findings.iter().map(|one| one.kind).collect()
}

pub(crate) fn direct(volts: f64) -> Wave {
    Wave::Direct { volts }
}

/// Only a supply.
pub(crate) fn supplied(seed: u64, wave: Wave) -> LiveBench {
    LiveBench::new(seed).with(4, 3, 1.5, wave)
}

pub(crate) fn biased(bench: LiveBench, bias_v: f64) -> LiveBench {
    bench.with(1, 3, 300.0, direct(2.5 + bias_v / 2.0)).with(
        2,
        3,
        300.0,
        direct(2.5 - bias_v / 2.0),
    )
}
