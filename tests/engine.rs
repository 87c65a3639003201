//! The engine on the simulated board: a conversation, and what an abort leaves behind.

#[path = "support/host.rs"]
mod host;

use host::{Host, MEASURE, ends};
use runproof_firmware::boards::simulated::Scene;
use runproof_protocol::{Command, Event, Phase, Stop, VERSION};

fn scene(name: &str) -> Scene {
    Scene::built_in(name).expect("a built-in scene")
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

#[test]
fn a_phase_is_whole_and_leaves_the_run_alone() {
    let mut host = Host::on(scene("good-run"), 1);
    let nanos = host.measure();
    let patterns: Vec<u16> = host
        .events
        .iter()
        .filter_map(|event| match event {
            Event::Pattern(pattern) => Some(pattern.index),
            _ => None,
        })
        .collect();
    let count = u16::try_from(patterns.len()).expect("few patterns");
    assert_eq!(patterns, (0..count).collect::<Vec<_>>());
    assert!(host.events.contains(&Event::Done { phase: Phase::Plug, patterns: count }));
    assert!(host.jig.released());
    // Live 204 ms, relays 25, self-calibration, pre-scan and pairs by their conversions.
    assert!((540_000_000..640_000_000).contains(&nanos), "{nanos} ns");
}

#[test]
fn voltage_on_the_run_latches_until_rearmed() {
    let mut host = Host::on(scene("powered-run"), 1);
    host.measure();
    let largest = host.events.iter().find_map(|event| match event {
        Event::Hazard { largest, .. } => Some(largest.0),
        _ => None,
    });
    // 24 V rms is 33.9 V peak; a conversion averages over 1/14 of a 60 Hz cycle.
    let largest = largest.expect("a hazard");
    assert!((32_000_000..35_000_000).contains(&largest), "{largest} µV");
    assert!(host.jig.released());
    assert!(
        !host
            .events
            .iter()
            .any(|event| matches!(event, Event::Pattern(pattern) if pattern.relays_closed))
    );

    host.events.clear();
    host.send(MEASURE);
    host.listen(host.jig.now() + 50_000_000);
    assert!(host.events.iter().any(|event| matches!(event, Event::Refused { .. })));

    host.send(Command::Rearm);
    host.send(MEASURE);
    host.listen(host.jig.now() + 50_000_000);
    assert!(host.events.contains(&Event::Armed));
    assert!(host.events.contains(&Event::Started { phase: Phase::Plug }));
}

#[test]
fn an_order_and_its_abort_in_one_breath_measure_nothing() {
    let mut host = Host::on(scene("good-run"), 1);
    host.send(MEASURE);
    host.send(Command::Abort);
    host.listen(50_000_000);
    assert!(!host.events.iter().any(|event| matches!(event, Event::Started { .. })));
    host.measure();
    assert!(host.events.iter().any(|event| matches!(event, Event::Done { .. })));
}

/// At 2,000 and more evenly spaced instants of a phase: drives off and coil off at once, no transfer cut,
/// and the next phase is whole.
#[test]
fn an_abort_at_any_instant_releases_the_bench() {
    const INSTANTS: u64 = 2_020;
    let whole = Host::on(scene("good-run"), 1).measure();
    let mut aborted = 0;
    for instant in 0..INSTANTS {
        let at = whole * instant / INSTANTS;
        let mut host = Host::on(scene("good-run"), 1);
        host.send(MEASURE);
        host.listen(at.max(1));
        let over = host.events.iter().any(ends);
        aborted += u64::from(!over);
        host.send(Command::Abort);
        host.listen(host.jig.now() + 1);
        assert!(host.jig.released(), "aborted at {at} ns");
        host.listen(host.jig.now() + 5_000_000);
        let stopped = Event::Stopped { phase: Phase::Plug, reason: Stop::Aborted };
        assert!(over || host.events.contains(&stopped), "aborted at {at} ns");
        host.measure();
        let done = host.events.iter().any(|event| matches!(event, Event::Done { .. }));
        assert!(done, "aborted at {at} ns");
        assert!(host.jig.released());
        assert_eq!(host.jig.cut_transfers(), 0, "aborted at {at} ns");
    }
    println!("{aborted} aborts, each left the bench released and the bus whole");
    assert!(aborted >= 2_000, "only {aborted} instants fell into the phase");
}
