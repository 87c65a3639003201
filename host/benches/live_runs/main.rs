//! Many powered runs drawn at random, read by the engine on the simulated board, judged, and held against the
//! truth: how often is what is said wrong, and how far off are its numbers?

mod answer;
mod draw;
mod report;

#[path = "../../../tests/support/host.rs"]
mod host;
#[expect(dead_code, reason = "whole checks are not taken here")]
#[path = "../../../tests/support/measured.rs"]
mod measured;
#[path = "../monte_carlo/statistics.rs"]
mod statistics;

use answer::Answer;
use clap::Parser;
use draw::{Drawn, Zeroed};
use rayon::prelude::*;
use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::capture::{Capture, Entry, LiveZero};
use runproof_interpret::judgement::LiveJudgement;
use runproof_interpret::{LimitSheet, LiveKnowledge, judge_live};
use runproof_protocol::{Phase, Step};

use crate::host::Host;
use crate::measured::phases;

/// Draws powered runs at random, reads and judges them, and says how often that was right.
#[derive(Debug, Parser)]
struct Options {
    /// How many runs; unless told, 2000, and 20 where nobody asked for a benchmark.
    #[arg(long)]
    runs: Option<u64>,
    /// What they are drawn from.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// One run by its number: all that is said of it.
    #[arg(long, value_name = "NUMBER")]
    only: Option<u64>,
    /// That a benchmark is wanted: cargo says it.
    #[arg(long, hide = true)]
    bench: bool,
}

/// When a fresh zero was taken, a day before the reading; and a stale one, two months before. (judgement)
const TAKEN_UNIX_S: u64 = 1_000_000_000;
const DAY_S: u64 = 86_400;
/// What every jig of this design says of its load, whatever it is within its tolerance.
const SUPPLY_LOAD_OHM: f64 = 181.5;

fn main() {
    let options = Options::parse();
    let sheet = LimitSheet::service_24vac();
    if let Some(index) = options.only {
        let drawn = Drawn::of(options.seed, index);
        println!("{}\n{drawn:#?}", drawn.text);
        let judgement = judged(&drawn, &sheet);
        println!("{judgement:#?}\n{:#?}", Answer::of(&judgement, &drawn));
        return;
    }
    let runs = options.runs.unwrap_or(if options.bench { 2_000 } else { 20 });
    let held: Vec<_> = (0..runs)
        .into_par_iter()
        .map(|index| {
            let drawn = Drawn::of(options.seed, index);
            let answer = Answer::of(&judged(&drawn, &sheet), &drawn);
            (drawn, answer)
        })
        .collect();
    report::print(options.seed, &held);
}

fn judged(drawn: &Drawn, sheet: &LimitSheet) -> LiveJudgement {
    let mut capture =
        phases(&mut Host::on(drawn.scene(), drawn.jig_seed), &[Phase::Live, Phase::SupplyLoad]);
    capture.head.jig.supply_load_ohm = Some(SUPPLY_LOAD_OHM);
    supply_changes(&mut capture, drawn.then);
    let age_s = if drawn.zeroed == Zeroed::Stale { 60 * DAY_S } else { DAY_S };
    capture.head.taken_unix_s = Some(TAKEN_UNIX_S + age_s);
    if drawn.zeroed != Zeroed::Not {
        let zero = LiveZero::from_capture(&zeroed(drawn.jig_seed)).expect("nothing is clipped on");
        capture.entries.push(Entry::LiveZero(zero));
    }
    judge_live(&capture, sheet, &LiveKnowledge::default())
}

/// By the time it is loaded the supply itself is another: what is read across it is so in proportion.
fn supply_changes(capture: &mut Capture, times: f64) {
    for entry in &mut capture.entries {
        if let Entry::Reading(reading) = entry
            && reading.step == Step::SupplyLoaded
        {
            reading.volts *= times;
        }
    }
}

/// The same jig with nothing on its clips.
fn zeroed(jig_seed: u64) -> Capture {
    let mut scene = Scene::built_in("tail-on-clips").expect("it is built in");
    scene.plug = runproof_firmware::boards::simulated::EndPlug::Out;
    let mut capture = phases(&mut Host::on(scene, jig_seed), &[Phase::LiveZero]);
    capture.head.taken_unix_s = Some(TAKEN_UNIX_S);
    capture
}
