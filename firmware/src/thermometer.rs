//! The jig's own temperature, given to the engine by its board.

use runproof_protocol::Millicelsius;

/// Reads how warm the jig is.
pub trait Thermometer {
    /// Now, while nothing is measured; nothing, if the board cannot tell.
    fn read(&self) -> Option<Millicelsius>;
}
