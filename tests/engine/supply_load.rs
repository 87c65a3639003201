//! The load for a live run's supply: put on where the supply bears it, and off again whatever happens.

use runproof_firmware::boards::simulated::{Scene, Through};
use runproof_protocol::{
    Command, Drive, Event, Input, Pattern, Phase, Range, Reading, Refusal, Step, Stop, VERSION,
};

use crate::host::{Host, order};
use crate::scene;

/// A run of no length to speak of, so that all the resistance is the source's.
fn supply(ohm: f64) -> Scene {
    let mut scene = scene("powered-run");
    scene.run.length_m = 0.01;
    scene.source[0].through = Through::Ohm(ohm);
    scene
}

/// What stands behind R₀ and sees R₁ gives R₁/(R₀ + R₁) of its voltage: Ohm's law, by hand. 181.5 Ω ± 5 %.
#[test]
fn a_source_gives_way_by_its_resistance() {
    for ohm in [1.0, 20.0, 60.0] {
        let mut scene = supply(ohm);
        (scene.source[0].volts_rms, scene.source[0].direct_v) = (0.0, 24.0);
        let mut host = Host::on(scene, 1);
        host.measure(Phase::Live);
        let alone_v = mean_v(&host, Step::LiveLoaded);
        host.measure(Phase::SupplyLoad);
        assert!(host.events.contains(&Event::Done { phase: Phase::SupplyLoad, patterns: 3 }));
        let patterns: Vec<_> = patterns(&host).collect();
        let steps = patterns.iter().map(|pattern| pattern.step);
        assert!(steps.eq([Step::Live, Step::SupplyLoaded, Step::SupplyLoaded]));
        let off = |pattern: &&&Pattern| pattern.drives == [Drive::Off; 4] && !pattern.relays_closed;
        assert!(patterns.iter().all(|pattern| off(&pattern)));
        let left = mean_v(&host, Step::SupplyLoaded) / alone_v;
        let [least, most] = [172.4, 190.6].map(|load| load / (load + ohm));
        assert!((least - 0.001..=most + 0.001).contains(&left), "{ohm} Ω: {left}");
        assert!(host.jig.released());
    }
}

/// 30 V of a sine is 42.4 V at its peak and is loaded; 36 V is 50.9 V and is not, nor is mains.
#[test]
fn too_much_is_not_loaded() {
    for (volts_rms, patterns) in [(30.0, 3), (36.0, 1), (120.0, 1), (277.0, 1)] {
        let mut scene = supply(1.0);
        scene.source[0].volts_rms = volts_rms;
        let mut host = Host::on(scene, 1);
        host.measure(Phase::SupplyLoad);
        let done = Event::Done { phase: Phase::SupplyLoad, patterns };
        assert!(host.events.contains(&done), "{volts_rms} V: {:?}", host.events.last());
    }
}

/// It is told beforehand, and refused.
#[test]
fn a_jig_without_the_load_says_so() {
    let mut scene = supply(1.0);
    scene.jig.supply_load = false;
    for (scene, fitted) in [(supply(1.0), true), (scene, false)] {
        let mut host = Host::on(scene, 1);
        host.send(Command::Hello { version: VERSION, nonce: 1 });
        host.send(Command::Identify);
        host.listen(10_000_000);
        let told = host.events.iter().filter_map(|event| match event {
            Event::Hello { capabilities, .. } => Some(capabilities.supply_load),
            Event::Identity(identity) => Some(identity.supply_load.0 == 181_500),
            _ => None,
        });
        assert_eq!(told.collect::<Vec<_>>(), [fitted; 2]);
        host.events.clear();
        host.send(order(Phase::SupplyLoad));
        host.listen(host.jig.now() + 400_000_000);
        let (phase, reason) = (Phase::SupplyLoad, Refusal::NotCapable);
        let refused = host.events.contains(&Event::Refused { phase, reason });
        assert_eq!(refused, !fitted);
    }
}

/// Abort, and a host that takes nothing any more: the load is off at once, and after the half second that a
/// host may be silent.
#[test]
fn the_load_is_off_whatever_happens() {
    for begun_ms in [5, 30, 50, 60, 80, 100] {
        let mut host = Host::on(supply(1.0), 1);
        host.send(order(Phase::SupplyLoad));
        host.listen(begun_ms * 1_000_000);
        host.send(Command::Abort);
        host.listen(host.jig.now() + 1_000_000);
        assert!(host.jig.released(), "{begun_ms} ms");
        let stopped = Event::Stopped { phase: Phase::SupplyLoad, reason: Stop::Aborted };
        assert!(host.events.contains(&stopped), "{begun_ms} ms");
    }
    let mut host = Host::on(supply(1.0), 1);
    host.measure(Phase::Live); // its events fill what the jig has room for
    host.send(order(Phase::SupplyLoad));
    host.jig.idle(1_000_000_000);
    assert!(host.jig.released());
}

fn patterns(host: &Host) -> impl Iterator<Item = &Pattern> {
    host.events.iter().filter_map(|event| match event {
        Event::Pattern(pattern) => Some(pattern),
        _ => None,
    })
}

/// Between posts 4 and 3.
fn mean_v(host: &Host, step: Step) -> f64 {
    let supply =
        |reading: &&Reading| reading.channel.input == Input::P3P4 && reading.range == Range::V2;
    let of_step = patterns(host).filter(|pattern| pattern.step == step);
    let readings = of_step.flat_map(|pattern| &pattern.readings).filter(supply);
    let volts: Vec<f64> = readings.map(|one| -one.volts() * 4_522.0 / 22.0).collect();
    assert!(volts.len() >= 16, "{step:?}: {} readings", volts.len());
    volts.iter().sum::<f64>() / volts.len() as f64
}
