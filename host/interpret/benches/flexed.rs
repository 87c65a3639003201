//! What it takes to hear a run that is flexed: a second of it, with a thousand edges, each told by itself.

#[path = "../tests/support/chance.rs"]
mod chance;
#[path = "../tests/support/flex_bench.rs"]
mod flex_bench;
#[path = "../tests/support/network.rs"]
mod network;

use std::hint::black_box;

use chance::Chance;
use criterion::Criterion;
use flex_bench::{Jig, Run};
use runproof_interpret::flex::Flexed;
use runproof_protocol::{Edges, Event, Phase};

const EDGES: u64 = 1_000;

/// The jig after a first second, and what it tells in the next.
fn second(edges: u64) -> (Flexed, Vec<Event>) {
    let mut jig = Jig::new(Phase::Flex);
    let run = Run::sound([0.5, 3.0, 1.0, 20.0]);
    let begins = jig.now() + 1_000_000;
    let mut runs = vec![(0, run)];
    for n in 0..edges {
        let run = if n % 2 == 0 { run.broken(1) } else { run };
        runs.push((begins + n * 1_000_000 / edges, run));
    }
    let mut chance = Chance::new(1);
    let mut flexed = Flexed::new(jig.setup([Some(1.0); 4]));
    let mut news = vec![];
    for event in jig.watch(&runs, begins, &mut chance) {
        flexed.hear(&event, &mut news);
    }
    let mut events = jig.watch(&runs, begins + 1_000_000, &mut chance);
    alone(&mut events);
    (flexed, events)
}

/// Each edge in an event of its own, numbered anew.
fn alone(events: &mut Vec<Event>) {
    let first = events.iter().find_map(|event| match event {
        Event::Edges(edges) => Some(edges.index),
        Event::Pattern(pattern) => Some(pattern.index),
        _ => None,
    });
    let mut next = first.expect("it tells something");
    let mut index = || {
        next = next.wrapping_add(1);
        next.wrapping_sub(1)
    };
    let told = std::mem::take(events);
    for event in told {
        match event {
            Event::Edges(Edges { phase, dropped, edges, .. }) => {
                events.extend(edges.iter().map(|edge| {
                    let edges = [*edge].into_iter().collect();
                    Event::Edges(Edges { index: index(), phase, dropped, edges })
                }));
            }
            Event::Pattern(pattern) => {
                events
                    .push(Event::Pattern(runproof_protocol::Pattern { index: index(), ..pattern }));
            }
            _ => {}
        }
    }
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    for edges in [1, EDGES] {
        let (flexed, events) = second(edges);
        criterion.bench_function(&format!("hear a second of {edges} edges"), |bencher| {
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
                criterion::BatchSize::SmallInput,
            );
        });
    }
    criterion.final_summary();
}
