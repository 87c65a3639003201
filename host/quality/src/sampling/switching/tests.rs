//! When inspection changes, and when it does not.

use super::*;
use crate::sampling::{Aql, Level};

/// Lots of 200 at 2.5 %: normal 32/2/3, one step tighter 1; tightened 32/1/2; reduced 13/1/3.
fn lots(mut series: Switching, found: &[u32]) -> (Switching, Vec<Option<Switch>>) {
    let mut switches = vec![];
    for nonconforming in found {
        let aql = Aql::from_percent(2.5).unwrap();
        let severity = series.severity().unwrap();
        let inspection = Inspection::of(200, Level::II, aql, severity).unwrap();
        let switched = series.count(&inspection, *nonconforming).unwrap();
        switches.push(switched.switch);
        series = switched.next;
    }
    (series, switches)
}

fn after(series: Switching, found: &[u32]) -> Switching {
    lots(series, found).0
}

const ISO: Edition = Edition::Iso2859;
const MIL: Edition = Edition::MilStd105E;

#[test]
fn two_rejected_of_five_tighten_and_of_six_do_not() {
    let five = after(Switching::new(ISO, false), &[3, 0, 0, 0, 3]);
    assert_eq!(five.severity(), Some(Severity::Tightened));
    let two = after(Switching::new(ISO, false), &[3, 3]);
    assert_eq!(two.severity(), Some(Severity::Tightened));
    let six = after(Switching::new(ISO, false), &[3, 0, 0, 0, 0, 3]);
    assert_eq!(six.severity(), Some(Severity::Normal));
}

#[test]
fn five_accepted_in_a_row_make_it_normal_again_and_what_was_is_forgotten() {
    let tightened = after(Switching::new(ISO, false), &[3, 3]);
    assert_eq!(after(tightened.clone(), &[0, 0, 0, 0]).severity(), Some(Severity::Tightened));
    assert_eq!(
        after(tightened.clone(), &[0, 0, 0, 2, 0, 0, 0, 0]).severity(),
        Some(Severity::Tightened)
    );
    let (normal, switches) = lots(tightened, &[1, 1, 1, 1, 1]);
    assert_eq!(switches.last(), Some(&Some(Switch::ToNormal)));
    assert_eq!(normal, Switching::new(ISO, false));
    assert_eq!(after(normal, &[3]).severity(), Some(Severity::Normal));
}

#[test]
fn iso_ends_after_five_rejected_in_all_while_tightened() {
    let tightened = after(Switching::new(ISO, false), &[3, 3]);
    let four = after(tightened.clone(), &[2, 0, 2, 0, 0, 0, 2, 0, 2, 0, 0, 0, 0]);
    assert_eq!(four.severity(), Some(Severity::Tightened));
    let ended = after(four, &[2]);
    assert_eq!(ended.severity(), None);
    let inspection =
        Inspection::of(200, Level::II, Aql::from_percent(2.5).unwrap(), Severity::Tightened);
    assert_eq!(ended.count(&inspection.unwrap(), 0), Err(NotCounted::Discontinued));
    assert_eq!(ended.resume(), tightened);
}

#[test]
fn the_military_edition_ends_when_ten_lots_stay_tightened() {
    let tightened = after(Switching::new(MIL, false), &[3, 3]);
    let nine = after(tightened.clone(), &[2; 9]);
    assert_eq!(nine.severity(), Some(Severity::Tightened));
    assert_eq!(after(nine, &[0]).severity(), None);
    let saved = after(tightened, &[2, 2, 2, 2, 2, 0, 0, 0, 0, 0]);
    assert_eq!(saved.severity(), Some(Severity::Normal));
}

#[test]
fn three_a_lot_make_thirty_in_ten_and_a_doubtful_lot_begins_anew() {
    let (reduced, switches) = lots(Switching::new(ISO, true), &[1; 10]);
    assert_eq!(switches[8..], [None, Some(Switch::ToReduced)]);
    assert_eq!(reduced.severity(), Some(Severity::Reduced));
    // Accepted with 2, but not one step tighter.
    let doubtful = after(Switching::new(ISO, true), &[1, 1, 1, 2]);
    assert_eq!(doubtful.score(), Some(0));
    assert_eq!(after(doubtful, &[0]).score(), Some(3));
}

#[test]
fn with_an_acceptance_number_below_two_a_lot_scores_two() {
    let aql = Aql::from_percent(0.65).unwrap();
    let inspection = Inspection::of(200, Level::II, aql, Severity::Normal).unwrap();
    assert_eq!(inspection.plan.acceptance_number(), 0);
    let mut series = Switching::new(ISO, true);
    for lot in 1..15 {
        series = series.count(&inspection, 0).unwrap().next;
        assert_eq!(series.score(), Some(2 * lot));
    }
    let last = series.count(&inspection, 0).unwrap();
    assert_eq!(last.switch, Some(Switch::ToReduced));
}

#[test]
fn without_leave_the_score_is_reached_and_nothing_changes_until_it_is_given() {
    let waiting = after(Switching::new(ISO, false), &[0; 12]);
    assert_eq!(waiting.severity(), Some(Severity::Normal));
    assert_eq!(waiting.reduction(), Reduction::Due);
    let reduced = waiting.may_reduce(true);
    assert_eq!(reduced.severity(), Some(Severity::Reduced));
    assert_eq!(reduced.may_reduce(false), Switching::new(ISO, false));
}

#[test]
fn the_limit_number_decides_over_ten_lots() {
    let nine = after(Switching::new(MIL, true), &[0, 0, 0, 1, 0, 0, 0, 2, 0]);
    assert_eq!(nine.reduction(), Reduction::NotDue);
    let ten = after(nine, &[0]);
    assert_eq!(ten.reduction(), Reduction::ByLimitNumber { units: 320, nonconforming: 3 });
    assert_eq!(ten.severity(), Some(Severity::Normal));
    assert_eq!(ten.reduce_by_limit_number(2), None);
    let reduced = ten.reduce_by_limit_number(3).unwrap();
    assert_eq!(reduced.severity(), Some(Severity::Reduced));
    let forbidden = after(Switching::new(MIL, false), &[0; 10]);
    assert_eq!(forbidden.reduce_by_limit_number(3), None);
    let rejected = after(Switching::new(MIL, true), &[0, 0, 0, 0, 3, 0, 0, 0, 0, 0]);
    assert_eq!(rejected.reduction(), Reduction::NotDue);
}

#[test]
fn reduced_inspection_ends_with_a_rejected_lot_and_with_one_in_the_gap() {
    let reduced = after(Switching::new(ISO, true), &[0; 10]);
    for (found, switch) in [
        (0, None),
        (1, None),
        (2, Some(Switch::ToNormalAfterGap)),
        (3, Some(Switch::ToNormalAfterRejection)),
    ] {
        let (next, switches) = lots(reduced.clone(), &[found]);
        assert_eq!(switches, [switch]);
        assert_eq!(next.severity() == Some(Severity::Normal), switch.is_some());
    }
}

#[test]
fn a_lot_of_another_severity_is_not_counted() {
    let aql = Aql::from_percent(2.5).unwrap();
    let tightened = Inspection::of(200, Level::II, aql, Severity::Tightened).unwrap();
    assert_eq!(
        Switching::new(ISO, true).count(&tightened, 0),
        Err(NotCounted::OtherSeverity { inspected: Severity::Tightened, due: Severity::Normal })
    );
}
