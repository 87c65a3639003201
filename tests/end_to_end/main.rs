//! End to end: the real program, on the simulated jig and on the emulated microcontroller.

mod bad_input;
mod cannot_lift;
mod copper;
mod emulated;
mod explain;
mod far_end;
mod floods;
mod folders;
mod hostile_captures;
mod keeping;
mod left_running;
mod limits;
mod links;
mod maps;
mod other_end;
mod peak;
mod program;
mod readme;
mod scenes;
mod screens;
mod terminal;
mod three_ways;
mod to_earth;
mod touches;
mod trip;
mod zero;
