//! What it takes to hear a run that is flexed: a second of the simulated jig's events, in quiet and with a thousand edges.

#[path = "../../tests/support/host.rs"]
mod host;

use std::hint::black_box;

use criterion::{BatchSize, Criterion};
use host::{Host, order};
use runproof_firmware::boards::simulated::{Contact, Flexed as Moving, Moves, Scene};
use runproof_interpret::flex::{FlexSetup, Flexed};
use runproof_protocol::{Event, Phase};

/// The plug phase is over, and of the watch looks and baseline.
const BEGINS_S: f64 = 2.0;

/// A watch that has its baseline, and what the jig tells in the next.
fn second(breaks: usize) -> (Flexed, Vec<Event>) {
    let apart_ms = 1e3 / breaks as f64;
    let moves = (0..breaks).map(|n| [n as f64 * apart_ms, apart_ms / 2.0]).collect();
    let of = Contact::Conductor { post: 2, ohm: 1e9 };
    let until_s = f64::INFINITY;
    let moving = Moving { of, at: 0.5, moves: Moves::At(moves), from_s: BEGINS_S, until_s };
    let good = Scene::built_in("flex-good").expect("built in");
    let mut host = Host::on(Scene { flexed: vec![moving], ..good }, 1);
    host.measure(Phase::Plug);
    host.send(order(Phase::Flex));
    host.listen((BEGINS_S * 1e9) as u64);
    let identity = runproof_firmware::identity("simulated", "");
    let mut flexed = Flexed::new(FlexSetup {
        phase: Phase::Flex,
        parts: identity.parts,
        plug: identity.plug,
        baseline_ohm: [Some(1.0); 4],
        step_ohm: FlexSetup::STEP_OHM,
    });
    let mut news = vec![];
    for event in host.events.drain(..) {
        flexed.hear(&event, &mut news);
    }
    host.listen(((BEGINS_S + 1.0) * 1e9) as u64);
    (flexed, host.events)
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    for breaks in [1, 500] {
        let (flexed, events) = second(breaks);
        criterion.bench_function(&format!("hear a second of {breaks} breaks"), |bencher| {
            let mut news = Vec::new();
            bencher.iter_batched(
                || flexed.clone(),
                |mut flexed| {
                    for event in &events {
                        flexed.hear(black_box(event), &mut news);
                        news.clear();
                    }
                    flexed
                },
                BatchSize::SmallInput,
            );
        });
    }
    criterion.final_summary();
}
