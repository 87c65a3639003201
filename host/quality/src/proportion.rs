//! What a count tells of the fraction behind it (NIST/SEMATECH e-Handbook 7.2.4.1).

use crate::{Chance, Interval, counts, root};

/// More were counted than were looked at, or none was looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{counted} of {units} is no proportion")]
pub struct NoProportion {
    /// Those counted.
    pub counted: u32,
    /// All that were looked at.
    pub units: u32,
}

/// The exact binomial interval (Clopper and Pearson) for the fraction behind `counted` of `units`: on either side the true
/// one lies beyond it with no more than half of what `confidence` leaves.
///
/// # Errors
///
/// [`NoProportion`].
pub fn exact_interval(
    counted: u32,
    units: u32,
    confidence: Chance,
) -> Result<Interval, NoProportion> {
    let beyond = 0.5 * confidence.contrary();
    Ok(Interval { least: lower(counted, units, beyond)?, most: upper(counted, units, beyond)? })
}

/// The same with the upper end alone, which the true fraction is not above with `confidence`: what a sample without a
/// nonconforming unit has shown.
///
/// # Errors
///
/// [`NoProportion`].
pub fn exact_upper(counted: u32, units: u32, confidence: Chance) -> Result<f64, NoProportion> {
    upper(counted, units, confidence.contrary())
}

fn upper(counted: u32, units: u32, beyond: f64) -> Result<f64, NoProportion> {
    possible(counted, units)?;
    if counted == units {
        return Ok(1.0);
    }
    Ok(root::of_falling(0.0, 1.0, |p| counts::binomial(units, p, counted).0 - beyond))
}

fn lower(counted: u32, units: u32, beyond: f64) -> Result<f64, NoProportion> {
    possible(counted, units)?;
    let Some(fewer) = counted.checked_sub(1) else { return Ok(0.0) };
    Ok(root::of_falling(0.0, 1.0, |p| beyond - counts::binomial(units, p, fewer).1))
}

fn possible(counted: u32, units: u32) -> Result<(), NoProportion> {
    if units == 0 || counted > units { Err(NoProportion { counted, units }) } else { Ok(()) }
}
