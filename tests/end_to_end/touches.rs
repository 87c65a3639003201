//! Wires that are held together when `check` asks for them, and how a run was landed.

use serde_json::{Value, json};

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof};

const NEAR: &str = "data+=white,data-=green,common=brown,supply=red";

fn on_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A check of a built-in scene, and the same judged again from its capture.
fn checked(name: &str, scene: &str, arguments: &[&str]) -> (Ran, Value) {
    let file = folder(&format!("touches-{name}")).join("capture.jsonl");
    let file = file.to_str().expect("UTF-8");
    let ran = runproof(&[&["check", "--simulate", scene, "--save", file], arguments].concat());
    let again = runproof(&["judge", file, "--json"]);
    assert_eq!(again.status, ran.status, "{}", again.err);
    (ran, again.json())
}

#[test]
fn clips_that_are_touched_need_not_be_moved() {
    let (ran, result) = checked("clips", "clips-shifted", &[]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let told = on_one_line(&ran.out);
    assert!(told.contains("PASS: all four conductors arrive where they should"), "{told}");
    assert!(told.contains("the clips here all sit one wire too far, as the wires"), "{told}");
    assert!(told.contains("there is no need to re-clip"), "{told}");
    let asked = on_one_line(&ran.err);
    assert!(
        asked.contains(
            "1 data+ and common. 2 data+ and data−. 3 common and supply. 4 data− and supply."
        ),
        "{asked}"
    );
    assert!(asked.contains("touched: data+ and common, seen on posts 2 and 4."), "{asked}");
    assert!(!asked.contains("go to the far end, take the key out"), "{asked}");
    let clips = json!({"clips": [2, 3, 4, 1], "run": null, "plug_end": null});
    assert_eq!(result["placed"], clips);
    assert_eq!(result["findings"][0]["kind"], "clips-exchanged");
    assert_eq!(result["findings"][0]["places"], json!(["clips"]));
}

#[test]
fn an_exchange_is_placed_in_the_run_or_at_the_plug_end() {
    let (ran, result) = checked("run", "rolled-splice", &[]);
    assert_eq!(ran.status, 1);
    assert!(
        on_one_line(&ran.out).contains("Not at the clips, which the touched wires make known"),
        "{}",
        ran.out
    );
    assert_eq!(result["findings"][0]["places"], json!(["run"]));
    assert_eq!(result["placed"]["run"], json!([2, 3, 1, 4]));
    let (ran, result) = checked("plug-end", "tail-exchanged", &[]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    let told = on_one_line(&ran.out);
    assert!(told.contains("the end plug's clips 2 and 3 are exchanged"), "{told}");
    assert_eq!(result["placed"]["plug_end"], json!([1, 3, 2, 4]));
}

/// It was exchanged where nobody looked, and that is said; nothing is asked for unless it helps.
#[test]
fn what_nobody_touched_is_not_placed() {
    let (ran, result) = checked("nobody", "reversed-pair", &["--wait", "5s"]);
    assert_eq!(ran.status, 1);
    assert!(on_one_line(&ran.out).contains("Not yet placed: at the clips here"), "{}", ran.out);
    assert!(ran.err.contains("not all touches were seen"), "{}", ran.err);
    assert_eq!(result["findings"][0]["places"], json!(["clips", "run", "plug-end"]));
    for (name, scene, arguments) in [
        ("never", "reversed-pair", &["--touch", "never"][..]),
        ("yes", "reversed-pair", &["--yes"]),
        ("straight", "good-run", &[]),
    ] {
        let (ran, _) = checked(name, scene, arguments);
        assert!(!ran.err.contains("bare ends"), "{name}: {}", ran.err);
    }
    let (ran, _) = checked("always", "good-run", &["--touch", "always"]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    assert!(ran.err.contains("bare ends"), "{}", ran.err);
}

#[test]
fn colours_say_how_the_run_was_landed() {
    for (scene, far, landing, said) in [
        ("good-run", NEAR, "like-on-like", "like colours on like terminals"),
        (
            "good-run",
            "data+=green,data-=white,common=brown,supply=red",
            "works-as-landed",
            "CANNOT TELL: colours and conductors go different ways.",
        ),
        (
            "crossed-supply",
            "data+=white,data-=red,common=brown,supply=green",
            "unlike-terminals",
            "it was landed on unlike terminals",
        ),
        ("crossed-supply", NEAR, "cores-change", "clips are on other wires, or cores change"),
        (
            "crossed-supply",
            "data+=green,data-=white,common=brown,supply=red",
            "cores-change-and-unlike-terminals",
            "in another way than the conductors",
        ),
        (
            "good-run",
            "data+=white,data-=green,common=brown,supply=blue",
            "other-colours",
            "not the same colours",
        ),
        ("open-supply", NEAR, "like-on-like", "like colours on like terminals"),
        ("no-plug", NEAR, "not-measured", "so their colours say nothing"),
    ] {
        let told = ["check", "--simulate", scene, "--yes", "--near-colours", NEAR];
        let ran = runproof(&[&told[..], &["--far-colours", far]].concat());
        assert!(on_one_line(&ran.out).contains(said), "{scene} {far}: {}", ran.out);
        let json = runproof(&[&told[..], &["--far-colours", far, "--json"]].concat()).json();
        assert_eq!(json["landing"], landing, "{scene} {far}");
        let untested = json["not_tested"].as_array().expect("a list");
        let untested = untested.contains(&json!("how-it-was-landed"));
        assert_eq!(untested, ["not-measured", "other-colours"].contains(&landing), "{scene} {far}");
        assert_eq!(json["told"]["near_colours"], json!(["white", "green", "brown", "red"]));
    }
}

#[test]
fn the_colours_of_one_end_alone_ask_for_the_others() {
    for (told, missing) in
        [("--near-colours", "--far-colours"), ("--far-colours", "--near-colours")]
    {
        let ran = runproof(&["check", "--simulate", "good-run", "--yes", told, NEAR]);
        let words = on_one_line(&ran.out);
        assert!(
            words.contains(&format!("were told; with {missing} as well it can be said")),
            "{words}"
        );
        assert!(words.contains("not tested how the conductors were landed"), "{words}");
    }
}

/// Which of two wires is which does not matter.
#[test]
fn two_wires_have_no_terminals_to_ask_by() {
    let two_wires = ["check", "--simulate", "two-wire", "--sheet", "two-wire-bus"];
    for told in [["--touch", "always"], ["--near-colours", NEAR], ["--far-colours", NEAR]] {
        let ran = runproof(&[&two_wires[..], &told].concat());
        complains(&ran, 64, "its wires have no terminals of their own");
    }
    assert_eq!(runproof(&two_wires).status, 0);
}

/// Clips that went on by colour at the far end undo the crossing: the touches tell.
#[test]
fn colours_that_disagree_with_a_straight_run_are_touched() {
    let file = folder("touches-by-colour").join("scene.toml");
    let (_, text) = runproof_firmware::boards::simulated::BUILT_IN
        .into_iter()
        .find(|(name, _)| *name == "crossed-supply")
        .expect("a scene");
    let by_colour = text.replace("[run]\n", "[run]\nplugged_to = [1, 4, 3, 2]\n");
    std::fs::write(&file, by_colour).expect("written");
    let scene = ["check", "--simulate", file.to_str().expect("UTF-8")];
    let far = "data+=white,data-=red,common=brown,supply=green";
    let colours = ["--near-colours", NEAR, "--far-colours", far];
    let ran = runproof(&[&scene[..], &colours].concat());
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert!(on_one_line(&ran.out).contains("it was landed on unlike terminals"), "{}", ran.out);
    let untouched = runproof(&[&scene[..], &colours, &["--touch", "never"]].concat());
    assert_eq!(untouched.status, 2, "{}", untouched.out);
    assert!(!untouched.out.contains("land far end"), "{}", untouched.out);
}

#[test]
fn a_result_ends_with_where_the_wires_go() {
    let scene = ["check", "--simulate", "rolled-splice"];
    let far = "data+=green,data-=brown,common=white,supply=red";
    let ran = runproof(&[&scene[..], &["--near-colours", NEAR, "--far-colours", far]].concat());
    let told = on_one_line(&ran.out);
    assert!(
        told.contains("land here each on the terminal that it came off: data+ (white)"),
        "{told}"
    );
    let moves = "land far end on data+ the one that came off data− (brown), on data− the one that \
                 came off common (white), on common the one that came off data+ (green); the others \
                 as they came off.";
    assert!(told.contains(moves), "{told}");
    let asked = on_one_line(&ran.err);
    assert!(asked.contains("data+ (green) and common (white), for a slow count"), "{asked}");
    let ran = runproof(&["check", "--simulate", "no-plug", "--yes"]);
    assert!(!ran.out.contains("land here"), "{}", ran.out);
    for (scene, when) in [
        ("corroded-splice", "land here once the run passes: each on"),
        ("loose-data-screw", "land here each on"),
        ("reversed-pair", "land far end once the clips are checked, and if they are right: on"),
    ] {
        let ran = runproof(&["check", "--simulate", scene, "--yes"]);
        assert!(on_one_line(&ran.out).contains(when), "{scene}: {}", ran.out);
    }
}

/// One scene's run with another line in it.
fn own(name: &str, arrives_at: &str, fault: &str) -> String {
    let file = folder(&format!("touches-{name}")).join("scene.toml");
    let text = format!(
        "about = \"two faults\"\nplug = \"goes-in\"\n[run]\nlength_m = 27.0\nohm_per_km = 20.95\n\
         copper_c = 22.0\narrives_at = {arrives_at}\n{fault}\n"
    );
    std::fs::write(&file, text).expect("written");
    file.to_str().expect("UTF-8").to_owned()
}

#[test]
fn beside_another_fault_the_landing_waits() {
    let joint = "joint = [{ post = 3, at = 0.5, ohm = 6.0 }]";
    let ran = runproof(&["check", "--simulate", &own("joint", "[1, 4, 3, 2]", joint), "--yes"]);
    let told = on_one_line(&ran.out);
    assert!(told.contains("land here once the rest is put right: each on"), "{told}");
    assert!(
        told.contains("once the rest is put right and the clips are checked, and if"),
        "{told}"
    );
}

/// Past a good short it is not known where the two arrive that are shorted.
#[test]
fn half_an_exchange_is_not_told_as_a_whole_one() {
    let short = "short = [{ posts = [2, 3], at = 0.7, ohm = 0.05 }]";
    let ran = runproof(&["check", "--simulate", &own("short", "[2, 1, 3, 4]", short), "--yes"]);
    let told = on_one_line(&ran.out);
    assert!(
        told.starts_with("FAIL: data+ arrives at data−; data− and common are shorted."),
        "{told}"
    );
    assert!(told.contains("next put right first what else was found"), "{told}");
    assert!(!told.contains("exchange the conductors"), "{told}");
}

#[test]
fn colours_that_say_nothing_are_told_apart() {
    for (colours, said) in [
        ("white", "must be a terminal, = and a colour"),
        ("data+=white", "all four terminals are needed"),
        ("data+=white,data-=white,common=a,supply=b", "say what else tells them apart"),
        ("earth=white", "is no terminal"),
    ] {
        let ran = runproof(&["check", "--simulate", "good-run", "--far-colours", colours]);
        assert_eq!(ran.status, 64, "{}", ran.err);
        assert!(ran.err.contains(said), "{colours}: {}", ran.err);
    }
}
