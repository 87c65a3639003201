//! The world for the emulated microcontroller: plain functions that its harness calls.
//!
//! Times are nanoseconds as `f64`, levels are 0 low, 1 high, 2 off.
#![expect(unsafe_code, reason = "symbols and memory that the harness reaches from outside")]

use core::cell::RefCell;
use std::string::{String, ToString};
use std::vec::Vec;

use runproof_protocol::Drive;

use super::Nanoseconds;
use super::scene::Scene;
use super::world::World;

#[derive(Default)]
struct Loaded {
    text: Vec<u8>,
    message: String,
    world: Option<World>,
}

std::thread_local! {
    static LOADED: RefCell<Loaded> = RefCell::new(Loaded::default());
}

fn with<T>(act: impl FnOnce(&mut Loaded) -> T) -> T {
    LOADED.with_borrow_mut(act)
}

fn with_world<T: Default>(act: impl FnOnce(&mut World) -> T) -> T {
    with(|loaded| loaded.world.as_mut().map(act).unwrap_or_default())
}

fn nanos(at: f64) -> Nanoseconds {
    at as Nanoseconds
}

fn level(level: u32) -> Drive {
    match level {
        0 => Drive::Low,
        1 => Drive::High,
        _ => Drive::Off,
    }
}

/// Room for a scene's text of `length` bytes.
#[unsafe(no_mangle)]
pub extern "C" fn scene_buffer(length: u32) -> *mut u8 {
    with(|loaded| {
        loaded.text = std::vec![0; length as usize];
        loaded.text.as_mut_ptr()
    })
}

/// Reads the scene from the buffer: 0, or -1 and a message.
#[unsafe(no_mangle)]
pub extern "C" fn load(length: u32, seed: u32) -> i32 {
    with(|loaded| {
        let text = loaded.text.get(..length as usize).unwrap_or_default();
        let scene = core::str::from_utf8(text)
            .map_err(|error| error.to_string())
            .and_then(|text| Scene::read(text).map_err(|error| error.to_string()));
        match scene {
            Ok(scene) => {
                loaded.world = Some(World::new(scene, u64::from(seed)));
                0
            }
            Err(message) => {
                loaded.message = message;
                -1
            }
        }
    })
}

/// Where the last message begins.
#[unsafe(no_mangle)]
pub extern "C" fn message_ptr() -> *const u8 {
    with(|loaded| loaded.message.as_ptr())
}

/// How many bytes it has.
#[unsafe(no_mangle)]
pub extern "C" fn message_len() -> u32 {
    with(|loaded| loaded.message.len() as u32)
}

/// Drives post 0–3.
#[unsafe(no_mangle)]
pub extern "C" fn set_drive(post: u32, drive: u32, at: f64) {
    with_world(|world| world.drive(post as usize, level(drive), nanos(at)));
}

/// Drives pull line 0–1.
#[unsafe(no_mangle)]
pub extern "C" fn set_pull(line: u32, drive: u32, at: f64) {
    with_world(|world| world.pull(line as usize, level(drive), nanos(at)));
}

/// Drives the reference lines, which go together.
#[unsafe(no_mangle)]
pub extern "C" fn set_references(drive: u32, at: f64) {
    with_world(|world| world.refer(level(drive), nanos(at)));
}

/// When the line of post 0–3, let go under both pulls, reads high; -1 if it does not.
#[unsafe(no_mangle)]
pub extern "C" fn rises_at(post: u32, at: f64) -> f64 {
    let rises_at = with_world(|world| world.rises_at(post as usize, nanos(at)));
    rises_at.map_or(-1.0, |at| at as f64)
}

/// Which posts stand between the edge catcher's thresholds, the lowest bit first.
#[unsafe(no_mangle)]
pub extern "C" fn between(at: f64) -> u32 {
    with_world(|world| world.between(nanos(at)).into())
}

/// When that may be otherwise next, by itself; -1 if it stays.
#[unsafe(no_mangle)]
pub extern "C" fn edge_due(at: f64) -> f64 {
    let due = with_world(|world| world.edge_due(nanos(at)));
    due.map_or(-1.0, |at| at as f64)
}

/// Switches the relays' coil.
#[unsafe(no_mangle)]
pub extern "C" fn set_relays(closed: u32, at: f64) {
    with_world(|world| world.coil(closed != 0, nanos(at)));
}

/// Switches the load's coil.
#[unsafe(no_mangle)]
pub extern "C" fn set_load(on: u32, at: f64) {
    with_world(|world| world.load_coil(on != 0, nanos(at)));
}

/// 1 if the jig has a supply load.
#[unsafe(no_mangle)]
pub extern "C" fn has_supply_load() -> u32 {
    with_world(|world| world.has_supply_load().into())
}

/// Switches the supply load's coil.
#[unsafe(no_mangle)]
pub extern "C" fn set_supply_load(on: u32, at: f64) {
    with_world(|world| world.supply_load_coil(on != 0, nanos(at)));
}

/// Switches the coil of a fixture's ring.
#[unsafe(no_mangle)]
pub extern "C" fn set_ring(on: u32, at: f64) {
    with_world(|world| world.ring_coil(on != 0, nanos(at)));
}

/// Volts at post 0–3 against the jig's mid voltage, as its follower shows them.
#[unsafe(no_mangle)]
pub extern "C" fn followed_volts(post: u32, at: f64) -> f64 {
    let posts_v = with_world(|world| world.followed_v(nanos(at)));
    posts_v.get(post as usize).copied().unwrap_or(0.0)
}

/// How warm the jig is, in °C.
#[unsafe(no_mangle)]
pub extern "C" fn jig_celsius() -> f64 {
    with_world(|world| world.celsius())
}

/// How long a conversion of converter 0–2 takes.
#[unsafe(no_mangle)]
pub extern "C" fn conversion_nanos(converter: u32) -> f64 {
    with_world(|world| world.conversion_nanos(converter as usize)) as f64
}

/// A transfer begins: 1 if somebody has that address.
#[unsafe(no_mangle)]
pub extern "C" fn i2c_start(address: u32, _read: u32, at: f64) -> u32 {
    with_world(|world| world.bus_start(address as u8, nanos(at)).into())
}

/// A byte to the addressed converter: 1 if it took it.
#[unsafe(no_mangle)]
pub extern "C" fn i2c_write(byte: u32, at: f64) -> u32 {
    with_world(|world| world.bus_write(byte as u8, nanos(at)).into())
}

/// A byte from the addressed converter.
#[unsafe(no_mangle)]
pub extern "C" fn i2c_read(at: f64) -> u32 {
    with_world(|world| world.bus_read(nanos(at)).into())
}

/// The transfer is over.
#[unsafe(no_mangle)]
pub extern "C" fn i2c_stop(at: f64) {
    with_world(|world| world.bus_stop(nanos(at)));
}
