//! What is read aloud of a run is what was judged of it: every built-in scene, dead, powered and to earth, by every sheet.

use runproof_firmware::boards::simulated::{BUILT_IN, LIVE, Scene};
use runproof_interpret::capture::Drain;
use runproof_interpret::judgement::{Judgement, LiveJudgement, SheetName};
use runproof_interpret::limits::BUILT_IN as SHEETS;
use runproof_interpret::read_aloud::{Bound, Rounded, Spoken, from_code, of, of_live, to_code};
use runproof_interpret::{LimitSheet, LiveKnowledge, RunKnowledge, judge, judge_live};
use runproof_protocol::{Phase, Post};

use crate::host::Host;
use crate::measured::{measured, phases};
use crate::{expect_none, to_earth};

const SEEDS: u64 = 3;

fn sheets() -> impl Iterator<Item = LimitSheet> {
    SHEETS.iter().filter_map(|(name, _)| LimitSheet::built_in(name))
}

/// Through the code, as it is heard.
fn heard(spoken: &Spoken) -> Spoken {
    let code = to_code(spoken);
    let heard = from_code(&code).unwrap_or_else(|error| panic!("{code}: {error}"));
    assert_eq!(&heard, spoken, "{code}");
    heard
}

fn sorted(posts: &[Post]) -> Vec<Post> {
    let mut posts = posts.to_vec();
    posts.sort_by_key(|post| post.index());
    posts
}

/// Within what is said of its rounding; a bound where it is beyond the scale.
fn near(told: Option<Rounded>, exact: Option<f64>, within_percent: f64) -> bool {
    let factor = 1.0 + within_percent / 100.0 + 1e-9;
    match (told, exact) {
        (None, None) => true,
        (Some(told), Some(exact)) => match told.bound {
            Bound::About => (1.0 / factor..=factor).contains(&(exact / told.value)),
            Bound::Less => exact.abs() <= told.value * factor,
            Bound::More => exact.abs() >= told.value / factor,
        },
        _ => false,
    }
}

fn check_differs(exact: &Judgement, spoken: &Spoken) -> bool {
    let Spoken::Check(told) = spoken else { return true };
    let again = told.judgement(exact.sheet.clone());
    let rows = again.conductors.iter().zip(&exact.conductors).all(|(told, exact)| {
        (told.name, told.post, told.terminal, told.reaches, told.verdict, told.reason)
            == (exact.name, exact.post, exact.terminal, exact.reaches, exact.verdict, exact.reason)
    });
    let loops = exact.conductors.is_empty().then(|| exact.loops.first()).flatten();
    let around = loops.is_none_or(|exact| {
        again
            .loops
            .first()
            .is_some_and(|told| (told.verdict, told.reason) == (exact.verdict, exact.reason))
    });
    let ohms = exact.conductors.iter().all(|one| {
        let told = told.rows[one.post.index()].ohm.map(|ohm| ohm.rounded());
        near(told, one.resistance_ohm, 7.5)
    });
    let is_whole = again.conductors.len() == exact.conductors.len();
    !(rows && around && ohms && is_whole) || findings_differ(exact, &again, told.finding.more)
}

fn findings_differ(exact: &Judgement, again: &Judgement, more: bool) -> bool {
    let key = |judgement: &Judgement| {
        judgement.findings.first().map(|one| {
            let of_it = (one.kind, one.cause, one.severity, one.explains_complaint);
            (of_it, sorted(&one.posts), one.places.clone())
        })
    };
    (exact.verdict, key(exact), exact.findings.len() > 1) != (again.verdict, key(again), more)
}

#[test]
fn every_check_comes_back_as_it_was_judged() {
    let (mut checks, mut wrong) = (0, vec![]);
    for (name, _) in BUILT_IN {
        for seed in 0..SEEDS {
            let capture = measured(Scene::built_in(name).expect("built in"), seed);
            for sheet in sheets() {
                let exact = judge(&capture, &sheet, &RunKnowledge::default());
                checks += 1;
                if check_differs(&exact, &heard(&of(&exact, true))) {
                    wrong.push(format!("{name} of {seed} by {}", sheet.name));
                }
            }
        }
    }
    expect_none("checks, read aloud", checks, &wrong);
}

#[test]
fn every_test_to_earth_comes_back_as_it_was_judged() {
    let scenes = ["sound-to-earth", "nicked-to-conduit", "damp-conduit", "shield-bonded-far"];
    let (mut checks, mut wrong) = (0, vec![]);
    for (name, seed) in scenes.into_iter().flat_map(|name| (0..SEEDS).map(move |seed| (name, seed)))
    {
        for drain in [None, Some(Drain::Landed), Some(Drain::Free)] {
            let scene = Scene::built_in(name).expect("built in");
            let exact = to_earth::judged(&to_earth::tested(scene, seed, drain));
            let Spoken::ToEarth(told) = heard(&of(&exact, true)) else { panic!("to earth") };
            let again = told.judgement(exact.sheet.clone());
            let pair = [&exact, &again].map(|one| {
                let told = one.to_earth.as_ref().expect("to earth");
                (
                    told.to_metal,
                    told.to_shield,
                    told.drain,
                    told.bonded,
                    sorted(&told.contact_shown),
                )
            });
            checks += 1;
            if pair[0] != pair[1]
                || exact.isolation.len() != again.isolation.len()
                || findings_differ(&exact, &again, told.finding.more)
            {
                wrong.push(format!("{name} of {seed} {drain:?}"));
            }
        }
    }
    expect_none("tests to earth, read aloud", checks, &wrong);
}

fn live_differs(exact: &LiveJudgement, spoken: &Spoken) -> bool {
    let Spoken::Live(told) = spoken else { return true };
    let sheet = SheetName { name: exact.sheet.name.clone(), version: exact.sheet.version.clone() };
    let again = told.judgement(sheet);
    let key = |judgement: &LiveJudgement| {
        let supply = judgement.supply.as_ref();
        let supply = supply.map(|one| (one.kind, one.verdict, one.reason));
        let pair = judgement.pair.as_ref();
        let pair = pair.map(|one| (one.sign, one.activity, one.verdict, one.reason));
        let first = judgement.findings.first().map(|one| {
            let named = judgement.conductors.iter().filter(|row| one.posts.contains(&row.post));
            let names: Vec<_> = named.map(|row| row.name).collect();
            (one.kind, one.cause, one.severity, sorted(&one.posts), names, one.unit)
        });
        (judgement.verdict, judgement.at, supply, pair, first)
    };
    let bias = exact.pair.as_ref().and_then(|pair| pair.bias_v).map(|volts| volts.value);
    let is_near = near(told.bias_v.map(|volts| volts.rounded()), bias, 3.7);
    key(exact) != key(&again) || told.finding.more != (exact.findings.len() > 1) || !is_near
}

#[test]
fn every_live_run_comes_back_as_it_was_judged() {
    let (mut checks, mut wrong) = (0, vec![]);
    for (name, _) in LIVE {
        for seed in 0..SEEDS {
            let scene = Scene::built_in(name).expect("built in");
            let capture = phases(&mut Host::on(scene, seed), &[Phase::Live]);
            for sheet in sheets() {
                let exact = judge_live(&capture, &sheet, &LiveKnowledge::default());
                checks += 1;
                if live_differs(&exact, &heard(&of_live(&exact, true))) {
                    wrong.push(format!("{name} of {seed} by {}", sheet.name));
                }
            }
        }
    }
    expect_none("live runs, read aloud", checks, &wrong);
}
