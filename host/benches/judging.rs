//! How fast a capture is judged, by what is wrong with the run: measured once on the simulated jig.

#[path = "../../tests/support/host.rs"]
mod host;

use std::hint::black_box;

use criterion::Criterion;
use host::Host;
use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::capture::{Capture, Ending, PhaseEnd, head_from};
use runproof_interpret::{LimitSheet, RunKnowledge, judge};
use runproof_protocol::{Event, Phase};

const SCENES: [&str; 6] =
    ["good-run", "crossed-supply", "cut-common", "corroded-splice", "damp-splice", "staple-short"];

/// Until the plug of these scenes is in.
const PLUGGED_NANOS: u64 = 150_000_000;

fn measured(scene: &str) -> Capture {
    let mut host = Host::on(Scene::built_in(scene).expect("built in"), 1);
    let identity = runproof_firmware::identity("simulated", "");
    let mut capture = Capture::new(head_from(&identity, "bench").expect("plausible"));
    for phase in [Phase::Open, Phase::Plug] {
        host.measure(phase);
        for event in std::mem::take(&mut host.events) {
            capture.push_event(&event);
            if let Event::Done { patterns, .. } = event {
                let ending = Ending::Done { patterns: patterns.into() };
                capture.end(PhaseEnd { phase, ending });
            }
        }
        host.listen(host.jig.now() + PLUGGED_NANOS);
    }
    capture
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let (sheet, known) = (LimitSheet::service_24vac(), RunKnowledge::default());
    for scene in SCENES {
        let capture = measured(scene);
        let text = capture.write();
        criterion.bench_function(&format!("judge {scene}"), |bencher| {
            bencher.iter(|| judge(black_box(&capture), &sheet, &known));
        });
        criterion.bench_function(&format!("read {scene}"), |bencher| {
            bencher.iter(|| Capture::read(black_box(&text)));
        });
    }
    criterion.final_summary();
}
