//! What a simulated jig measures of a run, as a capture.

use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::capture::{Capture, Ending, PhaseEnd, head_from};
use runproof_protocol::{Event, Phase};

use crate::host::Host;

/// Both phases, as `check` takes them.
pub(crate) fn measured(scene: Scene, seed: u64) -> Capture {
    measured_by(&mut Host::on(scene, seed))
}

/// Both phases, by a host that stays.
pub(crate) fn measured_by(host: &mut Host) -> Capture {
    phases(host, &[Phase::Open, Phase::Plug])
}

/// These phases, by a host that stays.
pub(crate) fn phases(host: &mut Host, phases: &[Phase]) -> Capture {
    let identity = runproof_firmware::identity("simulated", "");
    let head = head_from(&identity, "test").expect("a plausible jig");
    let mut capture = Capture::new(head);
    for phase in phases.iter().copied() {
        host.measure(phase);
        for event in std::mem::take(&mut host.events) {
            capture.push_event(&event);
            let ending = match event {
                Event::Done { patterns, .. } => Ending::Done { patterns: patterns.into() },
                Event::Hazard { kind, largest } => {
                    Ending::Hazard { reason: kind.to_string(), largest_v: largest.0 as f64 / 1e6 }
                }
                _ => continue,
            };
            capture.end(PhaseEnd { phase, ending });
        }
        if capture.ends(phase).any(|end| matches!(end, Ending::Hazard { .. })) {
            break; // the jig measures no more
        }
        host.listen(host.jig.now() + 150_000_000); // the plug goes in
    }
    capture
}
