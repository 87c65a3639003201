//! A simulated jig's zero.

use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::capture::Zero;
use runproof_interpret::{NoZero, zero};
use runproof_protocol::Phase;

use crate::host::Host;
use crate::measured::phases;

/// Of the jig of this seed when it was so warm: the tail on its clips, as they bit that time.
pub(crate) fn zeroed(seed: u64, celsius: f64) -> Result<Zero, NoZero> {
    let mut scene = Scene::built_in("tail-on-clips").expect("it is built in");
    scene.jig.celsius = celsius;
    scene.jig.plug_celsius = celsius;
    let mut capture = phases(&mut Host::on(scene, seed), &[Phase::Plug]);
    capture.head.taken_unix_s = Some(0);
    zero(&capture)
}
