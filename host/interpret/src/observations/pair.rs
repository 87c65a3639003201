//! One pair of posts, driven in both polarities.

use runproof_protocol::{Drive, Post, Step};

use super::input_load::{across_ohm, ground_ohm};
use super::{Mean, Readings};
use crate::capture::{Channel, JigConstants, Node};
use crate::obstacle::Obstacle;

/// What was read while current ran from one post to another, and back.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pair {
    /// The lower post first: it is high in `forward`.
    pub(crate) posts: (Post, Post),
    pub(crate) forward: Polarity,
    pub(crate) reverse: Polarity,
    /// Sense nodes 1–3 against 4, forward, on the wide range of the pre-scan, if that was taken.
    pub(crate) pre_scan: Option<[Mean; 3]>,
}

/// One polarity of a pair.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Polarity {
    /// Sense nodes 1–3, each against sense node 4.
    pub(crate) sense_to_4: [Mean; 3],
    /// Sense node 4 against ground.
    pub(crate) sense_4: Mean,
    /// Drive nodes of the two posts, in the pair's order.
    pub(crate) drive: [Mean; 2],
}

/// All six, in the order of [`Post::PAIRS`].
pub(super) fn all(readings: &Readings) -> Result<[Pair; 6], Obstacle> {
    let mut pairs = Vec::new();
    for (i, j) in Post::PAIRS {
        pairs.push(Pair {
            posts: (i, j),
            forward: polarity(readings, (i, j), (i, j))?,
            reverse: polarity(readings, (i, j), (j, i))?,
            pre_scan: sense_to_4(readings, Step::PreScan, Drive::high_and_low(i, j)).ok(),
        });
    }
    Ok(std::array::from_fn(|index| pairs[index]))
}

fn polarity(
    readings: &Readings,
    (first, second): (Post, Post),
    (high, low): (Post, Post),
) -> Result<Polarity, Obstacle> {
    let drives = Drive::high_and_low(high, low);
    let single = |node, post| Mean::single(readings, Step::Pairs, drives, node, post);
    Ok(Polarity {
        sense_to_4: sense_to_4(readings, Step::Pairs, drives)?,
        sense_4: single(Node::Sense, Post::P4)?,
        drive: [single(Node::Drive, first)?, single(Node::Drive, second)?],
    })
}

fn sense_to_4(readings: &Readings, step: Step, drives: [Drive; 4]) -> Result<[Mean; 3], Obstacle> {
    let to_4 = |post| {
        let channel = Channel { node: Node::Sense, post, against: Some(Post::P4) };
        Mean::of(readings, step, drives, channel)
    };
    Ok([to_4(Post::P1)?, to_4(Post::P2)?, to_4(Post::P3)?])
}

impl Polarity {
    /// Voltages of the four posts against ground. Between a post and its sense node falls what the
    /// converter's input takes, and what the pulls draw: they join all four nodes, so that is in
    /// proportion to the distance from their mean.
    pub(crate) fn posts_v(&self, jig: &JigConstants) -> [f64; 4] {
        let [n1, n2, n3] = self
            .sense_to_4
            .map(|mean| mean.volts * (1.0 + 2.0 * jig.sense_ohm / across_ohm(mean.range)));
        let n4 = self.sense_4.volts * (1.0 + jig.sense_ohm / ground_ohm(self.sense_4.range));
        let sense_v = [n1, n2, n3, 0.0].map(|to_4_v| to_4_v + n4);
        let mean_v = sense_v.iter().sum::<f64>() / 4.0;
        sense_v.map(|v| v + (v - mean_v) * jig.sense_ohm / jig.pull_ohm)
    }

    /// Repeats differ by no more than noise does.
    pub(crate) fn steady(&self) -> bool {
        self.means().all(|mean| mean.steady)
    }

    /// By how much repeats of one channel differ, at most.
    pub(crate) fn spread_v(&self) -> f64 {
        self.means().map(|mean| mean.spread_v).fold(0.0, f64::max)
    }

    fn means(&self) -> impl Iterator<Item = &Mean> {
        self.sense_to_4.iter().chain([&self.sense_4]).chain(&self.drive)
    }
}
