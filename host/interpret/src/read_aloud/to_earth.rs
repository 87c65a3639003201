//! What a code carries of a test to earth.

use runproof_protocol::Post;
use serde::Serialize;

use super::CodeError;
use super::finding::SpokenFinding;
use super::level::Level;
use super::order::Posts;
use super::packing::{Numbered, Walk};
use super::sheet::SpokenSheet;
use crate::capture::Drain;
use crate::judgement::{Bonded, Isolation, Judgement, Verdict};
use crate::to_earth::{CORES, METAL, SHIELD};

/// From 0.1 Ω to 9.1 MΩ, 24 steps a factor of ten: within 5 %.
pub type PathOhm = Level<100, 24, 192>;

/// The paths that are told, in their order.
pub const PATHS: [[Post; 2]; 3] = [[CORES, METAL], [CORES, SHIELD], [METAL, SHIELD]];

/// A test to earth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SpokenToEarth {
    /// Of all.
    pub verdict: Verdict,
    /// The limit sheet.
    pub sheet: SpokenSheet,
    /// The jig, and with it the run, was simulated.
    pub simulated: bool,
    /// From the cores to bare metal.
    pub to_metal: Verdict,
    /// From the cores to the shield; absent where there was none.
    pub to_shield: Option<Verdict>,
    /// How the shield's drain was found; absent where there was none.
    pub drain: Option<Drain>,
    /// Where the shield is bonded; absent where that cannot be told.
    pub bonded: Option<Bonded>,
    /// The clips of which contact was shown.
    pub contact_shown: Posts,
    /// By [`PATHS`]; absent where it is not known.
    pub paths: [Option<SpokenPath>; 3],
    /// What is wrong, or could not be told.
    pub finding: SpokenFinding,
}

/// One path.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct SpokenPath {
    /// Its resistance, or the least that it can have.
    pub ohm: PathOhm,
    /// Nothing was found, and a path of less would have been.
    pub at_least: bool,
}

/// The level twice, and 1 more of a least one.
impl Numbered for SpokenPath {
    const RADIX: u32 = 2 * PathOhm::RADIX;
    fn number(&self) -> u32 {
        2 * self.ohm.number() + u32::from(self.at_least)
    }
    fn numbered(number: u32) -> Option<Self> {
        Some(Self { ohm: PathOhm::numbered(number / 2)?, at_least: number % 2 == 1 })
    }
}

impl SpokenPath {
    fn of(path: &Isolation) -> Self {
        let ohm = path.resistance_ohm;
        let ohm = if path.at_least { Level::below(ohm) } else { Level::of(ohm) };
        Self { ohm, at_least: path.at_least }
    }
}

impl SpokenToEarth {
    pub(super) fn of(judgement: &Judgement, simulated: bool) -> Option<Self> {
        let told = judgement.to_earth.as_ref()?;
        let path = |posts| judgement.isolation.iter().find(|one| one.posts == posts);
        Some(Self {
            verdict: judgement.verdict,
            sheet: SpokenSheet::of(&judgement.sheet),
            simulated,
            to_metal: told.to_metal,
            to_shield: told.to_shield,
            drain: told.drain,
            bonded: told.bonded,
            contact_shown: Posts::of(&told.contact_shown),
            paths: PATHS.map(|posts| path(posts).map(SpokenPath::of)),
            finding: SpokenFinding::of(&judgement.findings),
        })
    }

    /// The fields, in their order.
    pub(super) fn walk(told: Option<&Self>, walk: &mut impl Walk) -> Result<Self, CodeError> {
        Ok(Self {
            verdict: walk.field("verdict", told.map(|told| &told.verdict))?,
            sheet: walk.field("limit sheet", told.map(|told| &told.sheet))?,
            simulated: walk.field("simulated", told.map(|told| &told.simulated))?,
            to_metal: walk.field("cores to metal", told.map(|told| &told.to_metal))?,
            to_shield: walk.field("cores to shield", told.map(|told| &told.to_shield))?,
            drain: walk.field("drain", told.map(|told| &told.drain))?,
            bonded: walk.field("bonded", told.map(|told| &told.bonded))?,
            contact_shown: walk.field("contact shown", told.map(|told| &told.contact_shown))?,
            paths: [
                walk.field("cores–metal", told.map(|told| &told.paths[0]))?,
                walk.field("cores–shield", told.map(|told| &told.paths[1]))?,
                walk.field("metal–shield", told.map(|told| &told.paths[2]))?,
            ],
            finding: SpokenFinding::walk(told.map(|told| &told.finding), walk)?,
        })
    }
}
