//! The converters: their registers, and the task that owns their bus.

pub mod ads1115;
mod task;

pub use task::{Bus, serve};
