//! Quantities with their unit in the type, and the four posts.

use core::fmt;

use serde::{Deserialize, Serialize};

/// Time on the jig's own clock, counted from its start.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Microseconds(pub u64);

impl Microseconds {
    /// This time, `micros` later.
    #[must_use]
    pub const fn after(self, micros: u64) -> Self {
        Self(self.0 + micros)
    }
}

/// Resistance in thousandths of an ohm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Milliohms(pub u64);

impl Milliohms {
    /// The same resistance in ohms.
    #[must_use]
    pub fn ohms(self) -> f64 {
        self.0 as f64 / 1e3
    }
}

/// Resistance in millionths of an ohm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Microohms(pub u32);

/// Resistance in thousand-millionths of an ohm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Nanoohms(pub u32);

/// Capacitance in picofarads.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Picofarads(pub u32);

/// Voltage in millionths of a volt.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Microvolts(pub i64);

/// Temperature in thousandths of a degree Celsius.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Millicelsius(pub i32);

/// One of the jig's four clips. It knows its number; a limit sheet says which conductor it holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Post {
    /// Post 1.
    P1,
    /// Post 2.
    P2,
    /// Post 3.
    P3,
    /// Post 4.
    P4,
}

impl Post {
    /// All four, in order.
    pub const ALL: [Self; 4] = [Self::P1, Self::P2, Self::P3, Self::P4];

    /// The six pairs of posts, the lower number first.
    pub const PAIRS: [(Self, Self); 6] = [
        (Self::P1, Self::P2),
        (Self::P1, Self::P3),
        (Self::P1, Self::P4),
        (Self::P2, Self::P3),
        (Self::P2, Self::P4),
        (Self::P3, Self::P4),
    ];

    /// 0 to 3, for arrays of four.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }

    /// 1 to 4, as printed beside the clip.
    #[must_use]
    pub const fn number(self) -> u8 {
        self as u8 + 1
    }

    /// The post with this printed number, if there is one.
    #[must_use]
    pub const fn from_number(number: u8) -> Option<Self> {
        match number {
            1 => Some(Self::P1),
            2 => Some(Self::P2),
            3 => Some(Self::P3),
            4 => Some(Self::P4),
            _ => None,
        }
    }
}

impl fmt::Display for Post {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.number())
    }
}
