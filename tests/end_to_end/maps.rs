//! Wire maps that say more than who arrives where.

use std::fs;

use crate::program::{folder, runproof};

/// What is said of a run under this map, on one line.
fn told(clipped_to: [u8; 4], plugged_to: [u8; 4]) -> String {
    let file = folder(&format!("map-{clipped_to:?}-{plugged_to:?}")).join("run.toml");
    let (_, good_run) = runproof_firmware::boards::simulated::BUILT_IN[0];
    let clips = format!("[run]\nclipped_to = {clipped_to:?}\nplugged_to = {plugged_to:?}\n");
    fs::write(&file, good_run.replace("[run]\n", &clips)).expect("written");
    let ran = runproof(&["check", "--simulate", file.to_str().expect("UTF-8")]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

const STRAIGHT: [u8; 4] = [1, 2, 3, 4];

#[test]
fn clips_that_are_all_on_wrong_together_are_named_at_either_end() {
    for (map, said) in [
        ([4, 3, 2, 1], "at one end are on upside down"),
        ([2, 3, 4, 1], "at one end all sit one wire too far"),
        ([4, 1, 2, 3], "at one end all sit one wire too far"),
    ] {
        for told in [told(map, STRAIGHT), told(STRAIGHT, map)] {
            assert!(told.contains(said), "{map:?}: {told}");
        }
    }
    let other = told([2, 1, 4, 3], STRAIGHT);
    assert!(!other.contains("at one end are") && !other.contains("at one end all"), "{other}");
}

/// Whichever end the supply is fed in at, it would stand on a data terminal at the other.
#[test]
fn a_supply_that_would_reach_data_is_a_danger_from_either_end() {
    for map in [[2, 3, 4, 1], [4, 1, 2, 3], [4, 2, 3, 1]] {
        let told = told(map, STRAIGHT);
        assert!(told.contains("DANGER do not power up"), "{told}");
        assert!(told.contains("the supply would reach a data terminal"), "{told}");
    }
    let told = told([1, 2, 4, 3], STRAIGHT);
    assert!(told.contains("across terminals that are not meant for it"), "{told}");
}
