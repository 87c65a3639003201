//! The shop's work beyond one test: lots of units, leads one after the other, and jigs that are proved.

pub(crate) mod leads;
pub(crate) mod lots;
pub(crate) mod proofs;
