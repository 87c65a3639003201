//! Which posts meet, and roughly at how many ohms: from one pre-scan, to tell how the run stands.

use std::ops::Range;

use runproof_protocol::{Drive, Microseconds, Phase, Post, Step};
use thiserror::Error;

use crate::capture::{Capture, Channel, End, Ending, Node, Touch};
use crate::resistances::OPEN_OHM;

/// Posts that meet at less than this are joined; beyond it stand the jig's own parts and damp.
/// (judgement)
pub const JOINED_BELOW_OHM: f64 = OPEN_OHM;

/// Between two terminals the plug's ring has 29 to 75 Ω, and a run up to some 24 Ω more in each
/// conductor, and a bad joint more again; a lower path is metal that touches. (judgement)
pub const THROUGH_THE_PLUG_OHM: Range<f64> = 15.0..500.0;

/// How the run stands, pair by pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glance {
    /// Between each pair, in the order of [`Post::PAIRS`]; within a tenth up to a
    /// kilohm, within a fifth where they are joined at all, infinite where no current was seen.
    pub ohm: [f64; 6],
}

/// Why a phase gives no glance.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum NoGlance {
    /// It ended early: voltage on the run, a fault of the jig, a broken link.
    #[error("it ended early")]
    Ended(Ending),
    /// A reading was lost on the way, or was beyond its range.
    #[error("a reading is missing")]
    ReadingsMissing,
}

impl Glance {
    /// No post meets another.
    pub const OPEN: Self = Self { ohm: [f64::INFINITY; 6] };

    /// Nothing has changed between the two: each pair is joined in both or in neither, or near the
    /// border; and joined as well, give or take a contact that moves. (judgement)
    #[must_use]
    pub fn like(&self, other: &Self) -> bool {
        self.ohm.iter().zip(other.ohm).all(|(one_ohm, other_ohm)| {
            let (least, most) = (one_ohm.min(other_ohm), one_ohm.max(other_ohm));
            least >= JOINED_BELOW_OHM / 2.0 || most <= 1.3 * least + 2.0
        })
    }

    /// As the jig saw it while two wires were held together.
    #[must_use]
    pub fn while_touched(touch: &Touch) -> Self {
        Self { ohm: touch.ohm.map(|ohm| ohm.unwrap_or(f64::INFINITY)) }
    }

    /// Two wires are held together, and this is seen.
    #[must_use]
    pub fn touch(&self, end: End, terminals: [Post; 2], at: Microseconds) -> Touch {
        let ohm = self.ohm.map(|ohm| ohm.is_finite().then_some(ohm));
        Touch { end, terminals, ohm, at }
    }

    /// Which pairs are joined.
    #[must_use]
    pub fn joined(&self) -> [bool; 6] {
        self.ohm.map(|ohm| ohm < JOINED_BELOW_OHM)
    }
}

/// How the run stood in the pre-scan of `phase`.
pub fn glance(capture: &Capture, phase: Phase) -> Result<Glance, NoGlance> {
    let early = |end: &&Ending| !matches!(end, Ending::Done { .. });
    if let Some(ending) = capture.ends(phase).find(early) {
        return Err(NoGlance::Ended(ending.clone()));
    }
    let ohm = Post::PAIRS.map(|(i, j)| between_ohm(capture, phase, i, j));
    if ohm.iter().any(Option::is_none) {
        return Err(NoGlance::ReadingsMissing);
    }
    Ok(Glance { ohm: ohm.map(|ohm| ohm.unwrap_or(f64::INFINITY)) })
}

/// What stands between two posts over what flows from one through the run to the other.
///
/// Only differences are used: against ground, a node that floats reads low under the converter's
/// own load. Half the difference of both posts' currents is the run's, less what the pulls' star
/// carries; and what the star draws falls between post and sense node.
fn between_ohm(capture: &Capture, phase: Phase, i: Post, j: Post) -> Option<f64> {
    let drives = Drive::high_and_low(i, j);
    let read = |node, post, against| {
        let channel = Channel { node, post, against };
        let taken = capture.readings(phase).find(|reading| {
            reading.step == Step::PreScan && reading.drives == drives && reading.channel == channel
        });
        taken.filter(|reading| !reading.saturated).map(|reading| reading.volts)
    };
    let to_4_v = |post| match post {
        Post::P4 => Some(0.0),
        _ => read(Node::Sense, post, Some(Post::P4)),
    };
    let jig = &capture.head.jig;
    let sense_v = to_4_v(i)? - to_4_v(j)?;
    let drive_v = read(Node::Drive, i, None)? - read(Node::Drive, j, None)?;
    let posts_v = sense_v * (1.0 + jig.sense_ohm / jig.pull_ohm);
    let series_ohm = jig.series_ohm[i.index()] + jig.series_ohm[j.index()];
    let through_a = (drive_v - posts_v) / series_ohm - sense_v / (2.0 * jig.pull_ohm);
    Some(if through_a > 0.0 { posts_v.abs() / through_a } else { f64::INFINITY })
}
