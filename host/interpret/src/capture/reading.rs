//! One reading: what was driven, what was looked at, and what it read.

use runproof_protocol::{Drive, Microseconds, Phase, Post, Range, Step};

/// One conversion, and what was driven while it was taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// End plug out, or in.
    pub phase: Phase,
    /// What it is for.
    pub step: Step,
    /// Counts the patterns of a phase from 0; readings of one pattern share it.
    pub pattern: u32,
    /// How posts 1–4 were driven.
    pub drives: [Drive; 4],
    /// How the two pull lines were driven.
    pub pulls: [Drive; 2],
    /// The posts' relays were closed.
    pub relays_closed: bool,
    /// What was looked at.
    pub channel: Channel,
    /// On which range.
    pub range: Range,
    /// What was read.
    pub volts: f64,
    /// The voltage was beyond the range: `volts` is only its end.
    pub saturated: bool,
    /// When the conversion was started, on the jig's clock.
    pub at: Microseconds,
}

/// A node against ground, or the difference of two nodes of a kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Channel {
    /// The kind of node.
    pub node: Node,
    /// The post it belongs to.
    pub post: Post,
    /// The post whose node is taken off; none: ground.
    pub against: Option<Post>,
}

/// The three nodes that each post has in the jig.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Node {
    /// N, the post's own voltage, seen through the clip's second jaw.
    Sense,
    /// G, behind which the series resistor leads to the post.
    Drive,
    /// D, of the live divider.
    Live,
}
