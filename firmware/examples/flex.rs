//! Prints when the edge catcher of a simulated jig sees what, as JSON lines: `flex SCENE.toml SEED DRIVES SECONDS`, drives
//! like HHLL. The first line is the parts as drawn; then each edge's time and the posts that carry from then on, without what
//! a comparator takes. tests/outside/check_edges.py compares it with ngspice.

use std::error::Error;

use runproof_firmware::boards::simulated::{COMPARATOR_NANOS, Circuitry, Scene, World};
use runproof_protocol::Drive;
use serde_json::json;

/// Relays have closed and rest.
const DRIVEN_AT: u64 = 100_000_000;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [path, seed, drives, seconds] = arguments.as_slice() else {
        return Err("usage: flex SCENE.toml SEED DRIVES SECONDS".into());
    };
    let scene = Scene::read(&std::fs::read_to_string(path)?)?;
    let (seed, seconds): (u64, f64) = (seed.parse()?, seconds.parse()?);
    let parts = serde_json::to_value(Circuitry::new(scene.clone(), seed).parts())?;
    let mut world = World::new(scene, seed);
    world.coil(true, 0);
    for (post, drive) in drives.chars().enumerate() {
        let drive = if drive == 'H' { Drive::High } else { Drive::Low };
        world.drive(post, drive, DRIVEN_AT);
    }
    let stand = world.between(DRIVEN_AT + 1_000_000);
    println!("{}", json!({ "parts": parts, "carry": stand }));
    for (at, carry) in world.edges((seconds * 1e9) as u64) {
        println!("{}", json!({ "seconds": (at - COMPARATOR_NANOS) as f64 / 1e9, "carry": carry }));
    }
    Ok(())
}
