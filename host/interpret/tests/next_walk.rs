//! The built-in steps: whatever is answered, in whatever order, it comes to an end.

use std::sync::LazyLock;

use proptest::prelude::*;
use runproof_interpret::next::{
    Act, BUILT_IN, Bench, Change, Ends, Fact, Hands, Kind, Known, Power, Steps,
};

#[test]
fn every_way_through_the_built_in_steps_ends() {
    let steps = Steps::read(BUILT_IN).unwrap_or_else(|error| panic!("{error}"));
    let walked = steps.walked;
    println!(
        "{} steps, {} ways, all of which end, after {} steps at most",
        steps.steps.len(),
        walked.ways,
        walked.longest
    );
    assert!(walked.ways > 10_000 && walked.longest <= steps.steps.len());
}

/// A file of which the ways can be counted by hand: a is yes: 1; no or unknown: b has 2 words and unknown: 2 × 3.
#[test]
fn ways_are_counted() {
    let text = "name = 'x'\nversion = '1'\nabout = ''\nsheets = ['service-24vac']\nsource = 'x'\n\
        [[fact]]\nkey = 'a'\nabout = 'a'\nkind = 'yes-no'\nquestion = 'a?'\n\
        [[fact]]\nkey = 'b'\nabout = 'b'\nkind = 'outcome'\nvalues = ['u', 'v']\nquestion = 'b?'\n\
        [[step]]\nname = 'is-a'\nall = ['a is yes']\nconclude = 'a'\nwiring = 'cleared'\n\
        [[step]]\nname = 'is-v'\nall = ['b is v']\nconclude = 'v'\nwiring = 'cleared'\n\
        [[step]]\nname = 'ask-a'\nask = 'a'\n\
        [[step]]\nname = 'ask-b'\nask = 'b'\n\
        [[step]]\nname = 'end'\nconclude = 'nothing'\nwiring = 'undecided'\n";
    let steps = Steps::read(text).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!((steps.walked.ways, steps.walked.longest), (3, 3));
}

fn answer(fact: &Fact, draw: f64) -> String {
    let at = |count: usize| (draw * count as f64) as usize;
    match &fact.kind {
        Kind::Number { least, most, .. } => {
            // The ends of what is good, and what lies between.
            let numbers = [*least, *most, -0.2, 0.2, 0.6, 20.0, 24.0, 30.0];
            numbers[at(numbers.len())].clamp(*least, *most).to_string()
        }
        kind => {
            let words = kind.words();
            words.get(at(words.len() + 1)).map_or("unknown".into(), |word| (*word).to_owned())
        }
    }
}

static STEPS: LazyLock<Steps> = LazyLock::new(Steps::built_in);

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Told in any order beforehand, then asked: it ends, and nothing that is known is asked.
    #[test]
    fn whatever_is_told_in_whatever_order_it_ends(
        told in prop::collection::vec((0.0..1.0, 0.0..1.0), 40),
        often in 0.0..0.6,
        answers in prop::collection::vec(0.0..1.0, 80),
    ) {
        let steps = &*STEPS;
        let mut known = Known::nothing(steps);
        for (fact, (draw, is_told)) in steps.facts.iter().zip(&told) {
            if fact.question.is_some() && *is_told < often {
                known.told(&fact.key, &answer(fact, *draw)).expect("an answer");
            }
        }
        let mut at = known.bench;
        let mut answers = answers.iter();
        for count in 0.. {
            // Whoever repairs again and again begins anew each time: here nobody does for ever.
            prop_assert!(count <= 120, "it goes on and on");
            let advice = known.advice();
            if advice.step.is_end() {
                let stood = advice.first.iter().fold(at, carried).then(advice.step.bench);
                let closed = advice.close.iter().fold(stood, carried);
                let is_closed = closed.ends.is_none_or(|ends| ends == Ends::Landed)
                    && closed.power.is_none_or(|power| power == Power::On);
                let is_left = advice.step.leaves != Bench::default();
                let keeps_off = advice.step.hands == Hands::KeepOff;
                prop_assert!(is_closed || is_left || keeps_off, "{closed:?}");
                break;
            }
            let stood = advice.first.iter().fold(at, carried);
            prop_assert!(stands(stood, advice.step.bench), "{}: {stood:?}", advice.step.name);
            at = at.then(advice.step.bench).then(advice.step.leaves);
            let settled: Vec<&str> =
                advice.known.iter().map(|one| one.fact.key.as_str()).collect();
            let settles = advice.step.settles.iter().map(|fact| &steps.facts[*fact]);
            let open: Vec<&Fact> =
                settles.filter(|fact| !settled.contains(&fact.key.as_str())).collect();
            prop_assert!(!open.is_empty(), "{} asks what is known", advice.step.name);
            for fact in open {
                let draw = answers.next().copied().unwrap_or(0.999);
                known.told(&fact.key, &answer(fact, draw)).expect("an answer");
            }
        }
    }
}

/// What somebody does who follows it to the letter, kept apart from what the program keeps.
fn carried(at: Bench, change: &Change) -> Bench {
    let (power, ends) = match change {
        Change::PowerOff => (Some(Power::Off), at.ends),
        Change::PowerOn => (Some(Power::On), at.ends),
        // Wires are moved with power off alone, and so is a control.
        _ if at.power == Some(Power::On) && *change != Change::SeeLanded => (None, None),
        Change::TemporaryOff => (at.power, Some(Ends::Lifted)),
        Change::Lift => (at.power, Some(Ends::Lifted)),
        Change::ClipsOff => (at.power, at.ends),
        Change::Land | Change::SeeLanded | Change::ControlBack => (at.power, Some(Ends::Landed)),
        Change::ControlOff => (at.power, Some(Ends::PlateOpen)),
    };
    Bench { power, ends }
}

fn stands(at: Bench, need: Bench) -> bool {
    let ends = need.ends.is_none_or(|ends| at.ends == Some(ends));
    ends && need.power.is_none_or(|power| at.power == Some(power))
}

/// What has hands on wires or terminals says so, whatever its text: the program's caution follows from it.
#[test]
fn no_step_touches_without_hands() {
    let steps = Steps::built_in();
    for step in steps.steps.iter().filter(|step| step.act == Act::Do) {
        let text = step.text.to_lowercase();
        let touches = ["lift", "exchange", "tug", "repair", "replace", "lay a", "land every"];
        if touches.iter().any(|word| text.contains(word)) {
            assert_ne!(step.hands, Hands::None, "{}", step.name);
        }
        if text.contains("exchange the") {
            assert_eq!(step.hands, Hands::Pair, "{}", step.name);
        }
    }
}
