//! A broken conductor, measured from both ends of its run.

use std::fs;

use crate::program::{folder, runproof};

/// The open supply of the built-in scene, with the jig at the end from which the break is at `at`;
/// saved as a capture.
fn captured(name: &str, at: f64) -> String {
    let folder = folder(&format!("other-end-{name}"));
    let scene = folder.join("scene.toml");
    let text = format!(
        "about = \"a break\"\nplug = \"goes-in\"\n[run]\nlength_m = 30.0\nohm_per_km = 20.95\n\
         copper_c = 20.0\narrives_at = [1, 2, 3, 4]\n[[run.open]]\npost = 4\nat = {at}\n"
    );
    fs::write(&scene, text).expect("written");
    let saved = folder.join("capture.jsonl").to_str().expect("UTF-8").to_owned();
    let scene = scene.to_str().expect("UTF-8");
    let ran = runproof(&["check", "--simulate", scene, "--save", &saved, "--yes"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    saved
}

#[test]
fn a_break_is_placed_by_both_its_pieces() {
    let (here, there) = (captured("here", 0.3), captured("there", 0.7));
    let judged = ["judge", &here, "--length", "100ft", "--other-end", &there];
    let ran = runproof(&judged);
    let told = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("30 % of the way along (29 to 31 %), by both its pieces: 30 ft"),
        "{told}"
    );
    let json = runproof(&[&judged[..], &["--json"]].concat()).json();
    assert_eq!(json["findings"][0]["location"]["by"], "both-ends");
}

#[test]
fn a_capture_that_does_not_help_is_told() {
    let here = captured("alone", 0.3);
    let ran = runproof(&["judge", &here, "--other-end", &here]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("other end      of no use here"), "{}", ran.out);
    let good = folder("other-end-good").join("capture.jsonl");
    let good = good.to_str().expect("UTF-8");
    assert_eq!(runproof(&["check", "--simulate", "good-run", "--yes", "--save", good]).status, 0);
    for (file, said) in
        [(good, "not just one of its conductors is open"), ("no-such", "cannot read")]
    {
        let ran = runproof(&["judge", &here, "--other-end", file]);
        assert_eq!(ran.status, 5, "{}", ran.err);
        assert!(ran.err.contains(said), "{}", ran.err);
    }
}
