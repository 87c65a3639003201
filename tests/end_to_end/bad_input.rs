//! What goes wrong is told: what happened, what to do next, and the right exit status.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::process::Command;

use crate::program::{Ran, folder, runproof, runproof_under};
use crate::terminal::terminal;

/// The complaint names what happened and a next step, and nothing was printed as a result.
pub(crate) fn complains(ran: &Ran, status: i32, happened: &str) {
    assert_eq!(ran.status, status, "{}", ran.err);
    assert!(ran.err.contains(happened), "{}", ran.err);
    assert!(ran.err.contains("next: "), "{}", ran.err);
    assert_eq!(ran.out, "");
}

#[test]
fn an_unknown_scene() {
    let ran = runproof(&["check", "--simulate", "godo-run"]);
    complains(&ran, 5, "no scene named `godo-run`");
}

#[test]
fn a_scene_file_with_a_wrong_value() {
    let file = folder("scene").join("mine.toml");
    let text = "about = \"x\"\nplug = \"in\"\n[run]\nlength_m = -3\nohm_per_km = 21\n\
                copper_c = 20\narrives_at = [1, 2, 3, 4]\n";
    fs::write(&file, text).expect("written");
    let path = file.to_str().expect("UTF-8");
    let ran = runproof(&["check", "--simulate", path]);
    complains(&ran, 5, "run.length_m");
    assert!(ran.err.contains(path), "{}", ran.err);
    fs::write(&file, "about = \"x\"\nplug_fitted = maybe\n").expect("written");
    let ran = runproof(&["check", "--simulate", path]);
    complains(&ran, 5, "line 2");
    assert!(ran.err.contains(path), "{}", ran.err);
}

/// Some editors begin every text with a byte-order mark.
#[test]
fn a_byte_order_mark_is_passed_over() {
    let folder = folder("byte-order-mark");
    let scene = folder.join("scene.toml");
    let (_, good_run) = runproof_firmware::boards::simulated::BUILT_IN[0];
    fs::write(&scene, format!("\u{FEFF}{good_run}")).expect("written");
    let capture = folder.join("capture.jsonl");
    let [scene, saved] = [&scene, &capture].map(|path| path.to_str().expect("UTF-8"));
    let ran = runproof(&["check", "--simulate", scene, "--save", saved, "--no-record"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let text = fs::read_to_string(&capture).expect("saved");
    fs::write(&capture, format!("\u{FEFF}{text}")).expect("written");
    let judged = runproof(&["judge", saved]);
    assert_eq!((judged.status, judged.out), (0, ran.out), "{}", judged.err);
}

/// The test must not depend on who runs it: root is stripped of what lets it open everything.
const WITHOUT_ROOTS_RIGHTS: [&str; 2] =
    ["setpriv", "--bounding-set=-dac_override,-dac_read_search"];

#[test]
fn a_port_that_may_not_be_opened() {
    let (_master, port) = terminal();
    fs::set_permissions(&port, fs::Permissions::from_mode(0o000)).expect("one's own terminal");
    let id = Command::new("id").arg("-u").output().expect("id runs");
    let runner = if id.stdout == b"0\n" { &WITHOUT_ROOTS_RIGHTS[..] } else { &[] };
    let ran = runproof_under(runner, &["check", "--port", &port]);
    complains(&ran, 3, &format!("you may not open {port}"));
}

/// Where tests run, no jig is attached.
#[test]
fn no_jig_is_attached_and_none_is_named() {
    complains(&runproof(&["check"]), 3, "no jig is attached");
}

#[test]
fn a_port_that_is_not_there() {
    let ran = runproof(&["check", "--port", "/dev/no-such-port"]);
    complains(&ran, 3, "there is no port /dev/no-such-port");
}

#[test]
fn a_port_that_is_no_port() {
    let ran = runproof(&["check", "--port", "/dev/null"]);
    complains(&ran, 3, "cannot open /dev/null");
}

#[test]
fn a_capture_that_is_not_there() {
    complains(&runproof(&["judge", "no-such-file.jsonl"]), 5, "cannot read no-such-file.jsonl");
}

#[test]
fn a_file_that_is_no_capture() {
    let folder = folder("no-capture");
    for (bytes, told) in [
        (&b""[..], "line 1: the text is empty"),
        (b"hello\n", "line 1: not a JSON object"),
        (b"[1,2]\n", "line 1: not a JSON object"),
        (b"{\"runproof_capture\":2}\n", "`runproof_capture` is 2; this program reads version 1"),
        (b"\xFF\xFE\n", "is not a text file"),
    ] {
        let file = folder.join("x");
        fs::write(&file, bytes).expect("written");
        let ran = runproof(&["judge", file.to_str().expect("UTF-8")]);
        complains(&ran, 5, told);
    }
}

#[test]
fn a_file_without_end() {
    complains(&runproof(&["judge", "/dev/zero"]), 5, "/dev/zero is larger than");
}

/// Any capture that breaks off can still be judged, and never passes.
#[test]
fn a_capture_that_breaks_off() {
    let folder = folder("breaks-off");
    let whole = folder.join("whole.jsonl");
    let whole = whole.to_str().expect("UTF-8");
    assert_eq!(runproof(&["check", "--simulate", "good-run", "--save", whole]).status, 0);
    let text = fs::read_to_string(whole).expect("saved");
    let lines: Vec<&str> = text.lines().collect();
    for keep in (1..lines.len()).step_by(7) {
        let file = folder.join("part.jsonl");
        fs::write(&file, lines[..keep].join("\n")).expect("written");
        let ran = runproof(&["judge", file.to_str().expect("UTF-8")]);
        assert_eq!(ran.status, 2, "with {keep} of {} lines: {}", lines.len(), ran.err);
    }
}

#[test]
fn what_was_saved_is_not_overwritten() {
    let file = folder("saved").join("mine.jsonl");
    fs::write(&file, "precious").expect("written");
    let path = file.to_str().expect("UTF-8");
    complains(&runproof(&["check", "--simulate", "good-run", "--save", path]), 6, "exists already");
    assert_eq!(fs::read_to_string(&file).expect("still there"), "precious");
}

#[test]
fn a_place_that_cannot_be_written() {
    let ran = runproof(&["check", "--simulate", "good-run", "--save", "/no/such/folder/x"]);
    complains(&ran, 6, "cannot save to /no/such/folder/x");
}

#[test]
fn wrong_arguments() {
    for arguments in [
        &["chekc"][..],
        &["check", "--seed", "2"],
        &["check", "--simulate", "good-run", "--port", "/dev/null"],
        &["check", "--simulate", "good-run", "--seed", "two"],
        &["check", "--simulate", "good-run", "--wait", "ten"],
        &["check", "--simulate", "good-run", "--wait", "30s", "--yes"],
        &["judge"],
    ] {
        let ran = runproof(arguments);
        assert_eq!(ran.status, 64, "{arguments:?}: {}", ran.err);
        assert_eq!(ran.out, "", "{arguments:?}");
    }
    assert_eq!(runproof(&["--help"]).status, 0);
    assert_eq!(runproof(&["--version"]).status, 0);
}

#[test]
fn the_scenes_are_listed() {
    let ran = runproof(&["scenes"]);
    assert_eq!(ran.status, 0);
    for name in ["good-run", "reversed-pair", "crossed-supply", "open-supply", "no-plug"] {
        assert!(ran.out.contains(name), "{}", ran.out);
    }
}
