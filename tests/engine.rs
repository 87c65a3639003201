//! The engine on the simulated board: a conversation, and what an abort or a hazard leaves behind.

#[path = "engine/alone.rs"]
mod alone;
#[path = "engine/far_lights.rs"]
mod far_lights;
#[path = "engine/flex.rs"]
mod flex;
#[path = "support/host.rs"]
mod host;
#[path = "engine/live.rs"]
mod live;

#[path = "engine/supply_load.rs"]
mod supply_load;

use host::{Host, ends, order};
use runproof_firmware::boards::simulated::{
    EndPlug, Followers, Scene, SimulatedJig, Source, Through,
};
use runproof_firmware::watch::Watch;
use runproof_protocol::records::{self, KeptPlug};
use runproof_protocol::{
    Command, Edge, Event, Fault, HazardKind, Input, Key, Microseconds, Microvolts, Milliohms,
    NotKept, Phase, Plug, Post, Reading, Record, Step, Stop, VERSION,
};

const PHASES: [Phase; 2] = [Phase::Open, Phase::Plug];

fn scene(name: &str) -> Scene {
    Scene::built_in(name).expect("a built-in scene")
}

/// A good run; the plug is in if the phase wants it in.
fn ready_for(phase: Phase) -> Scene {
    let plug = if phase == Phase::Plug { EndPlug::In } else { EndPlug::Out };
    Scene { plug, ..scene("good-run") }
}

fn done(host: &Host) -> bool {
    host.events.iter().any(|event| matches!(event, Event::Done { .. }))
}

/// When a phase switches the relays' coil on; the load was on before, and off again.
fn closing(phase: Phase) -> u64 {
    let mut host = Host::on(ready_for(phase), 1);
    host.send(order(phase));
    loop {
        host.listen(host.jig.now() + 100_000);
        let first = host.events.iter().find_map(|event| match event {
            Event::Pattern(pattern) if pattern.relays_closed => pattern.readings.first(),
            _ => None,
        });
        if let Some(first) = first {
            return first.at.0 * 1_000 - 31_600_000; // less both relays' contacts, and the pattern's settling
        }
    }
}

fn hazard(host: &Host) -> Option<(HazardKind, i64)> {
    host.events.iter().find_map(|event| match event {
        Event::Hazard { kind, largest } => Some((*kind, largest.0)),
        _ => None,
    })
}

#[test]
fn hello_comes_back_with_its_nonce() {
    let mut host = Host::on(scene("good-run"), 1);
    host.send(Command::Hello { version: VERSION, nonce: 4_711 });
    host.send(Command::Identify);
    host.listen(10_000_000);
    let hello = host.events.iter().find(|event| matches!(event, Event::Hello { .. }));
    assert!(matches!(hello, Some(Event::Hello { version: VERSION, nonce: 4_711, .. })));
    let identity = host.events.iter().find_map(|event| match event {
        Event::Identity(identity) => Some(identity),
        _ => None,
    });
    assert_eq!(identity.expect("an identity").board, "simulated");
}

/// Live and loaded 330 ms, relays 25; then the conversions, 570 ms for leakage
/// and 160 for rises with the plug out.
#[test]
fn a_phase_is_whole_and_leaves_the_run_alone() {
    for (phase, patterns, milliseconds) in [
        (Phase::Open, 86, 1_450..1_700),
        (Phase::Plug, 50, 640..740),
        (Phase::Glance, 10, 180..220),
        (Phase::Live, 12, 320..350),
        (Phase::LiveZero, 84, 1_300..1_550),
        (Phase::SupplyLoad, 3, 100..115),
        (Phase::Fixture, 14, 280..330),
    ] {
        let mut host = Host::on(ready_for(phase), 1);
        let nanos = host.measure(phase);
        let indices: Vec<u16> = host
            .events
            .iter()
            .filter_map(|event| match event {
                Event::Pattern(pattern) => Some(pattern.index),
                Event::Rise(rise) => Some(rise.index),
                _ => None,
            })
            .collect();
        assert_eq!(indices, (0..patterns).collect::<Vec<_>>());
        assert!(host.events.contains(&Event::Done { phase, patterns }));
        assert!(host.jig.released());
        assert!(milliseconds.contains(&(nanos / 1_000_000)), "{phase:?}: {nanos} ns");
    }
}

/// The plug, once in, is not put in again.
#[test]
fn an_open_phase_can_follow_a_plug_phase() {
    let mut host = Host::on(scene("good-run"), 1);
    for phase in [Phase::Open, Phase::Plug, Phase::Open, Phase::Plug] {
        host.events.clear();
        host.measure(phase);
        assert!(done(&host), "{phase:?}: {:?}", host.events.last());
        host.jig.idle(200_000_000);
    }
}

#[test]
fn voltage_on_the_run_latches_until_rearmed() {
    let mut host = Host::on(scene("powered-run"), 1);
    host.measure(Phase::Open);
    // 24 V rms is 33.9 V peak; a conversion averages over 1/14 of a 60 Hz cycle.
    let (kind, largest) = hazard(&host).expect("a hazard");
    assert_eq!(kind, HazardKind::BeforeClosing);
    assert!((32_000_000..35_000_000).contains(&largest), "{largest} µV");
    assert!(host.jig.released());
    let closed = |event: &Event| matches!(event, Event::Pattern(pattern) if pattern.relays_closed);
    assert!(!host.events.iter().any(closed));

    host.events.clear();
    host.send(order(Phase::Plug));
    host.listen(host.jig.now() + 50_000_000);
    assert!(host.events.iter().any(|event| matches!(event, Event::Refused { .. })));

    host.send(Command::Rearm);
    host.send(order(Phase::Plug));
    host.listen(host.jig.now() + 50_000_000);
    assert!(host.events.contains(&Event::Armed));
    assert!(host.events.contains(&Event::Started { phase: Phase::Plug }));
}

/// The operator who sent it could not know of what was seen after it.
#[test]
fn a_rearm_during_a_measurement_clears_no_later_hazard() {
    let mut host = Host::on(scene("powered-run"), 1);
    host.send(order(Phase::Open));
    host.listen(1_000_000);
    host.send(Command::Rearm);
    host.listen(600_000_000);
    assert!(hazard(&host).is_some());
    assert!(!host.events.contains(&Event::Armed));
    host.send(order(Phase::Open));
    host.listen(host.jig.now() + 50_000_000);
    assert!(host.events.iter().any(|event| matches!(event, Event::Refused { .. })));
}

/// More than 5 V that only couples in from a cable alongside collapses under the load: the jig goes on.
#[test]
fn coupled_voltage_is_no_hazard() {
    let mut ghost = scene("ghost-voltage");
    ghost.run.pf_per_m = 15.0;
    ghost.source[0].through = Through::CoupledPf(40.0);
    let mut host = Host::on(ghost, 1);
    host.measure(Phase::Open);
    assert!(done(&host), "{:?}", host.events.last());
    let largest_code = |step| {
        let patterns = host.events.iter().filter_map(|event| match event {
            Event::Pattern(pattern) if pattern.step == step => Some(pattern),
            _ => None,
        });
        let between = |one: &&Reading| one.channel.input != Input::P4;
        let codes = patterns.flat_map(|pattern| &pattern.readings).filter(between);
        let codes = codes.map(|one| one.code.abs());
        codes.max().expect("readings")
    };
    let (alone, loaded) = (largest_code(Step::Live), largest_code(Step::LiveLoaded));
    assert!(alone > 30 * loaded && alone > 800, "{alone} and {loaded} codes");
}

/// A watch that sees one post stand still.
struct Blind {
    followers: Followers,
    post: Post,
}

impl Watch for Blind {
    fn prepare(&self) {
        self.followers.prepare();
    }

    fn begin(&self) {
        self.followers.begin();
    }

    fn end(&self) -> Option<Microvolts> {
        self.followers.end()
    }

    fn rearm(&self) {
        self.followers.rearm();
    }

    async fn tripped(&self) -> Microvolts {
        self.followers.tripped().await
    }

    fn observe(&self) {
        self.followers.observe();
    }

    fn observed(&self) -> [Microvolts; 4] {
        let mut posts = self.followers.observed();
        posts[self.post.index()] = Microvolts(0);
        posts
    }

    fn between(&self) -> u8 {
        self.followers.between() & !(1 << self.post.index())
    }

    fn catch(&self) {
        self.followers.catch();
    }

    fn caught(&self, now: Microseconds, first: bool) -> Option<Edge> {
        self.followers.caught(now, first)
    }

    fn dropped(&self) -> u16 {
        self.followers.dropped()
    }
}

#[test]
fn nothing_is_measured_with_a_watch_that_is_blind() {
    for phase in PHASES {
        for post in Post::ALL {
            let blind = |followers| Blind { followers, post };
            let mut host = Host::at(SimulatedJig::watched(ready_for(phase), 1, blind));
            host.measure(phase);
            let reason = Stop::Fault(Fault::WatchBlind(post));
            assert_eq!(host.events.last(), Some(&Event::Stopped { phase, reason }));
            assert!(host.jig.released());
            let unequal = |event: &Event| match event {
                Event::Pattern(pattern) => {
                    pattern.drives.iter().any(|one| *one != pattern.drives[0])
                }
                _ => false,
            };
            assert!(!host.events.iter().any(unequal));
        }
    }
}

#[test]
fn an_order_and_its_abort_in_one_breath_measure_nothing() {
    let mut host = Host::on(ready_for(Phase::Plug), 1);
    host.send(order(Phase::Plug));
    host.send(Command::Abort);
    host.listen(50_000_000);
    assert!(!host.events.iter().any(|event| matches!(event, Event::Started { .. })));
    host.measure(Phase::Plug);
    assert!(done(&host));
}

/// A host that reads nothing: the outbox fills, the jig lets go and stops by itself.
#[test]
fn a_host_that_does_not_read_does_not_hold_the_relays() {
    for phase in PHASES {
        let mut host = Host::on(ready_for(phase), 1);
        host.send(order(phase));
        host.listen(500_000_000); // the relays are closed
        assert!(!host.jig.released());
        let end = host.jig.now() + 4_000_000_000;
        while host.jig.now() < end {
            host.jig.idle(1_000_000);
        }
        assert!(host.jig.released(), "{phase:?}");
        host.listen(host.jig.now() + 100_000_000);
        let stopped = Event::Stopped { phase, reason: Stop::HostSilent };
        assert!(host.events.contains(&stopped), "{phase:?}: {:?}", host.events.last());
    }
}

/// At 2,000 and more evenly spaced instants of a whole check: drives off and coils off at once, no
/// transfer cut, what was read so far stays, and the next phase is whole.
#[test]
fn an_abort_at_any_instant_releases_the_bench() {
    const INSTANTS: u64 = 1_010; // of each phase
    let mut aborted = 0;
    for phase in PHASES {
        let whole = Host::on(ready_for(phase), 1).measure(phase);
        for instant in 0..INSTANTS {
            let at = whole * instant / INSTANTS;
            let mut host = Host::on(ready_for(phase), 1);
            host.send(order(phase));
            host.listen(at.max(1));
            let over = host.events.iter().any(ends);
            aborted += u64::from(!over);
            host.send(Command::Abort);
            host.listen(host.jig.now() + 1);
            assert!(host.jig.released(), "aborted at {at} ns");
            host.listen(host.jig.now() + 5_000_000);
            let stopped = Event::Stopped { phase, reason: Stop::Aborted };
            assert!(over || host.events.contains(&stopped), "aborted at {at} ns");
            host.measure(Phase::Glance);
            assert!(done(&host), "aborted at {at} ns");
            assert!(host.jig.released());
            assert_eq!(host.jig.cut_transfers(), 0, "aborted at {at} ns");
        }
    }
    println!("{aborted} aborts, each left the bench released and the bus whole");
    assert!(aborted >= 2_000, "only {aborted} instants fell into the phases");
}

/// The supply comes on at 2,000 and more evenly spaced instants of a whole check. While the relays are
/// closed the bench is released by the third look of the watch, 100 µs apart, that sees 5 V at a
/// post: 24 VAC at 60 Hz, half of it at either post, which the drives may move by 1.65 V, is below that for
/// 2.14 ms around its zero, of which one look may just have been too early. The watch begins before the
/// relays' coil is on.
#[test]
fn voltage_at_any_instant_releases_the_bench_and_latches() {
    const INSTANTS: u64 = 1_010; // of each phase
    const WITHIN_NANOS: u64 = 400_000 + 2_140_000;
    let (mut while_closed, mut before, mut unseen) = (0, 0, 0);
    for phase in PHASES {
        let whole = Host::on(ready_for(phase), 1).measure(phase);
        let watched_from = closing(phase);
        for instant in 0..INSTANTS {
            let from_nanos = whole * instant / INSTANTS;
            let mut live = ready_for(phase);
            let source = Source::alternating([4, 3], 24.0, 60.0, Through::Ohm(1.5));
            live.source = vec![Source { from_s: from_nanos as f64 * 1e-9, ..source }];
            let mut host = Host::on(live, 1);
            host.send(order(phase));
            host.listen(from_nanos.max(1));
            let closed = !host.jig.released();
            host.listen(from_nanos.max(watched_from) + WITHIN_NANOS);
            let tripped = host.jig.released();
            host.listen(whole + 100_000_000);
            assert!(host.jig.released(), "live from {from_nanos} ns");
            match hazard(&host) {
                Some((HazardKind::WhileClosed, _)) => {
                    assert!(!closed || tripped, "live from {from_nanos} ns");
                    while_closed += 1;
                }
                Some((HazardKind::BeforeClosing, _)) => before += 1,
                // The phase was over before the voltage was there to be seen.
                None => {
                    assert!(
                        done(&host) && from_nanos + WITHIN_NANOS > whole - 2_000_000,
                        "{from_nanos} ns"
                    );
                    unseen += 1;
                    continue;
                }
            }
            assert!(!done(&host), "live from {from_nanos} ns");
            host.send(order(phase));
            host.listen(host.jig.now() + 10_000_000);
            let refused = |event: &Event| matches!(event, Event::Refused { .. });
            assert!(host.events.iter().any(refused), "live from {from_nanos} ns");
        }
    }
    println!("{while_closed} while closed, {before} before closing, {unseen} at the very end");
    assert!(while_closed + before >= 2_000, "only {while_closed} and {before}");
}

fn name(text: &str) -> Command {
    let name: records::Name = text.parse().expect("short");
    Command::Keep { key: Key::Name, record: records::written(&name).expect("fits") }
}

fn not_kept(host: &Host) -> Option<NotKept> {
    host.events.iter().find_map(|event| match event {
        Event::NotKept { reason, .. } => Some(*reason),
        _ => None,
    })
}

fn answers(host: &mut Host, command: Command) -> Event {
    host.events.clear();
    host.send(command);
    host.listen(host.jig.now() + 20_000_000);
    let answers = host.events.drain(..).filter(|event| !matches!(event, Event::Heartbeat { .. }));
    let [answer] = <[Event; 1]>::try_from(answers.collect::<Vec<_>>()).expect("one answer");
    answer
}

/// While anything may be driven, and while a hazard is latched, the flash rests.
#[test]
fn nothing_is_kept_while_a_run_is_measured_or_live() {
    let mut host = Host::on(ready_for(Phase::Plug), 1);
    host.send(order(Phase::Plug));
    host.listen(host.jig.now() + 400_000_000);
    host.send(name("no"));
    host.send(Command::Recall { key: Key::Name });
    host.listen(host.jig.now() + 20_000_000);
    assert!(!done(&host), "it is still measured");
    assert_eq!(not_kept(&host), Some(NotKept::Measuring));
    host.send(Command::Abort);
    host.listen(host.jig.now() + 20_000_000);
    assert_eq!(answers(&mut host, name("yes")), Event::Kept { key: Key::Name });

    let mut host = Host::on(scene("powered-run"), 1);
    host.measure(Phase::Open);
    assert!(hazard(&host).is_some());
    let refused = Event::NotKept { key: Key::Name, reason: NotKept::HazardLatched };
    assert_eq!(answers(&mut host, name("no")), refused);
    assert_eq!(answers(&mut host, Command::Rearm), Event::Armed);
    assert_eq!(answers(&mut host, name("yes")), Event::Kept { key: Key::Name });
}

#[test]
fn a_stored_plug_is_the_one_that_the_jig_tells() {
    let told = |host: &mut Host| match answers(host, Command::Identify) {
        Event::Identity(identity) => identity,
        other => panic!("{other:?}"),
    };
    let mut host = Host::on(scene("good-run"), 1);
    let nominal = told(&mut host);
    let ring = [33_210, 47_490, 68_100, 150_000].map(Milliohms);
    let plug = Plug { ring, tolerance_ppm: 500 };
    let kept = KeptPlug { name: "B".parse().expect("short"), plug };
    let record = records::written(&kept).expect("fits");
    let keep = |record| Command::Keep { key: Key::Plug, record };
    assert_eq!(answers(&mut host, keep(record.clone())), Event::Kept { key: Key::Plug });
    assert_eq!(told(&mut host).plug, plug);
    let recall = Command::Recall { key: Key::Plug };
    assert_eq!(
        answers(&mut host, recall),
        Event::Recalled { key: Key::Plug, record: record.clone() }
    );
    let cut = Record::from_slice(&record[..record.len() - 1]).expect("fits");
    let refused = Event::NotKept { key: Key::Plug, reason: NotKept::NotARecord };
    assert_eq!(answers(&mut host, keep(cut)), refused);
    assert_eq!(told(&mut host).plug, plug);
    assert_eq!(answers(&mut host, keep(Record::new())), Event::Kept { key: Key::Plug });
    assert_eq!(told(&mut host), nominal);
}
