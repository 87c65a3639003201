//! The statistics of a shop and its quality assurance, pure: no file, clock, terminal or chance in it but a seed that is
//! given.
//!
//! - [`lot`]: a lot, from its declaration to its decision;
//! - [`sampling`]: how many units of a lot are tested, which, and what follows for the lot;
//! - [`charts`]: whether a process, or a jig, still does what it did;
//! - [`capability`]: whether a process is able to keep its limits; [`tolerance`]: where a part of all units lies;
//!   [`proportion`]: what a count tells of the fraction behind it;
//! - [`proof`]: how a jig was over time, by known pieces;
//! - [`gauge`]: how much of what is measured is the gauge;
//! - [`Description`]: a sample in a few numbers.
//!
//! What cannot be told is an error with its reason, never a number. Fractions are [`Fraction`]s, risks and confidences
//! [`Chance`]s, so that no percent is taken for either.

pub mod capability;
pub mod charts;
mod counts;
mod describe;
mod distributions;
mod fraction;
pub mod gauge;
mod interval;
mod limits;
pub mod lot;
pub mod proof;
pub mod proportion;
mod root;
pub mod sampling;
pub mod tolerance;

pub use describe::{Description, NoStatistic, lag_1_autocorrelation};
pub use fraction::{Chance, Fraction, NotAFraction};
pub use interval::Interval;
pub use limits::Limits;
