//! What follows for a lot, from all that is known of it.

use serde::{Deserialize, Serialize};

use super::{Declared, Drawn, Identity, Look, Measured, NotDeclared, Test, Tested};
use crate::sampling;

/// What follows for a lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Decision {
    /// It is accepted, without the units that failed.
    Accept,
    /// Every unit was tested, and some failed: those that passed are good, the others come out.
    Sorted,
    /// The same; the next lot of its series is inspected normally.
    AcceptBackToNormal,
    /// It is rejected: too many of its sample failed.
    Reject,
    /// It is held: a unit is not what it should be, and no sample says how many more are not; or as many units are known to
    /// fail, drawn or not, as would reject it if they were drawn.
    Hold,
    /// Something is not known yet.
    NotYet,
}

/// How a lot stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stand {
    /// What follows.
    pub decision: Decision,
    /// The units to test, and the plan.
    pub drawn: Drawn,
    /// The identity of all units.
    pub identity: Identity,
    /// What the tests of the sample say.
    pub sample: Tested,
    /// Of a lot that is decided by variables: what was measured of the sample.
    pub measured: Option<Measured>,
    /// What tests say of units that were not drawn: they decide nothing, but a unit that failed is no good one.
    pub beside: Tested,
}

/// How a lot stands by what is known of it.
///
/// # Errors
///
/// [`NotDeclared`].
pub fn stand(declared: &Declared, looks: &[Look], tests: &[Test]) -> Result<Stand, NotDeclared> {
    let drawn = declared.drawn()?;
    let identity = Identity::of(declared.units, looks);
    let by_value: Vec<Test>;
    let tests = match drawn.variables {
        None => tests,
        Some(_) => {
            by_value = tests.iter().map(Test::by_value).collect();
            &by_value
        }
    };
    let sample = Tested::of(&drawn.sample, tests);
    let measured = drawn.variables.map(|plan| Measured::of(plan, &drawn.sample, tests));
    let mut others: Vec<u32> = tests
        .iter()
        .map(|test| test.unit)
        .filter(|unit| (1..=declared.units).contains(unit))
        .filter(|unit| drawn.sample.binary_search(unit).is_err())
        .collect();
    others.sort_unstable();
    others.dedup();
    let beside = Tested::of(&others, tests);
    let known_bad = [&sample, &beside].map(|one| one.nonconforming.units().count()).iter().sum();
    let decision = decided(&drawn, &identity, &sample, measured.as_ref(), known_bad);
    Ok(Stand { decision, drawn, identity, sample, measured, beside })
}

/// A miss and a rejection stand whatever is still to come; acceptance takes all of it.
fn decided(
    drawn: &Drawn,
    identity: &Identity,
    sample: &Tested,
    measured: Option<&Measured>,
    known_bad: usize,
) -> Decision {
    if !identity.missed.is_empty() {
        return Decision::Hold;
    }
    let failed = sample.nonconforming.units().count() as u32;
    let outcome = drawn.plan.map(|plan| plan.decide(failed));
    if outcome == Some(sampling::Outcome::Rejected) {
        return Decision::Reject;
    }
    if drawn.plan.is_some_and(|plan| known_bad >= plan.rejection_number() as usize) {
        return Decision::Hold;
    }
    let open = [&sample.cannot_tell, &sample.not_proved, &sample.left, &identity.left];
    if open.iter().any(|units| !units.0.is_empty()) {
        return Decision::NotYet;
    }
    if let Some(measured) = measured {
        return match measured.is_accepted {
            Some(true) => Decision::Accept,
            Some(false) => Decision::Reject,
            None => Decision::NotYet,
        };
    }
    match outcome {
        None if failed > 0 => Decision::Sorted,
        Some(sampling::Outcome::AcceptedBackToNormal) => Decision::AcceptBackToNormal,
        _ => Decision::Accept,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lot::{Acceptance, Mark, Outcome};
    use crate::sampling::{Aql, Level, Severity};

    fn declared(severity: Severity) -> Declared {
        let aql = Aql::from_percent(2.5).unwrap();
        let acceptance = Acceptance::Attributes { level: Level::II, aql, severity };
        Declared { series: String::new(), units: 200, acceptance, seed: 7, again: false }
    }

    fn looks() -> Vec<Look> {
        vec![Look { units: "1-200".parse().unwrap(), missed: vec![] }]
    }

    /// The whole sample, of which the first so many fail.
    fn tests(declared: &Declared, failed: usize) -> Vec<Test> {
        let sample = declared.drawn().unwrap().sample;
        let outcome = |n| if n < failed { Outcome::Fail } else { Outcome::Pass };
        let each = sample.into_iter().enumerate();
        each.map(|(n, unit)| Test {
            unit,
            outcome: outcome(n),
            jig_is_proved: true,
            of_limit: None,
        })
        .collect()
    }

    fn decision(declared: &Declared, looks: &[Look], tests: &[Test]) -> Decision {
        stand(declared, looks, tests).unwrap().decision
    }

    #[test]
    fn a_lot_by_its_plan() {
        // 32, 2 and 3; reduced 13, 1 and 3.
        let normal = declared(Severity::Normal);
        for (failed, expected) in
            [(0, Decision::Accept), (2, Decision::Accept), (3, Decision::Reject)]
        {
            assert_eq!(decision(&normal, &looks(), &tests(&normal, failed)), expected);
        }
        let reduced = declared(Severity::Reduced);
        let found = [1, 2, 3].map(|n| decision(&reduced, &looks(), &tests(&reduced, n)));
        assert_eq!(found, [Decision::Accept, Decision::AcceptBackToNormal, Decision::Reject]);
    }

    #[test]
    fn nothing_is_accepted_before_all_of_it_is_known() {
        let normal = declared(Severity::Normal);
        let whole = tests(&normal, 1);
        for n in 0..whole.len() {
            let mut one_less = whole.clone();
            one_less.remove(n);
            assert_eq!(decision(&normal, &looks(), &one_less), Decision::NotYet);
            let mut unsure = whole.clone();
            unsure[n].outcome = Outcome::CannotTell;
            assert_eq!(decision(&normal, &looks(), &unsure), Decision::NotYet);
            let mut unproved = whole.clone();
            unproved[n].jig_is_proved = false;
            assert_eq!(decision(&normal, &looks(), &unproved), Decision::NotYet);
        }
        let most = [Look { units: "1-57,59-200".parse().unwrap(), missed: vec![] }];
        assert_eq!(decision(&normal, &most, &whole), Decision::NotYet);
        assert_eq!(decision(&normal, &[], &whole), Decision::NotYet);
        assert_eq!(decision(&normal, &[], &whole[..0]), Decision::NotYet);
    }

    #[test]
    fn a_miss_holds_the_lot_and_three_failed_reject_it_whatever_is_left() {
        let normal = declared(Severity::Normal);
        let mut missed = looks();
        missed.push(Look { units: "9".parse().unwrap(), missed: vec![Mark::Print] });
        assert_eq!(decision(&normal, &missed, &tests(&normal, 0)), Decision::Hold);
        assert_eq!(decision(&normal, &missed[1..], &[]), Decision::Hold);
        let three = &tests(&normal, 3)[..3];
        assert_eq!(decision(&normal, &[], three), Decision::Reject);
    }

    #[test]
    fn what_was_not_drawn_decides_nothing() {
        let normal = declared(Severity::Normal);
        let sample = normal.drawn().unwrap().sample;
        let other = (1..=200).filter(|unit| !sample.contains(unit));
        let fail =
            |unit| Test { unit, outcome: Outcome::Fail, jig_is_proved: true, of_limit: None };
        let mut all = tests(&normal, 0);
        all.extend(other.clone().take(2).map(fail));
        all.push(fail(0));
        all.push(fail(201));
        let found = stand(&normal, &looks(), &all).unwrap();
        assert_eq!(found.decision, Decision::Accept);
        assert_eq!(found.beside.nonconforming.units().count(), 2);
        all.extend(other.skip(2).take(1).map(fail));
        assert_eq!(decision(&normal, &looks(), &all), Decision::Hold, "as many as reject");
    }

    #[test]
    fn every_unit_tested_is_sorted() {
        let every = Declared { acceptance: Acceptance::EveryUnit, ..declared(Severity::Normal) };
        let all = tests(&every, 40);
        assert_eq!(all.len(), 200);
        let found = stand(&every, &looks(), &all).unwrap();
        assert_eq!(found.decision, Decision::Sorted);
        assert_eq!(found.sample.nonconforming.to_string(), "1–40");
        assert_eq!(decision(&every, &looks(), &all[1..]), Decision::NotYet);
    }
}
