//! Lots of one series, one after the other: how severely the next one is inspected.

use serde::Serialize;

use super::{Acceptance, Decision, Declared};
use crate::sampling::{Edition, Inspection, Severity, Switch, Switching};

/// A lot that was closed.
#[derive(Clone, Debug, PartialEq)]
pub struct Closed {
    /// As it was declared.
    pub declared: Declared,
    /// How many of its sample failed.
    pub nonconforming: u32,
    /// What followed.
    pub decision: Decision,
}

/// How the next lot of a series is inspected.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Due {
    /// So severely; none: the series ends until its source has done something about it. It begins again with a lot that
    /// is declared tightened.
    pub severity: Option<Severity>,
    /// The last change, and after how many of the lots that count.
    pub switched: Option<(Switch, usize)>,
    /// How many lots count.
    pub counted: usize,
    /// How many do not: held, decided in another way, or inspected otherwise than was due.
    pub not_counted: usize,
}

/// By the lots of the series that were closed, in that order. `may_reduce`: production is steady, and whoever answers for
/// quality agrees.
#[must_use]
pub fn due(closed: &[Closed], may_reduce: bool) -> Due {
    let mut series = Switching::new(Edition::Iso2859, may_reduce);
    let (mut switched, mut counted) = (None, 0);
    for lot in closed {
        let Some(inspection) = inspection(lot) else { continue };
        if series.severity().is_none() && inspection.severity == Severity::Tightened {
            series = series.resume();
        }
        let Ok(after) = series.count(&inspection, lot.nonconforming) else { continue };
        counted += 1;
        if let Some(switch) = after.switch {
            switched = Some((switch, counted));
        }
        series = after.next;
    }
    Due { severity: series.severity(), switched, counted, not_counted: closed.len() - counted }
}

/// Of one that counts.
fn inspection(lot: &Closed) -> Option<Inspection> {
    let decided = !matches!(lot.decision, Decision::Hold | Decision::NotYet);
    let Acceptance::Attributes { level, aql, severity } = lot.declared.acceptance else {
        return None;
    };
    let counts = decided && !lot.declared.again;
    counts.then(|| Inspection::of(lot.declared.units, level, aql, severity).ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::{Aql, Level};

    fn closed(severity: Severity, nonconforming: u32, decision: Decision) -> Closed {
        let aql = Aql::from_percent(2.5).unwrap();
        let acceptance = Acceptance::Attributes { level: Level::II, aql, severity };
        let declared =
            Declared { series: String::new(), units: 200, acceptance, seed: 7, again: false };
        Closed { declared, nonconforming, decision }
    }

    #[test]
    fn two_rejected_lots_tighten_and_those_that_do_not_count_change_nothing() {
        let rejected = closed(Severity::Normal, 3, Decision::Reject);
        let mut again = rejected.clone();
        again.declared.again = true;
        let held = closed(Severity::Normal, 0, Decision::Hold);
        let mut every = rejected.clone();
        every.declared.acceptance = Acceptance::EveryUnit;
        let one = [rejected.clone(), again, held, every];
        let found = due(&one, false);
        assert_eq!(
            (found.severity, found.counted, found.not_counted),
            (Some(Severity::Normal), 1, 3)
        );
        let two = [&one[..], &[rejected]].concat();
        let found = due(&two, false);
        assert_eq!(found.severity, Some(Severity::Tightened));
        assert_eq!(found.switched, Some((Switch::ToTightened, 2)));
        // Inspected normally while tightened was due.
        let three = [&two[..], &[closed(Severity::Normal, 0, Decision::Accept)]].concat();
        assert_eq!(due(&three, false).counted, 2);
        assert_eq!(due(&[], false).severity, Some(Severity::Normal));
    }

    #[test]
    fn a_series_that_ended_begins_again_tightened() {
        let mut lots = vec![closed(Severity::Normal, 3, Decision::Reject); 2];
        lots.extend(vec![closed(Severity::Tightened, 2, Decision::Reject); 5]);
        assert_eq!(due(&lots, false).severity, None);
        lots.push(closed(Severity::Normal, 0, Decision::Accept));
        assert_eq!(due(&lots, false).severity, None);
        lots.push(closed(Severity::Tightened, 0, Decision::Accept));
        assert_eq!(due(&lots, false).severity, Some(Severity::Tightened));
    }
}
