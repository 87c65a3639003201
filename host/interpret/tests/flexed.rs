//! Runs that are flexed, by a network of the tests' own.

#[path = "flexed/anything.rs"]
mod anything;
#[path = "support/chance.rs"]
mod chance;
#[path = "flexed/contact.rs"]
mod contact;
#[path = "flexed/events.rs"]
mod events;
#[path = "support/flex_bench.rs"]
mod flex_bench;
#[path = "flexed/judged.rs"]
mod judged;
#[path = "support/network.rs"]
mod network;
#[path = "flexed/runs.rs"]
mod runs;
