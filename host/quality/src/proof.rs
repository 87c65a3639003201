//! How a jig was proved over time: what it said of known pieces, and what that says of everything it measured in between.

mod chart;
mod history;

pub use chart::{Charted, PROOFS_BEFORE_LIMITS, Reading, charted};
pub use history::{Event, Events, History, Out, Piece, Proof};
