//! How fast a capture is judged, by what is wrong with the run: measured once on the simulated jig.

#[path = "../../tests/support/host.rs"]
mod host;
#[path = "../../tests/support/measured.rs"]
mod measured;

use std::hint::black_box;

use criterion::Criterion;
use measured::measured;
use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::capture::Capture;
use runproof_interpret::{LimitSheet, RunKnowledge, judge};

const SCENES: [&str; 6] =
    ["good-run", "crossed-supply", "cut-common", "corroded-splice", "damp-splice", "staple-short"];

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let (sheet, known) = (LimitSheet::service_24vac(), RunKnowledge::default());
    for scene in SCENES {
        let capture = measured(Scene::built_in(scene).expect("built in"), 1);
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
