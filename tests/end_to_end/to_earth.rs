//! `check --to-earth`, and its captures judged again elsewhere.

use runproof_firmware::boards::simulated::BUILT_IN;
use serde_json::{Value, json};

use crate::program::{Ran, folder, runproof};

fn on_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A test of a built-in scene, and the same judged again from its capture.
fn tested(name: &str, scene: &str, arguments: &[&str]) -> (Ran, Value) {
    let file = folder(&format!("to-earth-{name}")).join("capture.jsonl");
    let file = file.to_str().expect("UTF-8");
    let check = ["check", "--to-earth", "--simulate", scene, "--no-record", "--save", file];
    let ran = runproof(&[&check, arguments].concat());
    let again = runproof(&["judge", file]);
    assert_eq!((again.status, &again.out), (ran.status, &ran.out), "{}", again.err);
    (ran, runproof(&["judge", file, "--json"]).json())
}

#[test]
fn every_scene_gets_its_verdict() {
    for (scene, shield, status, kind, posts) in [
        ("sound-to-earth", &[][..], 0, None, json!(null)),
        ("nicked-to-conduit", &[], 1, Some("short-to-metal"), json!([1, 2])),
        ("damp-conduit", &[], 1, Some("leak-to-metal"), json!([1, 2])),
        (
            "shield-bonded-far",
            &["--shield", "landed"],
            0,
            Some("shield-bonded-twice"),
            json!([2, 3]),
        ),
        ("shield-bonded-far", &["--shield", "free"], 0, None, json!(null)),
    ] {
        for seed in 1..=10 {
            let seed = seed.to_string();
            let name = format!("{scene}-{}-{seed}", shield.concat());
            let (ran, result) = tested(&name, scene, &[shield, &["--seed", &seed]].concat());
            assert_eq!(ran.status, status, "{name}: {}", ran.out);
            assert_eq!(result["findings"][0]["kind"], json!(kind), "{name}");
            assert_eq!(result["findings"][0]["posts"], posts, "{name}");
            assert_eq!(result["conductors"], json!([]), "{name}");
        }
    }
}

#[test]
fn a_pass_says_what_it_is_of() {
    let (ran, result) = tested("words", "shield-bonded-far", &["--shield", "landed"]);
    let told = on_one_line(&ran.out);
    for said in [
        "PASS: no core meets the metal or the shield, within the limit; with a remark.",
        "cores to metal over 9.0 MΩ ≥ 100 kΩ PASS: within the limit",
        "shield bonded at both ends: here, as its drain was landed, and at the far end or on the way.",
        "(common practice, no source)",
        "a core that the clip on post 1 did not hold",
        "not tested conductor by conductor: continuity, crossings, and between any two;",
        "prove the run dead with a rated meter before you touch it",
    ] {
        assert!(told.contains(said), "{said}: {told}");
    }
    let asked = on_one_line(&ran.err);
    for said in [
        "lift all cores at both ends before you bunch any",
        "the drain wire on 3",
        "the clips touch: let go now, hands off.",
        "the clips touch still: let go.",
    ] {
        assert!(asked.contains(said), "{said}: {asked}");
    }
    let to_earth = json!({
        "to_metal": "pass", "to_shield": "pass", "drain": "landed", "bonded": "twice",
        "contact_shown": [2, 3], "fail_below_ohm": 100e3, "note_below_ohm": 1e6
    });
    assert_eq!(result["to_earth"], to_earth);
    assert_eq!(
        runproof(&["check", "--simulate", "good-run", "--json"]).json()["to_earth"],
        Value::Null
    );
    let (ran, _) = tested("nick", "nicked-to-conduit", &[]);
    assert!(on_one_line(&ran.out).contains("FAIL: a core touches metal."), "{}", ran.out);
    assert!(on_one_line(&ran.out).contains("look for staples, conduit edges"), "{}", ran.out);
}

/// Whoever holds nothing to the metal has shown nothing; a fault shows itself.
#[test]
fn without_contact_nothing_passes() {
    let (_, text) = BUILT_IN.into_iter().find(|(name, _)| *name == "sound-to-earth").expect("it");
    let once = text.rsplit_once("[[touch]]").expect("two touches").0;
    let never = text.split_once("[[touch]]").expect("two touches").0;
    for (name, scene, asked_again) in [("once", once, true), ("never", never, false)] {
        let file = folder(&format!("to-earth-scene-{name}")).join("scene.toml");
        std::fs::write(&file, scene).expect("written");
        let (ran, result) = tested(name, file.to_str().expect("UTF-8"), &["--wait", "8s"]);
        assert_eq!(ran.status, 2, "{name}: {}", ran.out);
        assert_eq!(result["findings"][0]["cause"], "contact-not-shown", "{name}");
        assert_eq!(result["not_tested"][0], "to-chassis-or-shield", "{name}");
        assert!(on_one_line(&ran.out).contains("CANNOT TELL: contact not shown"), "{}", ran.out);
        assert_eq!(ran.err.contains("let go now"), asked_again, "{name}: {}", ran.err);
        assert!(ran.err.contains("was not shown"), "{name}: {}", ran.err);
    }
    assert_eq!(tested("yes", "sound-to-earth", &["--yes"]).0.status, 2);
    assert_eq!(tested("yes-short", "nicked-to-conduit", &["--yes"]).0.status, 1);
}

#[test]
fn what_is_of_conductors_one_by_one_is_refused() {
    let check = ["check", "--to-earth", "--simulate", "sound-to-earth"];
    for (told, what, next) in [
        ("--gauge", "18awg", "give it to the check from end to end"),
        ("--length", "30m", "give it to the check from end to end"),
        ("--cable-temp", "20C", "give it to the check from end to end"),
        ("--far-colours", "data+=a,data-=b,common=c,supply=d", "from end to end"),
        ("--cannot-lift", "far", "lift that end as well"),
        ("--touch", "always", "leave it out"),
    ] {
        let ran = runproof(&[&check[..], &[told, what]].concat());
        assert_eq!(ran.status, 64, "{told}: {}", ran.err);
        assert!(ran.err.contains(&format!("takes no `{told}`")), "{told}: {}", ran.err);
        assert!(ran.err.contains(next) && ran.out.is_empty(), "{told}: {}", ran.err);
    }
    let ran = runproof(&["check", "--simulate", "good-run", "--shield", "landed"]);
    assert_eq!(ran.status, 64, "{}", ran.err);
}

#[test]
fn its_captures_are_judged_like_any_other() {
    let all = folder("to-earth-all");
    for (scene, more) in [("sound-to-earth", "--to-earth"), ("good-run", "--yes")] {
        let file = all.join(format!("{scene}.jsonl"));
        let file = file.to_str().expect("UTF-8");
        let ran = runproof(&["check", more, "--simulate", scene, "--save", file]);
        assert_eq!(ran.status, 0, "{}", ran.out);
    }
    let all = all.to_str().expect("UTF-8");
    let ran = runproof(&["judge", all]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    assert!(ran.out.contains("sound-to-earth.jsonl  no core meets the metal"), "{}", ran.out);
    // A fact that is not of both is an error of the one.
    let ran = runproof(&["judge", all, "--gauge", "18awg"]);
    assert_eq!(ran.status, 5, "{}", ran.out);
    assert!(ran.out.contains("a test to earth takes no `--gauge`"), "{}", ran.out);
    let file = format!("{all}/sound-to-earth.jsonl");
    let ran = runproof(&["explain", &file]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let told = on_one_line(&ran.out);
    assert!(told.contains("fails below 100 kΩ: house rule"), "{told}");
    assert!(told.contains("contact to the metal was shown before and after"), "{told}");
    let good = format!("{all}/good-run.jsonl");
    let ran = runproof(&["judge", &good, "--other-end", &file]);
    assert_eq!(ran.status, 5, "{}", ran.err);
    assert!(ran.err.contains("it is a test to earth"), "{}", ran.err);
}
