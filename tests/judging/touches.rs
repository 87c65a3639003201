//! Wires that are held together tell clips, run and plug end apart, whatever is exchanged where.

use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{self as simulated, Scene};
use runproof_interpret::capture::{Capture, End, Ending, PhaseEnd};
use runproof_interpret::glance;
use runproof_interpret::judgement::{
    Cause, Finding, FindingKind, Judgement, Place, Placed, Verdict,
};
use runproof_protocol::{Event, Phase, Post};

use crate::host::Host;
use crate::measured::measured_by;
use crate::{any_passing_run, expect_none, inverse, judged, maps};

const STRAIGHT: [u8; 4] = [1, 2, 3, 4];

/// When each pair of terminals is held together at which end, in seconds of the jig's clock.
const TOUCHES: [(simulated::End, [u8; 2], f64); 8] = [
    (simulated::End::Near, [1, 3], 4.0),
    (simulated::End::Near, [1, 2], 5.0),
    (simulated::End::Near, [3, 4], 6.0),
    (simulated::End::Near, [2, 4], 7.0),
    (simulated::End::Far, [1, 3], 9.0),
    (simulated::End::Far, [1, 2], 10.0),
    (simulated::End::Far, [3, 4], 11.0),
    (simulated::End::Far, [2, 4], 12.0),
];
const KEY_OUT_S: f64 = 8.0;

/// What is on which clip: of the jig, of the run from end to end, of the plug's tail.
#[derive(Clone, Copy, Debug)]
struct Exchanged {
    clips: [u8; 4],
    run: [u8; 4],
    plug_end: [u8; 4],
}

/// Both phases, then the touches.
fn touched(scene: Scene, exchanged: Exchanged, seed: u64) -> Capture {
    touched_as(scene, exchanged, seed, TOUCHES.map(|(_, terminals, _)| terminals))
}

/// With these wires held together instead of those that are asked for.
fn touched_as(mut scene: Scene, exchanged: Exchanged, seed: u64, held: [[u8; 2]; 8]) -> Capture {
    let Exchanged { clips, run, plug_end } = exchanged;
    (scene.run.clipped_to, scene.run.arrives_at, scene.run.plugged_to) = (clips, run, plug_end);
    scene.key_out_s = KEY_OUT_S;
    let touch = |((end, _, from_s), terminals)| simulated::Touch {
        end,
        terminals,
        from_s,
        until_s: from_s + 0.8,
    };
    scene.touch = TOUCHES.into_iter().zip(held).map(touch).collect();
    let mut host = Host::on(scene, seed);
    let mut capture = measured_by(&mut host);
    for (end, terminals, from_s) in TOUCHES {
        host.listen(((from_s + 0.1) * 1e9) as u64);
        host.measure(Phase::Glance);
        let mut looked = Capture::new(capture.head.clone());
        for event in std::mem::take(&mut host.events) {
            looked.push_event(&event);
            if let Event::Done { phase, patterns } = event {
                let ending = Ending::Done { patterns: patterns.into() };
                looked.end(PhaseEnd { phase, ending });
            }
        }
        let seen = glance(&looked, Phase::Glance).expect("a glance");
        let end = if end == simulated::End::Near { End::Near } else { End::Far };
        let terminals = terminals.map(|number| Post::from_number(number).expect("a terminal"));
        let at = looked.readings(Phase::Glance).last().expect("read").at;
        capture.push_touch(seen.touch(end, terminals, at));
    }
    Capture::read(&capture.write()).expect("it is read as it was written")
}

fn posts(map: [u8; 4]) -> Option<[Post; 4]> {
    Some(map.map(|number| Post::from_number(number).expect("a post")))
}

/// One place after the other: where the first leads, the second goes on.
fn then(first: [u8; 4], second: [u8; 4]) -> [u8; 4] {
    first.map(|post| second[usize::from(post) - 1])
}

fn of_kind<'a>(judgement: &'a Judgement, kinds: &[FindingKind]) -> Vec<&'a Finding> {
    judgement.findings.iter().filter(|one| kinds.contains(&one.kind)).collect()
}

const CROSSED: [FindingKind; 2] = [FindingKind::Crossed, FindingKind::ReversedPair];

/// What is wrong with a judgement of a sound run with these exchanges.
fn wrong(judgement: &Judgement, exchanged: Exchanged, touches: usize) -> Option<String> {
    let Exchanged { clips, run, plug_end } = exchanged;
    let (near, far) = (touches >= 4, touches >= 8);
    let arrives = match (near, far) {
        (true, true) => run,
        (true, false) => then(run, plug_end),
        _ => then(inverse(clips), then(run, plug_end)),
    };
    let placed = Placed {
        clips: posts(clips).filter(|_| near),
        run: posts(run).filter(|_| near && far),
        plug_end: posts(plug_end).filter(|_| far),
    };
    let places: &[Place] = match (near, far) {
        (true, true) => &[Place::Run],
        (true, false) => &[Place::Run, Place::PlugEnd],
        _ => &[Place::Clips, Place::Run, Place::PlugEnd],
    };
    let moved_clips: Vec<Place> = [(Place::Clips, clips, near), (Place::PlugEnd, plug_end, far)]
        .into_iter()
        .filter(|(_, map, known)| *known && *map != STRAIGHT)
        .map(|(place, ..)| place)
        .collect();
    let crossed = of_kind(judgement, &CROSSED);
    let told: Vec<Place> = of_kind(judgement, &[FindingKind::ClipsExchanged])
        .iter()
        .map(|one| one.places[0])
        .collect();
    let by_terminal: Vec<Option<u8>> =
        judgement.conductors.iter().map(|one| one.reaches.map(Post::number)).collect();
    // Too few touches are enough to see that something is exchanged.
    let (is, straight) = match touches {
        0..4 => (clips, STRAIGHT),
        _ => (then(inverse(run), clips), clips),
    };
    let met = |map: [u8; 4], n: usize| {
        let [a, b] = TOUCHES[n].1.map(|wire| map[usize::from(wire) - 1]);
        [a.min(b), a.max(b)]
    };
    let mut of_this_end = touches / 4 * 4..touches;
    let unfinished = of_this_end.any(|n| met(is, n) != met(straight, n));
    let verdict = match (arrives == STRAIGHT, unfinished) {
        (false, _) => Verdict::Fail,
        (true, true) => Verdict::CannotTell,
        (true, false) => Verdict::Pass,
    };
    let right = judgement.placed == placed
        && judgement.verdict == verdict
        && by_terminal == arrives.map(Some)
        && crossed.len() == usize::from(arrives != STRAIGHT)
        && crossed.iter().all(|one| one.places == places)
        && told == moved_clips;
    (!right).then(|| {
        let Judgement { verdict, placed, findings, .. } = judgement;
        format!("{exchanged:?}, {touches} touches: {verdict:?} {placed:?} {findings:?}")
    })
}

/// At one place, or at several; nobody touches, or one touch, or near only, or both ends.
#[test]
fn what_is_exchanged_is_placed_where_wires_were_touched() {
    let mut random = Pcg32::seed_from_u64(79);
    let maps = maps();
    let mut exchanges: Vec<Exchanged> = vec![];
    let straight = Exchanged { clips: STRAIGHT, run: STRAIGHT, plug_end: STRAIGHT };
    for map in &maps {
        exchanges.push(Exchanged { clips: *map, ..straight });
        exchanges.push(Exchanged { run: *map, ..straight });
        exchanges.push(Exchanged { plug_end: *map, ..straight });
    }
    for _ in 0..36 {
        let mut any = || *maps.choose(&mut random).expect("a map");
        exchanges.push(Exchanged { clips: any(), run: any(), plug_end: any() });
    }
    let mut told = vec![];
    let mut checks = 0;
    for exchanged in exchanges {
        let seed = random.random();
        let scene = any_passing_run(&mut random, seed);
        let whole = touched(scene, exchanged, seed);
        for touches in 0..=TOUCHES.len() {
            let mut part = whole.clone();
            part.entries.truncate(whole.entries.len() - TOUCHES.len() + touches);
            told.extend(wrong(&judged(&part), exchanged, touches));
            checks += 1;
        }
    }
    expect_none("exchanges placed", checks, &told);
}

/// Whoever takes one wire for another, in one touch or by their order, clears no run that is crossed.
#[test]
fn a_slip_in_touching_clears_nothing() {
    let mut random = Pcg32::seed_from_u64(80);
    let maps: Vec<[u8; 4]> = maps().into_iter().filter(|map| *map != STRAIGHT).collect();
    let pairs = Post::PAIRS.map(|(a, b)| [a.number(), b.number()]);
    let asked = TOUCHES.map(|(_, terminals, _)| terminals);
    let (mut wrong_passes, mut checks) = (vec![], 0);
    for slip in 0..TOUCHES.len() {
        for held in pairs.into_iter().filter(|held| *held != asked[slip]) {
            let seed = random.random();
            let run = *maps.choose(&mut random).expect("a map");
            let exchanged = Exchanged { clips: STRAIGHT, run, plug_end: STRAIGHT };
            let mut instead = asked;
            instead[slip] = held;
            let scene = any_passing_run(&mut random, seed);
            let judgement = judged(&touched_as(scene, exchanged, seed, instead));
            if judgement.verdict == Verdict::Pass {
                wrong_passes.push(format!("{exchanged:?} {instead:?}: {:?}", judgement.placed));
            }
            checks += 1;
        }
    }
    expect_none("slips in touching", checks, &wrong_passes);
}

/// In another order than they were asked for: no map fits, whichever run it is.
#[test]
fn touches_in_another_order_disagree() {
    let straight = Exchanged { clips: STRAIGHT, run: STRAIGHT, plug_end: STRAIGHT };
    let mut held = TOUCHES.map(|(_, terminals, _)| terminals);
    held.swap(0, 1);
    let judgement = judged(&touched_as(crate::good_run(), straight, 3, held));
    assert_eq!(judgement.verdict, Verdict::CannotTell, "{:?}", judgement.findings);
    let causes: Vec<_> = judgement.findings.iter().map(|one| one.cause).collect();
    assert_eq!(causes, [Some(Cause::TouchesDisagree)]);
    assert_eq!(judgement.placed, Placed::default());
}
