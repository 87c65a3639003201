//! The shop's work beyond one test: lots of units, and jigs that are proved.

pub(crate) mod lots;
pub(crate) mod proofs;
