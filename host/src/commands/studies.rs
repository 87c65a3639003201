//! `repeatability` and `capability`: studies of many results.

use runproof_quality::capability::capability as indices;
use runproof_quality::gauge::{anova, average_and_range, by_ranges};
use runproof_quality::tolerance::{Side, tolerance_interval};
use runproof_quality::{Chance, Description, Limits};

use crate::arguments::{Capability, Repeatability};
use crate::error::{Error, LotError, RecordError, StudyError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::lots::Lot;
use crate::shop::studies::{crossed, in_file, of_job, of_lot};
use crate::show::studies as words;

/// An interaction less likely than this by chance counts as one (AIAG MSA-4, from memory).
const SIGNIFICANCE: Chance = Chance::ONE_IN_TWENTY;
const CONFIDENCE: Chance = Chance::NINETEEN_IN_TWENTY;

pub(super) fn repeatability(arguments: &Repeatability) -> Result<Exit, Error> {
    let readings = match (&arguments.csv, &arguments.job) {
        (Some(path), _) => in_file(path)?,
        (None, job) => {
            let store = recording::store_to_read()?.ok_or(RecordError::NothingRecorded)?;
            of_job(&store, job.as_deref().unwrap_or_default(), arguments.conductor.name())?
        }
    };
    let crossed = crossed(&readings)?;
    let no_study = |source| StudyError::NoStudy { source };
    let by_variance = anova(&crossed.study, SIGNIFICANCE).map_err(no_study)?;
    // Larger studies than it has constants for have the one way only.
    let by_ranges = average_and_range(&by_ranges(&crossed.study)).ok();
    let told = words::Repeatability {
        crossed: &crossed,
        by_variance: &by_variance,
        by_ranges: by_ranges.as_ref(),
        tolerance_ohm: arguments.tolerance,
    };
    super::print(&if arguments.json { told.json() } else { told.text() })?;
    Ok(Exit::Pass)
}

pub(super) fn capability(arguments: &Capability) -> Result<Exit, Error> {
    let none = || LotError::NoLot { name: arguments.lot.clone() };
    let store = recording::store_to_read()?.ok_or_else(none)?;
    let lot = Lot::named(&store, &arguments.lot)?;
    let conductor = arguments.conductor.name();
    let units = of_lot(&store, &lot, conductor)?;
    if units.values.is_empty() {
        return Err(StudyError::NoUnits { conductor: conductor.into() }.into());
    }
    let no_statistic = |source| StudyError::NoStatistic { source };
    let sample = Description::of(&units.values).map_err(no_statistic)?;
    let within = tolerance_interval(&sample, Side::Upper, arguments.part, CONFIDENCE);
    let within = within.map_err(no_statistic)?;
    let limit = units.limit.map(Limits::Upper);
    let index = limit.map(|limit| indices(&sample, limit, None, CONFIDENCE)).transpose();
    let told = words::Capability {
        lot: &lot,
        conductor,
        units: &units,
        sample: &sample,
        most: within.most,
        part: arguments.part,
        index: index.map_err(no_statistic)?,
    };
    super::print(&if arguments.json { told.json() } else { told.text() })?;
    Ok(Exit::Pass)
}
