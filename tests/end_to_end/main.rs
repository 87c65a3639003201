//! End to end: the real program, on the simulated jig and on the emulated microcontroller.

mod bad_input;
mod emulated;
mod limits;
mod links;
mod program;
mod readme;
mod scenes;
mod terminal;
mod three_ways;
mod trip;
