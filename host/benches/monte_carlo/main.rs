//! Many runs drawn at random, measured by the engine on the simulated board, judged, and held against
//! the truth: how often is the judgement wrong, and how far off are its numbers?

mod answer;
mod bars;
mod class;
mod draw;
mod numbers;
mod report;
mod statistics;
mod tally;
mod truth;

#[path = "../../../tests/support/host.rs"]
mod host;
#[path = "../../../tests/support/measured.rs"]
mod measured;
#[path = "../../../tests/support/zeroed.rs"]
mod zeroed;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

use answer::Answer;
use clap::Parser;
use class::Class;
use draw::Drawn;
use numbers::Numbers;
use rayon::prelude::*;
use runproof_interpret::capture::Entry;
use runproof_interpret::{Judgement, LimitSheet, RunKnowledge, judge};
use truth::Truth;

/// Draws runs at random, measures and judges them, and says how often that was right.
#[derive(Debug, Parser)]
struct Options {
    /// How many runs; unless told, 2000, and 20 where nobody asked for a benchmark.
    #[arg(long)]
    runs: Option<u64>,
    /// Begins no more runs after so many minutes.
    #[arg(long, value_name = "NUMBER")]
    minutes: Option<u64>,
    /// What they are drawn from.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// One run by its number: all that is said of it.
    #[arg(long, value_name = "NUMBER")]
    only: Option<u64>,
    /// Of all these runs those of this class alone, such as "open" or "short + wrong map"; may be said again.
    #[arg(long, value_name = "NAME", value_parser = Class::named)]
    class: Vec<Class>,
    /// Clips of better or worse contact than the sheet has them: up to so many milliohms, and the sheet says so.
    #[arg(long, value_name = "NUMBER")]
    contact_mohm: Option<f64>,
    /// That a benchmark is wanted: cargo says it.
    #[arg(long, hide = true)]
    bench: bool,
}

impl Options {
    fn drawn(&self, index: u64) -> Drawn {
        let mut drawn = Drawn::of(self.seed, index);
        if let Some(most) = self.contact_mohm {
            drawn.scene.jig.contact_mohm = most;
        }
        drawn
    }

    fn wants(&self, drawn: &Drawn) -> bool {
        self.class.is_empty() || self.class.contains(&drawn.class)
    }
}

/// One run, what was said of it, and what is true.
struct Outcome {
    drawn: Drawn,
    truth: Truth,
    answer: Answer,
    numbers: Numbers,
    judged_in: Duration,
}

/// So many runs between two looks at the clock.
const AT_ONCE: u64 = 200;

fn main() {
    let options = Options::parse();
    let mut sheet = LimitSheet::service_24vac();
    if let Some(most) = options.contact_mohm {
        sheet.contact_mohm = [0.0, most];
    }
    if let Some(index) = options.only {
        return only(&options, index, &sheet);
    }
    let runs = options.runs.unwrap_or(if options.bench { 2_000 } else { 20 });
    let most = options.minutes.map_or(Duration::MAX, |minutes| Duration::from_secs(60 * minutes));
    let (begun, mut held, mut broken) = (Instant::now(), vec![], vec![]);
    // One after the other, so that what was done in time is what fewer runs would be.
    for first in (0..runs).step_by(AT_ONCE as usize) {
        if begun.elapsed() >= most {
            break;
        }
        let indices = first..runs.min(first + AT_ONCE);
        let drawn: Vec<Drawn> =
            indices.map(|index| options.drawn(index)).filter(|one| options.wants(one)).collect();
        let outcomes: Vec<_> = drawn.into_par_iter().map(|drawn| outcome(drawn, &sheet)).collect();
        for outcome in outcomes {
            match outcome {
                Ok(outcome) => held.push(outcome),
                Err(drawn) => broken.push(drawn),
            }
        }
        eprintln!("{} of {runs} runs", (first + AT_ONCE).min(runs));
    }
    report::print(options.seed, &held, &broken, &sheet);
}

/// A run that the program does not survive is told, and ends no other.
fn outcome(drawn: Drawn, sheet: &LimitSheet) -> Result<Outcome, Box<Drawn>> {
    let judged = catch_unwind(AssertUnwindSafe(|| judged(&drawn, sheet)));
    let Ok((judgement, judged_in)) = judged else {
        return Err(Box::new(drawn));
    };
    let truth = Truth::of(&drawn);
    let answer = Answer::of(&judgement, &truth, sheet);
    let numbers = Numbers::of(&judgement, &truth, drawn.index);
    Ok(Outcome { drawn, truth, answer, numbers, judged_in })
}

/// And how long judging took, without measuring.
fn judged(drawn: &Drawn, sheet: &LimitSheet) -> (Judgement, Duration) {
    let known = RunKnowledge { lifted: drawn.lifted, ..RunKnowledge::default() };
    let mut capture = measured::measured(drawn.scene.clone(), drawn.jig_seed);
    if let Some(celsius) = drawn.zeroed_at_c {
        let zero = zeroed::zeroed(drawn.jig_seed, celsius, drawn.scene.jig.contact_mohm)
            .expect("the tail is on the clips");
        capture.entries.push(Entry::Zero(zero));
    }
    let begun = Instant::now();
    let judgement = judge(&capture, sheet, &known);
    (judgement, begun.elapsed())
}

fn only(options: &Options, index: u64, sheet: &LimitSheet) {
    let drawn = options.drawn(index);
    let truth = Truth::of(&drawn);
    println!("{drawn}\n\n{truth:#?}");
    let (judgement, _) = judged(&drawn, sheet);
    println!("\n{:#?}", judgement.conductors);
    println!("{:#?}\n{:#?}\n{:?}", judgement.isolation, judgement.findings, judgement.fit);
    println!("\n{:#?}", Answer::of(&judgement, &truth, sheet));
}
