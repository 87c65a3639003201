//! Why a jig started anew by itself.

use core::fmt;

use heapless::String;
use serde::{Deserialize, Serialize};

/// What the start before this one ended in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Restart {
    /// Its firmware met what it holds impossible.
    Panicked {
        /// The source file's name.
        file: String<24>,
        /// The line in it.
        line: u32,
    },
    /// Its processor met an address or an instruction that it cannot follow.
    HardFault {
        /// Where.
        address: u32,
    },
    /// It hung, and its watchdog ended that.
    Hung,
}

impl fmt::Display for Restart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Panicked { file, line } => {
                write!(f, "its firmware stopped at {file}, line {line}")
            }
            Self::HardFault { address } => {
                write!(f, "its processor stopped at address {address:#010x}")
            }
            Self::Hung => f.write_str("it hung, and its watchdog started it anew"),
        }
    }
}
