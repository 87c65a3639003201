//! What each verdict, reason, finding and cause is in a code. **A number is never given another meaning, nor used again.**
//!
//! A new kind gets a free number below its table's radix, and stays readable as "other" by older programs. The last
//! number of an open table is for what has none of its own; when no number is left, the format version is raised.

mod check;
mod live;

use serde::{Serialize, Serializer};

use super::packing::Numbered;
use crate::judgement::Verdict;

/// Each value of an enumeration with its number, in one place for both directions.
pub(super) trait Table: Copy + PartialEq + 'static {
    const RADIX: u32;
    const TABLE: &'static [(Self, u32)];
    fn its_number(self) -> u32;
}

/// A value that is not listed does not compile.
macro_rules! table {
    ($of:ty, $radix:literal: $($value:ident = $number:literal),+ $(,)?) => {
        impl $crate::read_aloud::numbers::Table for $of {
            const RADIX: u32 = $radix;
            const TABLE: &'static [(Self, u32)] = &[$((Self::$value, $number)),+];
            fn its_number(self) -> u32 {
                match self {
                    $(Self::$value => $number),+
                }
            }
        }
    };
}
pub(super) use table;

/// Of a closed table, whose radix is the count of its values.
impl<T: Table> Numbered for T {
    const RADIX: u32 = <T as Table>::RADIX;
    fn number(&self) -> u32 {
        self.its_number()
    }
    fn numbered(number: u32) -> Option<Self> {
        Self::TABLE.iter().find(|(_, its)| *its == number).map(|(value, _)| *value)
    }
}

/// A value that this program knows, or another that a later one has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known<T> {
    /// One of today's.
    Value(T),
    /// A number that has no meaning here.
    Other(u32),
}

impl<T: Copy> Known<T> {
    /// If this program knows it.
    #[must_use]
    pub fn value(&self) -> Option<T> {
        match self {
            Self::Value(value) => Some(*value),
            Self::Other(_) => None,
        }
    }
}

impl<T: Table> Numbered for Known<T> {
    const RADIX: u32 = <T as Table>::RADIX;
    fn number(&self) -> u32 {
        match self {
            Self::Value(value) => value.its_number(),
            Self::Other(number) => (*number).min(<T as Table>::RADIX - 1),
        }
    }
    fn numbered(number: u32) -> Option<Self> {
        Some(T::numbered(number).map_or(Self::Other(number), Self::Value))
    }
}

impl<T: Serialize> Serialize for Known<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Value(value) => value.serialize(to),
            Self::Other(_) => "other".serialize(to),
        }
    }
}

table!(Verdict, 3: Pass = 0, Fail = 1, CannotTell = 2);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::Drain;
    use crate::judgement::{
        Activity, At, Bonded, Cause, ExplainsComplaint, FindingKind, LiveCause, LiveFindingKind,
        LiveReason, LiveUnit, PairSign, Reason, Severity, SupplyKind,
    };

    /// No number twice, all below the radix; of an open table the last one is kept free.
    fn holds<T: Table + std::fmt::Debug>(is_open: bool) {
        let mut numbers: Vec<u32> = T::TABLE.iter().map(|(_, number)| *number).collect();
        numbers.sort_unstable();
        let count = numbers.len();
        numbers.dedup();
        assert_eq!(numbers.len(), count, "a number twice: {:?}", T::TABLE);
        let last = numbers.last().copied();
        assert!(last < Some(<T as Table>::RADIX - u32::from(is_open)), "{:?}", T::TABLE);
        for (value, number) in T::TABLE {
            assert_eq!((value.its_number(), T::numbered(*number)), (*number, Some(*value)));
        }
        assert!(is_open || count == <T as Table>::RADIX as usize, "a closed table has no gaps");
    }

    #[test]
    fn no_number_stands_for_two() {
        holds::<Verdict>(false);
        holds::<Severity>(false);
        holds::<ExplainsComplaint>(false);
        holds::<Drain>(false);
        holds::<Bonded>(false);
        holds::<At>(false);
        holds::<PairSign>(false);
        holds::<Activity>(false);
        holds::<LiveUnit>(false);
        holds::<Reason>(true);
        holds::<FindingKind>(true);
        holds::<Cause>(true);
        holds::<SupplyKind>(true);
        holds::<LiveReason>(true);
        holds::<LiveFindingKind>(true);
        holds::<LiveCause>(true);
    }
}
