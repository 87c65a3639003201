//! The test to earth: what cores meet is named, and nothing passes of which contact was not shown.
//!
//! In these scenes conductor 1 is the bunch of cores, 2 the metal, 3 the shield.

use runproof_firmware::boards::simulated::{
    End as At, EndPlug, Scene, Short, Source, Through, Touch,
};
use runproof_interpret::capture::{
    Capture, Drain, End, Ending, Entry, PhaseEnd, ToEarth, head_from,
};
use runproof_interpret::judgement::{
    Bonded, Cause, Finding, FindingKind, Judgement, NotTested, Severity, Verdict,
};
use runproof_interpret::{LimitSheet, RunKnowledge, glance, judge};
use runproof_protocol::{Event, Phase, Post};

use crate::host::Host;
use crate::{expect_none, good_run, measured};

const SECOND_NANOS: u64 = 1_000_000_000;

/// Held together from 0 to 1 s and from 6 to 8 s; the open phase between.
fn sound(held: &[[u8; 2]]) -> Scene {
    let mut scene = good_run();
    scene.plug = EndPlug::Out;
    for (from_s, until_s) in [(0.0, 1.0), (6.0, 8.0)] {
        let touch =
            |terminals: &[u8; 2]| Touch { end: At::Near, terminals: *terminals, from_s, until_s };
        scene.touch.extend(held.iter().map(touch));
    }
    scene
}

fn with(held: &[[u8; 2]], shorts: &[(u8, u8, f64)]) -> Scene {
    let mut scene = sound(held);
    let short = |&(a, b, ohm): &(u8, u8, f64)| Short { posts: [a, b], at: 0.6, ohm };
    scene.run.short = shorts.iter().map(short).collect();
    scene
}

const METAL: &[[u8; 2]] = &[[1, 2]];
const BOTH: &[[u8; 2]] = &[[1, 2], [1, 3]];

/// As `check --to-earth` takes it.
pub(super) fn tested(scene: Scene, seed: u64, shield: Option<Drain>) -> Capture {
    let mut host = Host::on(scene, seed);
    let head = head_from(&runproof_firmware::identity("simulated", ""), "test").expect("a jig");
    let mut capture = Capture::new(head);
    capture.push_to_earth(ToEarth { shield });
    look(&mut host, &mut capture);
    host.listen(2 * SECOND_NANOS);
    phase(&mut host, Phase::Open, &mut capture);
    host.listen(6 * SECOND_NANOS + SECOND_NANOS / 2);
    look(&mut host, &mut capture);
    capture
}

/// A glance, kept as what was seen while all was held together.
fn look(host: &mut Host, capture: &mut Capture) {
    let mut looked = Capture::new(capture.head.clone());
    phase(host, Phase::Glance, &mut looked);
    let at = looked.readings(Phase::Glance).map(|reading| reading.at).max();
    if let (Ok(seen), Some(at)) = (glance(&looked, Phase::Glance), at) {
        capture.push_touch(seen.touch(End::Near, [Post::P1, Post::P2], at));
    }
}

fn phase(host: &mut Host, phase: Phase, capture: &mut Capture) {
    host.measure(phase);
    for event in std::mem::take(&mut host.events) {
        capture.push_event(&event);
        if let Event::Done { patterns, .. } = event {
            capture.end(PhaseEnd { phase, ending: Ending::Done { patterns: patterns.into() } });
        }
    }
}

pub(super) fn judged(capture: &Capture) -> Judgement {
    judge(capture, &LimitSheet::service_24vac(), &RunKnowledge::default())
}

fn bonded(judgement: &Judgement) -> Option<Bonded> {
    judgement.to_earth.as_ref().expect("a test to earth").bonded
}

/// On these posts, with the truth within its interval.
fn names(finding: &Finding, kind: FindingKind, posts: &[Post], truth_ohm: f64) -> bool {
    let value = finding.value.zip(finding.expanded_uncertainty);
    let within = |(ohm, u_ohm): (f64, f64)| (ohm - truth_ohm).abs() <= u_ohm;
    (finding.kind, finding.posts.as_slice()) == (kind, posts) && value.is_some_and(within)
}

const P123: [Post; 3] = [Post::P1, Post::P2, Post::P3];

#[test]
fn leaks_to_metal_and_shield_are_told_by_the_limits() {
    let (mut wrong, mut checks) = (vec![], 0);
    for (ohm, verdict, severity) in [
        (2e3, Verdict::Fail, Some(Severity::Fail)),
        (5e3, Verdict::Fail, Some(Severity::Fail)),
        (10e3, Verdict::Fail, Some(Severity::Fail)),
        (70e3, Verdict::Fail, Some(Severity::Fail)),
        (100e3, Verdict::CannotTell, Some(Severity::CannotTell)),
        (130e3, Verdict::Pass, Some(Severity::Note)),
        (400e3, Verdict::Pass, Some(Severity::Note)),
        (3e6, Verdict::Pass, None),
        (10e6, Verdict::Pass, None),
    ] {
        let bond = (2, 3, 0.3);
        for (shield, held, leaks, posts) in [
            (None, METAL, &[(1, 2, ohm)][..], &P123[..2]),
            (Some(Drain::Free), BOTH, &[(1, 3, ohm)], &[Post::P1, Post::P3]),
            // One cannot tell through which of two that are bonded: it is told once, of both.
            (Some(Drain::Free), BOTH, &[(1, 2, ohm), bond], &P123),
            (Some(Drain::Free), BOTH, &[(1, 3, ohm), bond], &P123),
        ] {
            for seed in 0..4 {
                let judgement = judged(&tested(with(held, leaks), seed, shield));
                let leak =
                    judgement.findings.iter().find(|one| one.kind == FindingKind::LeakToMetal);
                let named = leak.is_none_or(|one| names(one, FindingKind::LeakToMetal, posts, ohm));
                let right = leak.map(|one| one.severity) == severity;
                if !(named && right) || judgement.verdict != verdict {
                    wrong.push(format!("{ohm} {leaks:?} {seed}: {:?}", judgement.findings));
                }
                checks += 1;
            }
        }
    }
    expect_none("leaks to metal", checks, &wrong);
}

/// Without a touch that shows contact: what meets needs none.
#[test]
fn metal_that_touches_fails_by_itself() {
    let (mut wrong, mut checks) = (vec![], 0);
    for ohm in [0.05, 2.0, 80.0, 900.0] {
        for (shield, shorts, posts) in [
            (None, &[(1, 2, ohm)][..], &P123[..2]),
            (Some(Drain::Landed), &[(1, 3, ohm)], &[Post::P1, Post::P3]),
            (Some(Drain::Landed), &[(1, 2, ohm), (2, 3, 0.5)], &P123),
        ] {
            let judgement = judged(&tested(with(&[], shorts), 3, shield));
            let first = &judgement.findings[0];
            let named = (first.kind, first.posts.as_slice()) == (FindingKind::ShortToMetal, posts);
            if !named || judgement.verdict != Verdict::Fail {
                wrong.push(format!("{shorts:?}: {:?}", judgement.findings));
            }
            checks += 1;
        }
    }
    expect_none("shorts to metal", checks, &wrong);
}

#[test]
fn where_the_shield_is_bonded_is_told() {
    for (ohm, drain, wanted, remark) in [
        (Some(0.3), Drain::Landed, Some(Bonded::Twice), Some(FindingKind::ShieldBondedTwice)),
        (Some(0.3), Drain::Free, Some(Bonded::ElsewhereOnly), None),
        (Some(0.3), Drain::Unsure, Some(Bonded::Elsewhere), None),
        (None, Drain::Landed, Some(Bonded::HereOnly), None),
        (None, Drain::Free, Some(Bonded::Nowhere), Some(FindingKind::ShieldNotBonded)),
        (None, Drain::Unsure, Some(Bonded::NotElsewhere), None),
        (Some(40e3), Drain::Landed, None, Some(FindingKind::ShieldPoorlyBonded)),
    ] {
        let bond: Vec<_> = ohm.iter().map(|ohm| (2, 3, *ohm)).collect();
        let judgement = judged(&tested(with(BOTH, &bond), 5, Some(drain)));
        assert_eq!(judgement.verdict, Verdict::Pass, "{ohm:?} {drain:?}: {:?}", judgement.findings);
        assert_eq!(bonded(&judgement), wanted, "{ohm:?} {drain:?}");
        let kinds: Vec<_> = judgement.findings.iter().map(|one| one.kind).collect();
        assert_eq!(kinds, Vec::from_iter(remark), "{ohm:?} {drain:?}");
    }
}

/// The clip on metal, or on the drain, touches nothing: whatever the cores meet is not seen.
#[test]
fn a_clip_that_does_not_touch_never_passes() {
    for (shield, held, posts) in [
        (None, &[][..], &[Post::P2][..]),
        (Some(Drain::Landed), &[], &[Post::P2, Post::P3]),
        (Some(Drain::Landed), &[[1, 2]], &[Post::P3]),
        (Some(Drain::Landed), &[[1, 3]], &[Post::P2]),
    ] {
        let judgement = judged(&tested(with(held, &[]), 7, shield));
        assert_eq!(judgement.verdict, Verdict::CannotTell);
        let [unshown] = judgement.findings.as_slice() else { panic!("{:?}", judgement.findings) };
        assert_eq!((unshown.cause, &unshown.posts[..]), (Some(Cause::ContactNotShown), posts));
        assert_eq!(bonded(&judgement), None);
        assert!(judgement.not_tested.contains(&NotTested::ToChassisOrShield));
        assert_eq!(judgement.misses.leak_ohm, None);
    }
    // A leak that would be a remark may be the clip's own.
    let judgement = judged(&tested(with(&[], &[(1, 2, 400e3)]), 7, None));
    assert_eq!(judgement.verdict, Verdict::CannotTell, "{:?}", judgement.findings);
}

/// Before and after: a clip may slip off, or be put on, between.
#[test]
fn contact_is_shown_before_and_after() {
    let whole = tested(sound(METAL), 9, None);
    assert_eq!(judged(&whole).verdict, Verdict::Pass, "{:?}", judged(&whole).findings);
    for left_out in 0..2 {
        let mut cut = whole.clone();
        let touches = cut.entries.iter().enumerate();
        let touches = touches.filter(|(_, entry)| matches!(entry, Entry::Touch(_)));
        let touch = touches.map(|(n, _)| n).nth(left_out).expect("two touches");
        cut.entries.remove(touch);
        assert_eq!(judged(&cut).verdict, Verdict::CannotTell, "touch {left_out}");
    }
}

/// Each pattern of the open phase in turn.
#[test]
fn what_is_lost_never_passes() {
    let whole = tested(sound(BOTH), 11, Some(Drain::Landed));
    assert_eq!(judged(&whole).verdict, Verdict::Pass, "{:?}", judged(&whole).findings);
    let of = |entry: &Entry| match entry {
        Entry::Reading(reading) => Some(reading.pattern),
        Entry::Rise(rise) => Some(rise.pattern),
        _ => None,
    };
    let patterns = whole.entries.iter().filter_map(of).max().expect("patterns");
    assert!(patterns > 80);
    for lost in 0..=patterns {
        let mut cut = whole.clone();
        cut.entries.retain(|entry| of(entry) != Some(lost));
        assert_ne!(judged(&cut).verdict, Verdict::Pass, "pattern {lost}");
    }
    for length in 0..whole.entries.len() {
        let mut cut = whole.clone();
        cut.entries.truncate(length);
        assert_ne!(judged(&cut).verdict, Verdict::Pass, "cut at {length}");
    }
}

/// Hum in the cores against earth, more and more of it: metal that touches is told all the same.
#[test]
fn hum_cannot_be_told_but_metal_can() {
    for (picofarads, verdict) in
        [(60.0, Verdict::Pass), (200.0, Verdict::CannotTell), (250.0, Verdict::CannotTell)]
    {
        let hum = |mut scene: Scene| {
            let through = Through::CoupledPf(picofarads);
            scene.source = vec![Source::alternating([1, 2], 120.0, 60.0, through)];
            judged(&tested(scene, 13, None))
        };
        let sound = hum(sound(METAL));
        assert_eq!(sound.verdict, verdict, "{picofarads} pF: {:?}", sound.findings);
        let by_hum = [FindingKind::Hum, FindingKind::ForeignVoltage];
        assert!(sound.findings.iter().any(|one| by_hum.contains(&one.kind)), "{picofarads} pF");
        let leaky = hum(with(METAL, &[(1, 2, 70e3)]));
        assert_ne!(leaky.verdict, Verdict::Pass, "{picofarads} pF: {:?}", leaky.findings);
        let short = hum(with(METAL, &[(1, 2, 0.4)]));
        assert_eq!(short.verdict, Verdict::Fail, "{picofarads} pF: {:?}", short.findings);
        assert_eq!(short.findings[0].kind, FindingKind::ShortToMetal);
    }
}

#[test]
fn what_is_clipped_otherwise_does_not_pass() {
    // A core on post 4 that meets the metal, and a drain on post 3 that was not told.
    for (a, b) in [(4, 2), (3, 2), (1, 4)] {
        let judgement = judged(&tested(with(METAL, &[(a, b, 1.0)]), 15, None));
        let other = judgement.findings.iter().any(|one| one.cause == Some(Cause::OtherPosts));
        assert!(other && judgement.verdict != Verdict::Pass, "{a} {b}: {:?}", judgement.findings);
    }
    // Of another test's capture, whole or not.
    let mut ended = measured(good_run(), 1);
    assert_eq!(judged(&ended).verdict, Verdict::Pass);
    ended.entries.insert(0, Entry::ToEarth(ToEarth { shield: None }));
    assert_eq!(judged(&ended).verdict, Verdict::CannotTell);
    let mut untold = tested(sound(METAL), 9, None);
    untold.entries.retain(|entry| !matches!(entry, Entry::ToEarth(_)));
    assert_ne!(judged(&untold).verdict, Verdict::Pass);
    let mut twice = tested(sound(METAL), 9, None);
    twice.push_to_earth(ToEarth { shield: Some(Drain::Free) });
    assert_eq!(judged(&twice).verdict, Verdict::CannotTell);
}
