//! The statistics of a shop and its quality assurance, pure: no file, clock, terminal or chance in it but a seed that is
//! given.
//!
//! [`lot`]: a lot, from its declaration to its decision. [`sampling`]: how many units of a lot are tested, which, and what
//! follows for the lot.
//!
//! What cannot be told is an error with its reason, never a number. Fractions are [`Fraction`]s, risks and confidences
//! [`Chance`]s, so that no percent is taken for either.

mod counts;
mod distributions;
mod fraction;
pub mod lot;
mod root;
pub mod sampling;

pub use fraction::{Chance, Fraction, NotAFraction};
