//! Many reels drawn at random, measured by the engine on the simulated board, judged, and held against the truth: how
//! often is gauge or metal told wrong, and do the lengths lie where they are said to lie?

mod answer;
mod draw;
mod report;

#[path = "../../../tests/support/host.rs"]
mod host;
#[expect(dead_code, reason = "a reel is read again later")]
#[path = "../../../tests/support/measured.rs"]
mod measured;
#[path = "../monte_carlo/statistics.rs"]
mod statistics;
#[path = "../../../tests/support/zeroed.rs"]
mod zeroed;

use std::panic::{AssertUnwindSafe, catch_unwind};

use answer::Answer;
use clap::Parser;
use draw::Drawn;
use rayon::prelude::*;
use runproof_interpret::capture::{Capture, Entry};
use runproof_interpret::judgement::ReelJudgement;
use runproof_interpret::{LimitSheet, judge_reel};
use runproof_protocol::Phase;

use crate::host::Host;
use crate::measured::phases;

/// Draws reels at random, measures and judges them, and says how often that was right.
#[derive(Debug, Parser)]
struct Options {
    /// How many reels; unless told, 2000, and 20 where nobody asked for a benchmark.
    #[arg(long)]
    runs: Option<u64>,
    /// What they are drawn from.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// One reel by its number: all that is said of it.
    #[arg(long, value_name = "NUMBER")]
    only: Option<u64>,
    /// That a benchmark is wanted: cargo says it.
    #[arg(long, hide = true)]
    bench: bool,
}

/// Between the two readings.
const APART_NANOS: u64 = 120_000_000_000;

fn main() {
    let options = Options::parse();
    let sheet = LimitSheet::reel();
    if let Some(index) = options.only {
        let drawn = Drawn::of(options.seed, index);
        println!("{drawn:#?}");
        let judgement = judged(&drawn, &sheet);
        println!("{:#?}\n{:#?}", judgement.findings, judgement.run.findings);
        println!("{:#?}", Answer::of(&judgement, drawn));
        return;
    }
    let runs = options.runs.unwrap_or(if options.bench { 2_000 } else { 20 });
    let held: Vec<Option<Answer>> = (0..runs)
        .into_par_iter()
        .map(|index| {
            let drawn = Drawn::of(options.seed, index);
            let judged = catch_unwind(AssertUnwindSafe(|| judged(&drawn, &sheet)));
            judged.ok().map(|judgement| Answer::of(&judgement, drawn))
        })
        .collect();
    report::print(options.seed, &held);
}

/// Open, with the plug, and with the plug once more.
fn judged(drawn: &Drawn, sheet: &LimitSheet) -> ReelJudgement {
    let mut host = Host::on(drawn.scene.clone(), drawn.jig_seed);
    let mut capture = Capture::new(phases(&mut host, &[]).head);
    capture.entries.push(Entry::Reel(Box::new(drawn.declared.clone())));
    if let Some(celsius) = drawn.zeroed_at_c {
        let zero = zeroed::zeroed(drawn.jig_seed, celsius, drawn.scene.jig.contact_mohm);
        capture.entries.push(Entry::Zero(zero.expect("the tail is on the clips")));
    }
    capture.entries.extend(phases(&mut host, &[Phase::Open, Phase::Plug]).entries);
    host.listen(host.jig.now() + APART_NANOS);
    capture.entries.push(Entry::ReelAgain);
    capture.entries.extend(phases(&mut host, &[Phase::Plug]).entries);
    judge_reel(&capture, sheet)
}
