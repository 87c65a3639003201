//! What is told of a judgement comes back: every kind of finding, every cause, every number a field may have.

use proptest::prelude::*;
use runproof_protocol::Post;

use crate::capture::Drain;
use crate::judgement::{
    Bonded, Cause, Finding, FindingKind, Judgement, LiveCause, LiveFinding, LiveFindingKind,
    LiveJudgement, Place, Severity, SheetName, Verdict,
};
use crate::read_aloud::numbers::Table;
use crate::read_aloud::packing::{Lister, Numbered};
use crate::read_aloud::*;

fn sheet() -> SheetName {
    SheetName { name: "service-24vac".into(), version: "1".into() }
}

fn check() -> Judgement {
    let told = SpokenCheck::walk(None, &mut Lister::default()).expect("noughts are a check");
    told.judgement(sheet())
}

fn to_earth() -> Judgement {
    let told = SpokenToEarth::walk(None, &mut Lister::default()).expect("noughts are a test");
    told.judgement(sheet())
}

fn live() -> LiveJudgement {
    let told = SpokenLive::walk(None, &mut Lister::default()).expect("noughts are a live run");
    told.judgement(sheet())
}

fn back(spoken: &Spoken) -> Spoken {
    let code = to_code(spoken);
    let told = from_code(&code).unwrap_or_else(|error| panic!("{code}: {error} in {spoken:?}"));
    assert_eq!(&told, spoken, "{code}");
    assert_eq!(to_code(&told), code);
    told
}

fn each<T: Table>() -> impl Iterator<Item = T> {
    T::TABLE.iter().map(|(value, _)| *value)
}

fn causes<T: Table>() -> impl Iterator<Item = Option<T>> {
    each::<T>().map(Some).chain([None])
}

#[test]
fn every_finding_of_a_check_comes_back_with_its_cause() {
    for (kind, cause) in
        each::<FindingKind>().flat_map(|kind| causes::<Cause>().map(move |one| (kind, one)))
    {
        for (severity, mut judgement) in
            each::<Severity>().flat_map(|one| [(one, check()), (one, to_earth())])
        {
            let mut first = Finding::new(kind, severity);
            first.cause = cause;
            first.posts = vec![Post::P2, Post::P4];
            first.places = vec![Place::Run, Place::PlugEnd];
            first.supply_reaches_data = judgement.to_earth.is_none();
            judgement.findings = vec![first.clone(), Finding::new(kind, severity)];
            let (told, more) = match back(&of(&judgement, false)) {
                Spoken::Check(told) => {
                    assert_eq!(
                        (told.powered_up, told.places.all()),
                        (PoweredUp::SupplyReachesData, first.places.clone())
                    );
                    (told.judgement(sheet()), told.finding.more)
                }
                Spoken::ToEarth(told) => (told.judgement(sheet()), told.finding.more),
                Spoken::Live(_) => panic!("no live run"),
            };
            assert!(more);
            let [again] = told.findings.as_slice() else { panic!("one finding: {told:?}") };
            assert_eq!(
                (again.kind, again.cause, again.severity, &again.posts),
                (kind, cause, severity, &first.posts)
            );
        }
    }
}

#[test]
fn every_finding_of_a_live_run_comes_back_with_its_cause() {
    let kinds = each::<LiveFindingKind>();
    for (kind, cause) in kinds.flat_map(|kind| causes::<LiveCause>().map(move |one| (kind, one))) {
        let mut first = LiveFinding::new(kind, Severity::Fail);
        (first.cause, first.posts) = (cause, vec![Post::P1, Post::P3]);
        let mut judgement = live();
        judgement.findings = vec![first.clone()];
        let Spoken::Live(told) = back(&of_live(&judgement, true)) else { panic!("a live run") };
        let told = told.judgement(sheet());
        let [again] = told.findings.as_slice() else { panic!("one finding: {told:?}") };
        assert_eq!((again.kind, again.cause, &again.posts), (kind, cause, &first.posts));
    }
}

#[test]
fn a_test_to_earth_comes_back() {
    let mut judgement = to_earth();
    for (verdict, (drain, bonded)) in each::<Verdict>()
        .flat_map(|one| each::<Drain>().zip(each::<Bonded>()).map(move |other| (one, other)))
    {
        let told = judgement.to_earth.as_mut().expect("a test to earth");
        (told.to_metal, told.to_shield) = (verdict, Some(verdict));
        (told.drain, told.bonded) = (Some(drain), Some(bonded));
        told.contact_shown = vec![Post::P2];
        let Spoken::ToEarth(again) = back(&of(&judgement, false)) else { panic!("to earth") };
        let again = again.judgement(sheet()).to_earth.expect("a test to earth");
        let told = judgement.to_earth.as_ref().expect("a test to earth");
        assert_eq!((again.to_metal, again.to_shield), (told.to_metal, told.to_shield));
        assert_eq!((again.drain, again.bonded), (told.drain, told.bonded));
        assert_eq!(again.contact_shown, told.contact_shown);
    }
}

/// A number that nobody judged still has no other meaning than its own.
#[test]
fn every_number_of_every_field_comes_back() {
    fn all<T: Numbered>(name: &str) {
        for number in 0..T::RADIX {
            let again = T::numbered(number).map(|value| value.number());
            assert_eq!(again, Some(number), "{name}");
        }
        assert!(Option::<T>::numbered(0).is_some_and(|value| value.is_none()));
    }
    all::<Outcome>("outcome");
    all::<LiveOutcome>("live outcome");
    all::<Known<FindingKind>>("finding");
    all::<Option<Known<Cause>>>("cause");
    all::<Option<ConductorOhm>>("resistance");
    all::<Option<SpokenPath>>("path");
    all::<Places>("places");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3000))]

    /// Whatever fits together is refused, or is a result that has this code and no other.
    #[test]
    fn what_is_accepted_is_written_alike(kind in 0..3_u8, digits in prop::collection::vec(0..32_u8, 20)) {
        let length = KINDS[usize::from(kind)].length();
        let mut code = vec![kind];
        code.extend(&digits[..length - CHECKS - 1]);
        code.extend(checks(&code));
        let code = grouped(&code);
        match from_code(&code) {
            Ok(spoken) => prop_assert_eq!(to_code(&spoken), code),
            Err(error) => prop_assert!(matches!(error, CodeError::OutOfRange { .. }), "{}", error),
        }
    }
}

/// Somebody may power up who heard the first finding alone.
#[test]
fn a_danger_is_told_wherever_it_is_found() {
    let mut judgement = check();
    let first = Finding::new(FindingKind::Open, Severity::Fail);
    let mut crossed = Finding::new(FindingKind::Crossed, Severity::Fail);
    judgement.findings = vec![first.clone(), crossed.clone()];
    let Spoken::Check(told) = back(&of(&judgement, false)) else { panic!("a check") };
    assert_eq!(told.beside().map(|one| one.kind), Some(FindingKind::Crossed));
    assert!(!told.judgement(sheet()).findings[0].supply_reaches_data);
    crossed.supply_reaches_data = true;
    judgement.findings = vec![first, crossed];
    let Spoken::Check(told) = back(&of(&judgement, false)) else { panic!("a check") };
    assert!(told.judgement(sheet()).findings[0].supply_reaches_data);
    // Also where a later program found what has no name here.
    let mut told = told;
    told.finding.kind = Some(Known::Other(46));
    let Spoken::Check(told) = back(&Spoken::Check(told)) else { panic!("a check") };
    assert!(told.judgement(sheet()).findings.is_empty());
    assert!(told.beside().is_some_and(|one| one.supply_reaches_data));

    let mut judgement = live();
    let kinds =
        [LiveFindingKind::NoSupply, LiveFindingKind::Hazard, LiveFindingKind::AllMoveTogether];
    judgement.findings = kinds.map(|kind| LiveFinding::new(kind, Severity::CannotTell)).to_vec();
    let Spoken::Live(told) = back(&of_live(&judgement, false)) else { panic!("a live run") };
    assert_eq!(told.beside().iter().map(|one| one.kind).collect::<Vec<_>>(), kinds[1..]);
}
