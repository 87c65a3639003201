//! The watch on the posts while the relays are closed, given to the engine by its board.

use core::future::Future;

use runproof_protocol::{Edge, Microseconds, Microvolts};

/// Sees, beside the measurement and without its converters, that a run has become live.
///
/// A board may let go of the run by itself when that happens, until it is re-armed; the session does so in
/// any case.
pub trait Watch {
    /// No voltage was found, and the load still holds the posts together: a board may take its zero.
    /// Until the relays are closed, what only couples in may stand at the posts.
    fn prepare(&self);

    /// The relays are closed.
    fn begin(&self);

    /// The relays are open again: a voltage that was found and not told yet.
    fn end(&self) -> Option<Microvolts>;

    /// The operator has looked: the run may be driven again.
    fn rearm(&self);

    /// Between begin and end, ready when a post stands more than [`HAZARD`] from the jig's mid
    /// voltage: by how much.
    ///
    /// [`HAZARD`]: runproof_protocol::HAZARD
    fn tripped(&self) -> impl Future<Output = Microvolts>;

    /// From now on, between begin and end, what it sees of each post is averaged.
    fn observe(&self);

    /// What it has seen of each post since then, against the jig's mid voltage; nothing, if it does
    /// not look.
    fn observed(&self) -> [Microvolts; 4];

    /// Which posts' sense nodes stand between the edge catcher's two thresholds now; the lowest bit is post 1.
    fn between(&self) -> u8;

    /// From now on, until the end, each edge is caught; first, how the posts stand. What was caught before is forgotten.
    fn catch(&self);

    /// The edge that was caught first and not taken yet; one [behind a hole](crate::edges::BEHIND_A_HOLE) only as the `first`.
    fn caught(&self, now: Microseconds, first: bool) -> Option<Edge>;

    /// How many edges were dropped since the catching began.
    fn dropped(&self) -> u16;
}
