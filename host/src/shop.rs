//! The shop's work beyond one test: lots of units.

pub(crate) mod lots;
