//! A result as a short code that can be said over the phone, and restored at the other end.
//!
//! [`of`] and [`of_live`] choose what of a judgement is told, [`to_code`] writes it, [`from_code`] reads it again.
//! `read-aloud-format.md` beside this crate's manifest describes the code for other programs.

mod alphabet;
mod amount;
mod check;
mod check_symbols;
mod error;
mod finding;
mod gf32;
mod level;
mod live;
mod numbers;
mod order;
mod outcome;
mod packing;
mod restored;
mod sheet;
mod spelling;
#[cfg(test)]
mod tests;
mod to_earth;
mod typed;

pub use amount::Amount;
pub use check::{ConductorOhm, Places, PoweredUp, SpokenCheck, SpokenRow};
use check_symbols::{CHECKS, Examined, LONGEST, checks, examine};
pub use error::CodeError;
pub use finding::SpokenFinding;
pub use level::{Bound, Level, Rounded, Signed};
pub use live::{BiasVolt, LiveAmount, SpokenLive, SpokenLiveFinding, SupplyVolt};
pub use numbers::Known;
pub use order::{Posts, Wires};
pub use outcome::{LiveOutcome, Outcome};
pub use packing::Field;
use packing::{Lister, Packer, Unpacker};
use serde::Serialize;
pub use sheet::SpokenSheet;
pub use spelling::word;
pub use to_earth::{PATHS, PathOhm, SpokenPath, SpokenToEarth};

use crate::Judgement;
use crate::judgement::{LiveJudgement, Verdict};

/// The format that this program writes and restores.
pub const VERSION: u8 = 0;

/// Symbols stand in groups of so many.
pub const GROUP: usize = 4;

/// What a code carries.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Spoken {
    /// A check, from end to end.
    Check(Box<SpokenCheck>),
    /// A test to earth.
    ToEarth(Box<SpokenToEarth>),
    /// A live run.
    Live(Box<SpokenLive>),
}

impl Spoken {
    /// Of all.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match self {
            Self::Check(told) => told.verdict,
            Self::ToEarth(told) => told.verdict,
            Self::Live(told) => told.verdict,
        }
    }

    /// The limit sheet.
    #[must_use]
    pub fn sheet(&self) -> &SpokenSheet {
        match self {
            Self::Check(told) => &told.sheet,
            Self::ToEarth(told) => &told.sheet,
            Self::Live(told) => &told.sheet,
        }
    }

    /// Nothing of it is of a real run.
    #[must_use]
    pub fn simulated(&self) -> bool {
        match self {
            Self::Check(told) => told.simulated,
            Self::ToEarth(told) => told.simulated,
            Self::Live(told) => told.simulated,
        }
    }

    fn kind(&self) -> Kind {
        match self {
            Self::Check(_) => Kind::Check,
            Self::ToEarth(_) => Kind::ToEarth,
            Self::Live(_) => Kind::Live,
        }
    }
}

/// What a code is of: the two lowest bits of its first symbol. The three above are the format's version.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Check = 0,
    ToEarth = 1,
    Live = 2,
}

const KINDS: [Kind; 3] = [Kind::Check, Kind::ToEarth, Kind::Live];

impl Kind {
    /// Symbols of the whole code.
    const fn length(self) -> usize {
        match self {
            Self::Check => 24,
            Self::ToEarth | Self::Live => 20,
        }
    }

    /// Of a first symbol, if that is of this version.
    fn of(head: u8) -> Option<Self> {
        KINDS.into_iter().find(|kind| head == *kind as u8 | VERSION << 2)
    }
}

/// What is told of a check or of a test to earth.
#[must_use]
pub fn of(judgement: &Judgement, simulated: bool) -> Spoken {
    match SpokenToEarth::of(judgement, simulated) {
        Some(told) => Spoken::ToEarth(Box::new(told)),
        None => Spoken::Check(Box::new(SpokenCheck::of(judgement, simulated))),
    }
}

/// What is told of a live run.
#[must_use]
pub fn of_live(judgement: &LiveJudgement, simulated: bool) -> Spoken {
    Spoken::Live(Box::new(SpokenLive::of(judgement, simulated)))
}

/// The code, in groups.
#[must_use]
pub fn to_code(spoken: &Spoken) -> String {
    let mut packer = Packer::new();
    let written = match spoken {
        Spoken::Check(told) => SpokenCheck::walk(Some(told), &mut packer).map(drop),
        Spoken::ToEarth(told) => SpokenToEarth::walk(Some(told), &mut packer).map(drop),
        Spoken::Live(told) => SpokenLive::walk(Some(told), &mut packer).map(drop),
    };
    debug_assert_eq!(written, Ok(()), "what is told has all its fields");
    let kind = spoken.kind();
    let mut code = packer.digits(kind.length() - CHECKS - 1);
    stir(&mut code);
    code.insert(0, kind as u8 | VERSION << 2);
    code.extend(checks(&code));
    grouped(&code)
}

/// What a code carries that somebody wrote down or typed. Nothing is put right: a symbol that does not fit is an error.
pub fn from_code(text: &str) -> Result<Spoken, CodeError> {
    let [likely, other] = typed::readings(text).map(|reading| reading.and_then(|it| restore(&it)));
    likely.or_else(|error| other.map_err(|_| error))
}

/// The words of each group.
#[must_use]
pub fn spelled(code: &str) -> Vec<String> {
    let group = |group: &str| group.chars().filter_map(word).collect::<Vec<_>>().join(" ");
    code.split('-').map(group).collect()
}

/// The fields of each kind of code, in their order.
#[must_use]
pub fn fields() -> [(&'static str, usize, Vec<Field>); 3] {
    KINDS.map(|kind| {
        let mut lister = Lister::default();
        let (name, _) = match kind {
            Kind::Check => ("check", SpokenCheck::walk(None, &mut lister).map(drop)),
            Kind::ToEarth => ("test to earth", SpokenToEarth::walk(None, &mut lister).map(drop)),
            Kind::Live => ("live run", SpokenLive::walk(None, &mut lister).map(drop)),
        };
        (name, kind.length(), lister.0)
    })
}

fn restore(code: &[u8]) -> Result<Spoken, CodeError> {
    let length = KINDS.map(Kind::length);
    let kind = code.first().and_then(|head| Kind::of(*head));
    let is_ours = code.first().is_none_or(|head| head >> 2 == VERSION);
    // A later version may have other lengths, but whole groups.
    let may_be = code.len().is_multiple_of(GROUP) && (2 * GROUP..=LONGEST).contains(&code.len());
    if if is_ours { !length.contains(&code.len()) } else { !may_be } {
        return Err(wrong_length(code, kind));
    }
    match examine(code) {
        Examined::One { at: 0, perhaps } if fits(perhaps, code.len()) => {
            return Err(one_wrong(code, 0, perhaps));
        }
        Examined::One { at: 0, .. } => return Err(CodeError::SeveralWrong),
        // A whole group that is missing looks like many wrong symbols.
        _ if kind.is_some_and(|kind| kind.length() != code.len()) => {
            return Err(wrong_length(code, kind));
        }
        Examined::One { at, perhaps } => return Err(one_wrong(code, at, perhaps)),
        Examined::Several => return Err(CodeError::SeveralWrong),
        Examined::Right => {}
    }
    if !is_ours {
        return Err(CodeError::LaterVersion { version: code[0] >> 2, known: VERSION });
    }
    unpacked(kind.ok_or(CodeError::OutOfRange { field: "kind of result" })?, code)
}

fn unpacked(kind: Kind, code: &[u8]) -> Result<Spoken, CodeError> {
    let mut digits = code[1..code.len() - CHECKS].to_vec();
    stir(&mut digits);
    let mut unpacker = Unpacker::new(&digits);
    let spoken = match kind {
        Kind::Check => Spoken::Check(Box::new(SpokenCheck::walk(None, &mut unpacker)?)),
        Kind::ToEarth => Spoken::ToEarth(Box::new(SpokenToEarth::walk(None, &mut unpacker)?)),
        Kind::Live => Spoken::Live(Box::new(SpokenLive::walk(None, &mut unpacker)?)),
    };
    unpacker.end()?;
    Ok(spoken)
}

/// Whether a code of this length may begin so.
fn fits(head: u8, length: usize) -> bool {
    Kind::of(head).map_or(head >> 2 != VERSION, |kind| kind.length() == length)
}

fn one_wrong(code: &[u8], at: usize, perhaps: u8) -> CodeError {
    let [read, perhaps] = [code[at], perhaps].map(alphabet::symbol);
    CodeError::OneWrong { at: at + 1, read, perhaps }
}

fn wrong_length(code: &[u8], kind: Option<Kind>) -> CodeError {
    let mut needed = kind.map_or(KINDS.map(Kind::length).to_vec(), |kind| vec![kind.length()]);
    needed.sort_unstable();
    needed.dedup();
    CodeError::WrongLength { found: code.len(), needed }
}

/// Changes every digit by its place: most results leave most fields at 0, and a row of noughts is hard to count by ear.
/// Done twice, it is undone.
fn stir(digits: &mut [u8]) {
    for (n, digit) in (1_u8..).zip(digits) {
        *digit ^= n.wrapping_mul(13) & 31;
    }
}

fn grouped(code: &[u8]) -> String {
    let group = |group: &[u8]| group.iter().copied().map(alphabet::symbol).collect::<String>();
    code.chunks(GROUP).map(group).collect::<Vec<_>>().join("-")
}
