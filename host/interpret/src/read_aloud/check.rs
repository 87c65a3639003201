//! What a code carries of a check.

use runproof_protocol::Post;
use serde::{Serialize, Serializer};

use super::CodeError;
use super::finding::SpokenFinding;
use super::level::Level;
use super::numbers::table;
use super::order::Wires;
use super::outcome::Outcome;
use super::packing::{Numbered, Walk};
use super::sheet::SpokenSheet;
use crate::judgement::{Finding, FindingKind, Judgement, Place, Verdict};

/// From 0.1 to 562 Ω, sixteen steps a factor of ten: within 7.5 %.
pub type ConductorOhm = Level<100, 16, 61>;

/// A check.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SpokenCheck {
    /// Of the run as a whole.
    pub verdict: Verdict,
    /// The limit sheet.
    pub sheet: SpokenSheet,
    /// The jig, and with it the run, was simulated.
    pub simulated: bool,
    /// What is on which post.
    pub wires: Wires,
    /// By post, the terminal that its wire belongs on: its own, unless clips are known to be on other wires.
    #[serde(serialize_with = "numbers")]
    pub terminals: [Post; 4],
    /// By post. Of two nameless wires the first is their loop, and the others are nothing.
    pub rows: [SpokenRow; 4],
    /// What is wrong, or could not be told.
    pub finding: SpokenFinding,
    /// What would happen if it were powered up, by any of the findings.
    pub powered_up: PoweredUp,
    /// Of an exchange: where it may lie.
    pub places: Places,
}

/// One conductor, or the loop of two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct SpokenRow {
    /// The terminal that it arrives at; absent where that is not known.
    #[serde(serialize_with = "number")]
    pub reaches: Option<Post>,
    /// What it came to.
    pub outcome: Outcome,
    /// Its resistance; absent where it is not known.
    pub ohm: Option<ConductorOhm>,
}

impl SpokenCheck {
    pub(super) fn of(judgement: &Judgement, simulated: bool) -> Self {
        let first = judgement.findings.first();
        let conductors = &judgement.conductors;
        let named: Vec<_> = conductors.iter().map(|one| (one.name, one.post)).collect();
        Self {
            verdict: judgement.verdict,
            sheet: SpokenSheet::of(&judgement.sheet),
            simulated,
            wires: Wires::of(&named),
            terminals: Post::ALL.map(|post| {
                conductors.iter().find(|one| one.post == post).map_or(post, |one| one.terminal)
            }),
            rows: Post::ALL.map(|post| row(judgement, post)),
            finding: SpokenFinding::of(&judgement.findings),
            powered_up: PoweredUp::of(&judgement.findings),
            places: Places::of(first.map_or(&[], |one| &one.places)),
        }
    }

    /// The fields, in their order.
    pub(super) fn walk(told: Option<&Self>, walk: &mut impl Walk) -> Result<Self, CodeError> {
        let verdict = walk.field("verdict", told.map(|told| &told.verdict))?;
        let sheet = walk.field("limit sheet", told.map(|told| &told.sheet))?;
        let simulated = walk.field("simulated", told.map(|told| &told.simulated))?;
        let wires = walk.field("conductors", told.map(|told| &told.wires))?;
        let terminals = walk.field("terminals", told.map(|told| &told.terminals))?;
        let mut row = |post: Post| -> Result<SpokenRow, CodeError> {
            let told = told.map(|told| &told.rows[post.index()]);
            Ok(SpokenRow {
                reaches: walk.field("arrives at", told.map(|told| &told.reaches))?,
                outcome: walk.field("outcome", told.map(|told| &told.outcome))?,
                ohm: walk.field("resistance", told.map(|told| &told.ohm))?,
            })
        };
        Ok(Self {
            verdict,
            sheet,
            simulated,
            wires,
            terminals,
            rows: [row(Post::P1)?, row(Post::P2)?, row(Post::P3)?, row(Post::P4)?],
            finding: SpokenFinding::walk(told.map(|told| &told.finding), walk)?,
            powered_up: walk.field("powered up", told.map(|told| &told.powered_up))?,
            places: walk.field("where it lies", told.map(|told| &told.places))?,
        })
    }
}

fn row(judgement: &Judgement, post: Post) -> SpokenRow {
    if let Some(one) = judgement.conductors.iter().find(|one| one.post == post) {
        return SpokenRow {
            reaches: one.reaches,
            outcome: Outcome { verdict: one.verdict, reason: Some(one.reason) },
            ohm: one.resistance_ohm.map(Level::of),
        };
    }
    let alone = judgement.conductors.is_empty() && post == Post::P1;
    let its_loop = judgement.loops.first().filter(|_| alone);
    SpokenRow {
        reaches: None,
        outcome: its_loop.map_or(Outcome::NONE, |one| Outcome {
            verdict: one.verdict,
            reason: Some(one.reason),
        }),
        ohm: its_loop.and_then(|one| one.resistance_ohm).map(Level::of),
    }
}

/// What landing the run by these clips would do: told of all findings, as somebody may power it up who heard the first
/// one alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PoweredUp {
    /// Nothing that is known.
    NothingKnown,
    /// The supply would reach a data terminal.
    SupplyReachesData,
    /// The supply would stand across terminals that are not meant for it.
    Crossed,
}

table!(PoweredUp, 3: NothingKnown = 0, SupplyReachesData = 1, Crossed = 2);

impl PoweredUp {
    fn of(findings: &[Finding]) -> Self {
        if findings.iter().any(|one| one.supply_reaches_data) {
            return Self::SupplyReachesData;
        }
        let crossed = findings.iter().any(|one| one.kind == FindingKind::Crossed);
        if crossed { Self::Crossed } else { Self::NothingKnown }
    }
}

/// Where an exchange may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Places([bool; 3]);

const PLACES: [Place; 3] = [Place::Clips, Place::Run, Place::PlugEnd];

impl Places {
    fn of(places: &[Place]) -> Self {
        Self(PLACES.map(|place| places.contains(&place)))
    }

    /// Each, in the order of the way from post to plug.
    #[must_use]
    pub fn all(&self) -> Vec<Place> {
        PLACES
            .into_iter()
            .zip(self.0)
            .filter(|(_, may_be)| *may_be)
            .map(|(place, _)| place)
            .collect()
    }
}

/// A bit each: the clips 1, the run 2, the plug end 4.
impl Numbered for Places {
    const RADIX: u32 = 8;
    fn number(&self) -> u32 {
        self.0.iter().rev().fold(0, |sum, may_be| sum << 1 | u32::from(*may_be))
    }
    fn numbered(number: u32) -> Option<Self> {
        Some(Self([0, 1, 2].map(|bit| number >> bit & 1 == 1)))
    }
}

impl Serialize for Places {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.all().serialize(to)
    }
}

fn number<S: Serializer>(post: &Option<Post>, to: S) -> Result<S::Ok, S::Error> {
    post.map(Post::number).serialize(to)
}

fn numbers<S: Serializer>(posts: &[Post; 4], to: S) -> Result<S::Ok, S::Error> {
    posts.map(Post::number).serialize(to)
}
