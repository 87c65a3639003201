//! Thousands of made-up leads, plugged in by a simulated operator whose contacts bounce, tested by the program as it is
//! shipped: is one skipped, is one counted twice, is a verdict wrong, and how many an hour are they?

mod session;

use clap::Parser;
use session::Session;

/// Tests leads at the simulated station, and says what came of it.
#[derive(Debug, Parser)]
struct Options {
    /// How many leads; unless told, 10000, and 20 where nobody asked for a benchmark.
    #[arg(long)]
    leads: Option<u32>,
    /// Of the first session; each has its own jig, leads and operator.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// At how many fixtures the operator works.
    #[arg(long, default_value_t = 2)]
    fixtures: u32,
    /// That a benchmark is wanted: cargo says it.
    #[arg(long, hide = true)]
    bench: bool,
}

/// In one session.
const LEADS_A_SESSION: u32 = 500;

fn main() {
    let options = Options::parse();
    let mut left = options.leads.unwrap_or(if options.bench { 10_000 } else { 20 });
    let mut all = Session::default();
    let mut sessions = 0;
    while left > 0 {
        let count = left.min(LEADS_A_SESSION);
        all.add(&Session::of(options.seed + sessions, count, options.fixtures));
        left -= count;
        sessions += 1;
    }
    println!("{sessions} sessions at {} fixtures, from seed {}", options.fixtures, options.seed);
    println!("{all}");
}
