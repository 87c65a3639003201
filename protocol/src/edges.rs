//! What the edge catcher sees while a run is flexed: breaks and touches far shorter than a conversion.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use crate::{Microseconds, Phase, Post};

/// Some edges, in the order they came.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Edges {
    /// Counts on where the patterns of its phase left off, so that a lost one is missed; after 65535 comes 0.
    pub index: u16,
    /// Which part of the check this belongs to.
    pub phase: Phase,
    /// So many edges before the first of these were dropped, as there was no room for them.
    pub dropped: u16,
    /// The first of a phase says how the posts stand as it begins.
    pub edges: Vec<Edge, { Edges::EDGES_MAX }>,
}

impl Edges {
    /// The most edges that one event carries.
    pub const EDGES_MAX: usize = 16;
}

/// One instant at which something changed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Edge {
    /// When.
    pub at: Microseconds,
    /// Posts that carry current from now on: their sense nodes are in the middle, not at the rail that they are
    /// driven to. The lowest bit is post 1.
    pub carries: u8,
    /// Posts that changed at this instant. One that changed and is as it was before did so twice, faster than the jig
    /// can tell the time of.
    pub changed: u8,
}

impl Edge {
    /// Whether the post carries current from now on.
    #[must_use]
    pub const fn carries(self, post: Post) -> bool {
        self.carries >> post.index() & 1 != 0
    }

    /// Whether the post changed at this instant.
    #[must_use]
    pub const fn changed(self, post: Post) -> bool {
        self.changed >> post.index() & 1 != 0
    }
}
