//! All posts driven alike: no current flows, so G and N of a post must read the same.

use runproof_protocol::{Drive, Post, Step};

use super::input_load::ground_ohm;
use super::{Mean, Readings};
use crate::capture::{JigConstants, Node};
use crate::judgement::{Cause, FindingKind};
use crate::obstacle::Obstacle;

/// The two converters' gains differ by 0.3 % at most, their channels by 0.1 % (ADS1115, TI SBAS444E,
/// electrical characteristics); what is further off is not this circuit.
const GAIN_MISMATCH_MAX: f64 = 0.01;

/// What the readings without current say about the two converters.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SelfCalibration {
    /// What the drive nodes' converter reads, times this, is what the sense nodes' would read.
    pub(crate) gain_ratio: f64,
    /// What the sense node's channel reads above the drive node's, by post.
    pub(crate) offset_v: [f64; 4],
    /// Repeats differ by no more than noise does, by post.
    pub(crate) steady: [bool; 4],
}

impl SelfCalibration {
    pub(super) fn of(readings: &Readings, jig: &JigConstants) -> Result<Self, Obstacle> {
        let mut steady = [true; 4];
        let mut read = |drive: Drive, node: Node| -> Result<[f64; 4], Obstacle> {
            let mut volts = [0.0; 4];
            for post in Post::ALL {
                let step = Step::SelfCalibration;
                let mean = Mean::single(readings, step, [drive; 4], node, post)?;
                steady[post.index()] &= mean.steady;
                let taken = match node {
                    Node::Sense => jig.sense_ohm / ground_ohm(mean.range),
                    Node::Drive | Node::Live => 0.0,
                };
                volts[post.index()] = mean.volts * (1.0 + taken);
            }
            Ok(volts)
        };
        let (sense_high, sense_low) =
            (read(Drive::High, Node::Sense)?, read(Drive::Low, Node::Sense)?);
        let (drive_high, drive_low) =
            (read(Drive::High, Node::Drive)?, read(Drive::Low, Node::Drive)?);
        // All that flows is into the live divider, through the series resistor.
        let ratios: [f64; 4] = std::array::from_fn(|k| {
            let loaded = 1.0 + jig.series_ohm[k] / jig.divider_ohm;
            (sense_high[k] - sense_low[k]) * loaded / (drive_high[k] - drive_low[k])
        });
        let gain_ratio = ratios.iter().sum::<f64>() / 4.0;
        let bad: Vec<Post> = Post::ALL
            .into_iter()
            .filter(|post| !((ratios[post.index()] - 1.0).abs() <= GAIN_MISMATCH_MAX))
            .collect();
        if !bad.is_empty() {
            return Err(Obstacle::new(FindingKind::Incomplete)
                .cause(Cause::SelfCalibration)
                .posts(bad));
        }
        let offset_v = std::array::from_fn(|k| {
            (sense_high[k] + sense_low[k] - gain_ratio * (drive_high[k] + drive_low[k])) / 2.0
        });
        Ok(Self { gain_ratio, offset_v, steady })
    }
}
