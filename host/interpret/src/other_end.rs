//! What a capture from the run's other end says of a conductor that is broken.

use runproof_protocol::Phase;
use serde::{Deserialize, Serialize};

use crate::capacitance::{Capacitance, capacitances};
use crate::capture::Capture;
use crate::isolation::Isolation;
use crate::limits::{ConductorName, LimitSheet};
use crate::survey::survey;
use crate::touched::Touched;

/// The run as it was measured with the jig at its other end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OtherEnd {
    broken: ConductorName,
    picofarads: f64,
    u_picofarads: f64,
}

/// A capture from the other end that does not help.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoOtherEnd {
    /// Its open phase cannot be judged, or something joins its conductors.
    #[error("its open phase cannot be judged, or something joins its conductors")]
    NotIsolated,
    /// It was clipped for a test to earth.
    #[error("it is a test to earth")]
    ToEarth,
    /// None of its conductors is open, or several are.
    #[error("not just one of its conductors is open")]
    NotOneOpen,
    /// What hangs on the open one was not timed, or did not rise in time.
    #[error("what hangs on its open conductor could not be timed")]
    NotTimed,
}

impl OtherEnd {
    /// Of the one conductor that is open in it.
    pub fn of(capture: &Capture, sheet: &LimitSheet) -> Result<Self, NoOtherEnd> {
        if capture.to_earth().is_some() {
            return Err(NoOtherEnd::ToEarth);
        }
        let near = Touched::of(capture).ok().and_then(|touched| touched.near);
        let sheet = near.map_or_else(|| sheet.clone(), |on| sheet.clipped(&on));
        let isolation = Isolation::of(capture).map_err(|_| NoOtherEnd::NotIsolated)?;
        if isolation.paths.iter().any(|path| !path.at_least) {
            return Err(NoOtherEnd::NotIsolated);
        }
        let survey = survey(capture, &sheet, Some(&isolation));
        let [open] = survey.open.as_slice() else { return Err(NoOtherEnd::NotOneOpen) };
        let broken = sheet.conductors.iter().find(|one| one.post == *open);
        let broken = broken.ok_or(NoOtherEnd::NotOneOpen)?.name;
        let timed = capacitances(capture, Phase::Open, [*open]).ok_or(NoOtherEnd::NotTimed)?;
        let Capacitance { picofarads, u_picofarads, .. } = timed[0];
        Ok(Self { broken, picofarads, u_picofarads })
    }

    /// What hangs on this conductor from there, and its standard uncertainty; none if another is broken.
    pub(crate) fn picofarads(&self, name: ConductorName) -> Option<(f64, f64)> {
        (self.broken == name).then_some((self.picofarads, self.u_picofarads))
    }
}
