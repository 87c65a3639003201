//! A lead in a fixture: the jig joins its far ends by the ring for a look and a plug phase, and leaves them open for the open phase.

use runproof_firmware::boards::simulated::{EndPlug, OpenConductor, Scene};
use runproof_interpret::{Glance, Hanging, glance, hanging};
use runproof_protocol::Phase;

use super::host::Host;
use super::measured::phases;

const ALL: [Phase; 3] = [Phase::Fixture, Phase::Plug, Phase::Open];

fn in_fixture(change: impl Fn(&mut Scene)) -> [Glance; 3] {
    let mut scene = Scene::built_in("good-run").expect("a built-in scene");
    scene.plug = EndPlug::Switched;
    scene.run.length_m = 1.7;
    change(&mut scene);
    let mut host = Host::on(scene, 7);
    let capture = phases(&mut host, &ALL);
    assert!(host.jig.released(), "the ring's coil rests with the others");
    let held = hanging(&capture, Phase::Open);
    assert!(held.iter().all(|post| matches!(post, Hanging::Picofarads(_))), "{held:?}");
    ALL.map(|phase| glance(&capture, phase).expect("whole"))
}

#[test]
fn the_ring_is_in_for_looks_and_plug_phases_alone() {
    let [look, plug, open] = in_fixture(|_| {});
    assert_eq!((look.joined(), plug.joined()), ([true; 6], [true; 6]));
    assert!(look.like(&plug));
    assert_eq!(open.joined(), [false; 6]);
}

#[test]
fn an_empty_fixture_shows_no_ring() {
    let empty = |scene: &mut Scene| {
        scene.run.open.extend((1..=4).map(|post| OpenConductor { post, at: 0.0 }));
    };
    assert!(in_fixture(empty).iter().all(|seen| seen.joined() == [false; 6]));
}
