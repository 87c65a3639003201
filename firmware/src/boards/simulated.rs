//! A jig without hardware: the same lines and bus, answered by a circuit, in virtual time.
//!
//! A [`Scene`] says what run is on the clips. The [`World`] is what pins and bus see of it;
//! the emulated microcontroller uses the same one. [`SimulatedJig`] runs the engine on it.

mod board;
mod catcher;
mod circuit;
mod contacts;
mod converters;
mod electronics;
mod face;
mod flexing;
mod jig;
mod memory;
mod modes;
mod noise_free;
mod parts;
mod rectified;
mod release;
mod scene;
mod sight;
mod traffic;
mod transient;
#[cfg(target_arch = "wasm32")]
pub mod wasm;
mod waves;
mod wiring;
mod world;

pub use board::Followers;
pub use catcher::COMPARATOR_NANOS;
pub use jig::SimulatedJig;
pub use memory::Memory;
pub use noise_free::{Circuitry, NodeVoltage, Setting};
pub use scene::{
    BUILT_IN, Contact, End, EndPlug, FLEXED, Flexed, Harmonic, JigState, Joint, LIVE, LeftOn,
    Moves, OpenConductor, REELS, Run, Scene, SceneError, Shape, Short, Source, Through, Touch,
};
pub use traffic::Traffic;
pub use world::World;

/// Time since the jig's start.
pub type Nanoseconds = u64;
