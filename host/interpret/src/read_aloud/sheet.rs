//! The limit sheet in a code: a number for one that comes with the program, a hash for any other.

use serde::{Serialize, Serializer};

use super::packing::Numbered;
use crate::judgement::SheetName;

/// Name, version and number of the sheets that come with the program. A sheet of a new version gets a new number; the
/// old one stays, so that an old code still names its sheet.
const SHEETS: [(&str, &str, u32); 6] = [
    ("service-24vac", "1", 0),
    ("acceptance-24vac", "1", 1),
    ("service-12vdc", "1", 2),
    ("two-wire-bus", "1", 3),
    ("made-up-lead", "1", 4),
    ("reel", "1", 5),
];

/// Numbers from here on are hashes.
const HASHES_FROM: u32 = 16;

/// The limit sheet that a result stands on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SpokenSheet {
    /// One that comes with the program.
    BuiltIn(SheetName),
    /// One that came with a later program.
    Later(u32),
    /// Another, by the hash of its name and version.
    Hash(u8),
}

impl SpokenSheet {
    /// By name and version.
    #[must_use]
    pub fn of(sheet: &SheetName) -> Self {
        let known = |(name, version, _): &&(&str, &str, u32)| {
            (*name, *version) == (sheet.name.as_str(), sheet.version.as_str())
        };
        match SHEETS.iter().find(known) {
            Some(_) => Self::BuiltIn(sheet.clone()),
            None => Self::Hash(hash(sheet)),
        }
    }

    /// Whether this may be the sheet: of a hash, one of 256 others is taken for it as well.
    #[must_use]
    pub fn may_be(&self, sheet: &SheetName) -> bool {
        *self == Self::of(sheet)
    }
}

impl Numbered for SpokenSheet {
    const RADIX: u32 = HASHES_FROM + 256;
    fn number(&self) -> u32 {
        match self {
            Self::BuiltIn(sheet) => {
                let its = SHEETS.iter().find(|(name, version, _)| {
                    (*name, *version) == (sheet.name.as_str(), sheet.version.as_str())
                });
                its.map_or(HASHES_FROM + u32::from(hash(sheet)), |(_, _, number)| *number)
            }
            Self::Later(number) => (*number).min(HASHES_FROM - 1),
            Self::Hash(hash) => HASHES_FROM + u32::from(*hash),
        }
    }
    fn numbered(number: u32) -> Option<Self> {
        if let Some(hash) = number.checked_sub(HASHES_FROM) {
            return u8::try_from(hash).ok().map(Self::Hash);
        }
        let its = SHEETS.iter().find(|(_, _, its)| *its == number);
        Some(its.map_or(Self::Later(number), |(name, version, _)| {
            Self::BuiltIn(SheetName { name: (*name).into(), version: (*version).into() })
        }))
    }
}

impl Serialize for SpokenSheet {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::BuiltIn(sheet) => sheet.serialize(to),
            Self::Later(_) => "of a later program".serialize(to),
            Self::Hash(hash) => format!("hash {hash:02x}").serialize(to),
        }
    }
}

/// CRC-8 of name, a zero byte and version: polynomial x⁸ + x² + x + 1, from 0, the highest bit first (CRC-8/SMBUS in the
/// catalogue of parametrised CRC algorithms; of "123456789" it is F4).
fn hash(sheet: &SheetName) -> u8 {
    crc8(sheet.name.bytes().chain([0]).chain(sheet.version.bytes()))
}

fn crc8(bytes: impl Iterator<Item = u8>) -> u8 {
    bytes.fold(0, |sum, byte| {
        (0..8).fold(sum ^ byte, |sum, _| if sum & 0x80 == 0 { sum << 1 } else { sum << 1 ^ 7 })
    })
}

#[test]
fn every_built_in_sheet_has_its_number() {
    for (name, _) in crate::limits::BUILT_IN {
        let sheet = crate::LimitSheet::built_in(name).expect("built in");
        let sheet = SheetName { name: sheet.name, version: sheet.version };
        let told = SpokenSheet::of(&sheet);
        assert_eq!(told, SpokenSheet::BuiltIn(sheet), "{name} has no number: give it the next one");
        assert_eq!(SpokenSheet::numbered(told.number()), Some(told));
    }
    for number in 0..SpokenSheet::RADIX {
        let sheet = SpokenSheet::numbered(number).expect("all are");
        assert_eq!(sheet.number(), number);
    }
    assert_eq!(crc8(b"123456789".iter().copied()), 0xF4);
}
