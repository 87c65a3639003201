//! An end that could not be lifted: nothing passes, and only what it cannot feign fails.

use serde_json::json;

use crate::program::{Ran, runproof};

fn checked(scene: &str, more: &[&str]) -> Ran {
    let check = ["check", "--simulate", scene, "--yes", "--cannot-lift", "far"];
    runproof(&[&check[..], more].concat())
}

#[test]
fn no_scene_passes() {
    for (scene, _) in runproof_firmware::boards::simulated::BUILT_IN {
        for seed in ["1", "2"] {
            let ran = checked(scene, &["--json", "--seed", seed]);
            let result = ran.json();
            assert!(matches!(ran.status, 1 | 2), "{scene} {seed}: {}", ran.out);
            for conductor in result["conductors"].as_array().expect("a list") {
                assert_ne!(conductor["verdict"], "pass", "{scene} {seed}");
            }
            let feigned = ["short", "leakage"].map(|kind| json!(kind));
            let findings = result["findings"].as_array().expect("a list");
            assert!(findings.iter().all(|one| !feigned.contains(&one["kind"])), "{findings:?}");
        }
    }
}

#[test]
fn what_survives_is_still_said() {
    for (scene, kind) in [
        ("open-supply", "open"),
        ("reversed-pair", "reversed-pair"),
        ("corroded-splice", "high-resistance"),
    ] {
        let ran = checked(scene, &["--json"]);
        assert_eq!(ran.status, 1, "{scene}: {}", ran.out);
        assert_eq!(ran.json()["findings"][0]["kind"], kind, "{scene}");
    }
    let ran = checked("good-run", &[]);
    let result = checked("good-run", &["--json"]).json();
    assert!(ran.out.starts_with("CANNOT TELL: one end is not lifted."), "{}", ran.out);
    assert_eq!(result["told"]["cannot_lift"], "far");
    assert_eq!(result["misses"], json!({"joint_ohm": null, "leak_ohm": null}));
    let ran = checked("staple-short", &[]);
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(ran.out.contains("a fault, or what hangs on"), "{}", ran.out);
    let both = ["check", "--simulate", "good-run", "--lifted", "--cannot-lift", "near"];
    assert_eq!(runproof(&both).status, 64);
}

/// Neither on the way nor in the result.
#[test]
fn nobody_is_asked_to_lift_what_cannot_be_lifted() {
    let asked = |end: &str, scene: &str| {
        let ran = runproof(&["check", "--simulate", scene, "--cannot-lift", end]);
        (ran.err + &ran.out).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for (end, place) in [("near", "1 here"), ("far", "2 far end")] {
        let told = asked(end, "good-run");
        assert_eq!(told.matches("Then lift the wires.").count(), 1, "{told}");
        let (_, step) = told.split_once(place).expect("its step");
        let (step, _) = step.split_once(" 3 far end").expect("another step");
        let step = step.split_once(" 2 far end").map_or(step, |(first, _)| first);
        assert!(step.ends_with("Leave the wires where they are, as this end cannot be lifted."));
    }
    assert!(asked("near", "plug-left-in").contains("lift all wires at the far end, and wait"));
    assert!(asked("far", "plug-left-in").contains("lift all wires here, and wait"));
    for (scene, _) in runproof_firmware::boards::simulated::BUILT_IN {
        let told = asked("far", scene);
        for wrong in ["lift both ends", "lift all wires at both", "that both are lifted"] {
            assert!(!told.contains(wrong), "{scene}: {told}");
        }
    }
}

/// Whoever reads the result later must know that it rests on what a person saw.
#[test]
fn a_result_says_that_both_ends_were_seen_to_be_lifted() {
    for (lifted, told) in [(false, &[][..]), (true, &["--lifted"])] {
        let check = ["check", "--simulate", "transformer-landed", "--yes"];
        let ran = runproof(&[&check[..], told].concat());
        assert_eq!(ran.out.contains("told           both ends were seen to be lifted"), lifted);
        let result = runproof(&[&check[..], told, &["--json"]].concat()).json();
        assert_eq!(result["told"]["lifted"], json!(lifted));
    }
}
