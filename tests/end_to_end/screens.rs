//! What is printed fits a terminal of 80 columns, whatever the run.

use crate::program::runproof;

fn fits(arguments: &[&str]) {
    let ran = runproof(arguments);
    for line in ran.out.lines().chain(ran.err.lines()) {
        assert!(line.chars().count() <= 80, "{arguments:?}: {line}");
    }
}

#[test]
fn every_scene_fits_80_columns() {
    let colours = "data+=white,data-=green striped,common=brown,supply=dark red";
    let told = [
        &[][..],
        &["--touch", "always", "--near-colours", colours, "--units", "metric"],
        &["--yes", "--gauge", "18awg", "--length", "30m", "--cannot-lift", "near"],
        &["--yes", "--sheet", "acceptance-24vac", "--gauge", "14awg"],
        &["--yes", "--sheet", "made-up-lead"],
    ];
    for (scene, _) in runproof_firmware::boards::simulated::BUILT_IN {
        for told in told {
            fits(&[&["check", "--simulate", scene], told].concat());
        }
    }
}

#[test]
fn lists_fit_80_columns() {
    fits(&["scenes"]);
    fits(&["limits"]);
    for (name, _) in runproof_interpret::limits::BUILT_IN {
        fits(&["limits", name]);
        fits(&["limits", name, "--units", "metric"]);
    }
}
