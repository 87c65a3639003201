//! The shop's work beyond one test: lots of units, leads one after the other, jigs that are proved, studies of many results.

pub(crate) mod audit;
pub(crate) mod leads;
pub(crate) mod lots;
pub(crate) mod proofs;
pub(crate) mod studies;
