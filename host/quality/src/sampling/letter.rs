//! Code letters: the size of a lot and the inspection level give one (MIL-STD-105E table I).

use std::fmt;

use serde::{Serialize, Serializer};

use super::{Level, NoInspection};

/// A sample size code letter, A to R without I and O; and S, where only arrows of tightened inspection lead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CodeLetter(u8);

impl CodeLetter {
    /// All but S.
    pub(super) const COUNT: usize = 16;

    /// Those that table I gives, the smallest sample first.
    pub const ALL: [Self; Self::COUNT] = {
        let mut all = [Self(0); Self::COUNT];
        let mut index = 0;
        while index < Self::COUNT {
            all[index] = Self::at(index);
            index += 1;
        }
        all
    };

    /// The letter for a lot of `lot_size` units.
    ///
    /// # Errors
    ///
    /// [`NoInspection::LotTooSmall`]: the table begins at two units.
    pub fn of(lot_size: u32, level: Level) -> Result<Self, NoInspection> {
        let row = TABLE_I.iter().rev().find(|row| row.lot_least <= lot_size);
        let row = row.ok_or(NoInspection::LotTooSmall { lot_size })?;
        let letter = row.letters.as_bytes()[level as usize] as char;
        Ok(Self::ALL[LETTERS.find(letter).unwrap_or_default()])
    }

    /// As it is written.
    #[must_use]
    pub const fn letter(self) -> char {
        LETTERS.as_bytes()[self.0 as usize] as char
    }

    pub(super) const fn at(index: usize) -> Self {
        Self(index as u8)
    }

    pub(super) const fn index(self) -> usize {
        self.0 as usize
    }
}

const LETTERS: &str = "ABCDEFGHJKLMNPQRS";

struct Lots {
    lot_least: u32,
    /// At S-1, S-2, S-3, S-4, I, II, III.
    letters: &'static str,
}

const fn lots(lot_least: u32, letters: &'static str) -> Lots {
    Lots { lot_least, letters }
}

/// MIL-STD-105E (1989) table I, ISO 2859-1:1999 table 1; each row reaches to the next. Two copies agree in all rows.
const TABLE_I: [Lots; 15] = [
    lots(2, "AAAAAAB"),
    lots(9, "AAAAABC"),
    lots(16, "AABBBCD"),
    lots(26, "ABBCCDE"),
    lots(51, "BBCCCEF"),
    lots(91, "BBCDDFG"),
    lots(151, "BCDEEGH"),
    lots(281, "BCDEFHJ"),
    lots(501, "CCEFGJK"),
    lots(1_201, "CDEGHKL"),
    lots(3_201, "CDFGJLM"),
    lots(10_001, "CDFHKMN"),
    lots(35_001, "DEGJLNP"),
    lots(150_001, "DEGJMPQ"),
    lots(500_001, "DEHKNQR"),
];

impl fmt::Display for CodeLetter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.letter())
    }
}

impl Serialize for CodeLetter {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_char(self.letter())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_letter_of_the_table_is_one() {
        for row in &TABLE_I {
            assert_eq!(row.letters.len(), Level::ALL.len());
            assert!(row.letters.chars().all(|letter| LETTERS.contains(letter)));
        }
        assert_eq!(LETTERS.len(), CodeLetter::COUNT + 1);
    }

    #[test]
    fn with_lot_and_level_the_letter_never_falls() {
        for pair in TABLE_I.windows(2) {
            assert!(pair[0].lot_least < pair[1].lot_least);
            assert!(pair[0].letters.bytes().zip(pair[1].letters.bytes()).all(|(a, b)| a <= b));
        }
        for row in &TABLE_I {
            assert!(row.letters.as_bytes()[..4].is_sorted(), "special levels");
            assert!(row.letters.as_bytes()[4..].is_sorted(), "general levels");
        }
    }

    #[test]
    fn a_lot_of_less_than_two_has_none() {
        for lot_size in [0, 1] {
            assert_eq!(
                CodeLetter::of(lot_size, Level::II),
                Err(NoInspection::LotTooSmall { lot_size })
            );
        }
        assert_eq!(CodeLetter::of(u32::MAX, Level::II).map(CodeLetter::letter), Ok('Q'));
    }
}
