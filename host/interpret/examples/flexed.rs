//! Hears a run that is flexed as standard input says, a JSON object, and prints what it heard: for programs that check it.
//!
//! In: `post` 1 to 4, `ohm` of the four conductors, `breaks` as a list of [µs after the beginning, for so many µs], ascending
//! and apart, `seed`. Out: `found` as a list of [µs after the beginning, lane, for so many µs], `lanes`, `watched_us`.

#[path = "../tests/support/chance.rs"]
mod chance;
#[path = "../tests/support/flex_bench.rs"]
mod flex_bench;
#[path = "../tests/support/network.rs"]
mod network;

use std::error::Error;

use chance::Chance;
use flex_bench::{Jig, Run};
use runproof_interpret::flex::{FlexNews, Flexed};
use runproof_protocol::Phase;
use serde::Deserialize;
use serde_json::json;

/// An hour of events at once takes much memory.
const AT_ONCE_US: u64 = 10_000_000;

#[derive(Deserialize)]
struct Question {
    post: usize,
    ohm: [f64; 4],
    breaks: Vec<[u64; 2]>,
    seed: u64,
}

fn main() -> Result<(), Box<dyn Error>> {
    let Question { post, ohm, breaks, seed } = serde_json::from_reader(std::io::stdin().lock())?;
    let run = Run::sound(ohm);
    let broken = run.broken(post.checked_sub(1).filter(|n| *n < 4).ok_or("a post is 1 to 4")?);
    let mut jig = Jig::new(Phase::Flex);
    let begins = jig.now();
    let mut runs = vec![(0, run)];
    for [at, us] in breaks {
        runs.push((begins + at, broken));
        runs.push((begins + at + us, run));
    }
    let until = runs.last().map_or(begins, |(at, _)| *at);
    let mut flexed = Flexed::new(jig.setup(ohm.map(Some)));
    let (mut news, mut found) = (vec![], vec![]);
    let mut chance = Chance::new(seed);
    while jig.now() <= until {
        let next = until.saturating_add(1).min(jig.now() + AT_ONCE_US);
        for event in jig.watch(&runs, next, &mut chance) {
            flexed.hear(&event, &mut news);
        }
        for one in news.drain(..) {
            if let FlexNews::Ended(event) = one {
                found.push(json!([event.at.0 - begins, event.lane, event.lasted.micros()]));
            }
        }
    }
    let watched_us = flexed.finish().head.watched_us;
    println!("{}", json!({ "found": found, "lanes": flexed.lanes(), "watched_us": watched_us }));
    Ok(())
}
