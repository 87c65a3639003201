//! A jig is proved by known pieces, and what it measured is in doubt when it is found out.

use std::fs;
use std::path::{Path, PathBuf};

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof_keeping};

/// The good piece, with so many ohms more in data+.
pub(crate) fn pieces_with(folder: &Path, ohm: f64) -> PathBuf {
    let design = Path::new(env!("CARGO_MANIFEST_DIR")).join("../firmware/jig/check-pieces");
    for name in ["good", "crossed", "open"] {
        let text = fs::read_to_string(design.join(format!("{name}.toml"))).expect("a scene");
        let more = format!("\njoint = [{{ post = 1, at = 0.5, ohm = {ohm:?} }}]\n");
        let text = if name == "good" { text + &more } else { text };
        fs::write(folder.join(format!("{name}.toml")), text).expect("written");
    }
    folder.to_owned()
}

pub(crate) fn proved(data: &Path, pieces: &Path, more: &[&str]) -> Ran {
    let words = ["prove", "--simulate", pieces.to_str().expect("UTF-8")];
    runproof_keeping(data, &[&words[..], more].concat())
}

#[test]
fn a_sound_jig_is_proved_by_all_of_its_pieces() {
    let data = folder("prove-sound");
    let one = runproof_keeping(&data, &["prove", "good", "--simulate", "pieces"]);
    assert_eq!(one.status, 0, "{}", one.err);
    assert!(one.out.contains("NOT YET: jig seed-1"), "{}", one.out);
    assert!(one.out.contains("left of this sitting: crossed, open"), "{}", one.out);
    for piece in ["crossed", "open"] {
        assert_eq!(runproof_keeping(&data, &["prove", piece, "--simulate", "pieces"]).status, 0);
    }
    let told = runproof_keeping(&data, &["proofs"]);
    assert_eq!(told.status, 0, "{}", told.err);
    assert!(
        told.out.contains("PROVED: jig seed-1 read every known piece as stated"),
        "{}",
        told.out
    );
    assert!(told.out.lines().all(|line| line.chars().count() <= 80), "{}", told.out);
    let shown = runproof_keeping(&data, &["records", "show", "2"]);
    assert!(shown.out.starts_with("PASS: the piece `crossed` reads as stated."), "{}", shown.out);
    complains(&runproof_keeping(&data, &["report", "2"]), 5, "is of a known piece");
    let again = runproof_keeping(&data, &["judge", "2", "--json"]).json();
    assert_eq!(again["verdict"], "fail", "what the jig says of a crossed piece");
}

#[test]
fn a_jig_that_is_out_puts_all_in_doubt_since_it_was_last_proved() {
    let data = folder("prove-out");
    let pieces = |ohm| pieces_with(&data, ohm);
    assert_eq!(proved(&data, &pieces(0.001), &[]).status, 0);
    let check = ["check", "--simulate", "good-run", "--yes", "--job", "1047"];
    assert_eq!(runproof_keeping(&data, &check).status, 0);
    let other = [&check[..], &["--seed", "2"]].concat();
    assert_eq!(runproof_keeping(&data, &other).status, 0);
    let out = proved(&data, &pieces(0.3), &[]);
    assert_eq!(out.status, 1, "{}", out.out);
    assert!(out.out.contains("OTHERWISE"), "{}", out.out);
    let told = out.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("the piece `good` reads otherwise than stated: data+ reads 0.3"),
        "{told}"
    );
    assert!(told.contains("OUT: jig seed-1 is out"), "{told}");
    assert!(
        told.contains(
            "one test was measured after this jig was last proved and before it was found out"
        ),
        "{told}"
    );
    assert!(told.contains("job 1047"), "{told}");
    assert_eq!(runproof_keeping(&data, &["proofs", "--jig", "seed-1"]).status, 1);
    assert_eq!(proved(&data, &pieces(0.001), &[]).status, 0, "it is put right");
    let told = runproof_keeping(&data, &["proofs"]);
    assert_eq!(told.status, 0);
    assert!(told.out.contains("job 1047"), "it stays in doubt: {}", told.out);
}

#[test]
fn that_a_jig_was_out_is_not_taken_back_by_voiding() {
    let data = folder("prove-void");
    assert_eq!(proved(&data, &pieces_with(&data, 0.001), &[]).status, 0);
    let bad = pieces_with(&data, 0.3);
    let words = ["prove", "good", "--simulate", bad.to_str().expect("UTF-8")];
    assert_eq!(runproof_keeping(&data, &words).status, 1);
    assert_eq!(runproof_keeping(&data, &["records", "void", "4", "--reason", "dirty"]).status, 0);
    assert_eq!(runproof_keeping(&data, &["proofs"]).status, 1);
}

/// Twenty proofs make its chart; then a tenth of an ohm more is out, though it is within what is stated.
#[test]
fn a_reading_beyond_its_chart_is_out() {
    let data = folder("prove-chart");
    let own = data.join("own.toml");
    let design = Path::new(env!("CARGO_MANIFEST_DIR")).join("../firmware/jig/check-pieces.toml");
    let text = fs::read_to_string(design)
        .expect("pieces")
        .replace("name = \"check-pieces\"", "name = \"own\"")
        .replacen("# calibrated", "calibrated", 1)
        .replacen("found = []", "found = []\ncalibrated_ohm = { \"data+\" = 0.01 }", 1);
    fs::write(&own, text).expect("written");
    let own = ["--pieces", own.to_str().expect("UTF-8")];
    for n in 0..20 {
        let pieces = pieces_with(&data, 0.001 + 0.004 * f64::from(n % 3));
        let ran = proved(&data, &pieces, &own);
        assert_eq!(ran.status, 0, "{}", ran.out);
    }
    let ran = proved(&data, &pieces_with(&data, 0.1), &own);
    assert_eq!(ran.status, 1, "{}", ran.out);
    let told = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("the piece `good` reads as stated"), "{told}");
    assert!(told.contains("good, data+ is beyond three standard deviations"), "{told}");
    let (before, _) =
        told.split_once(" mΩ from its calibration, mean of the last 5").expect("told");
    let more = before.rsplit_once(' ').and_then(|(_, more)| more.parse::<f64>().ok());
    // Four of 1 to 9 mΩ more, and one of 100, beside the piece's own.
    assert!(more.is_some_and(|more| (20.0..80.0).contains(&more)), "{more:?}");
    assert_eq!(told.matches("from its calibration").count(), 1, "of what was calibrated alone");
    assert!(told.contains("a point beyond three sigma"), "{told}");
    let page = data.join("jig.html");
    let words =
        ["proofs", "--jig", "seed-1", own[0], own[1], "--to", page.to_str().expect("UTF-8")];
    assert_eq!(runproof_keeping(&data, &words).status, 1);
    let html = fs::read_to_string(page).expect("a page");
    assert_eq!(html.matches("<svg ").count(), 11, "a chart of each conductor of each piece");
}

#[test]
fn what_proves_nothing_is_told() {
    let data = folder("prove-wrong");
    let prove = |words: &[&str]| runproof_keeping(&data, &[&["prove"][..], words].concat());
    complains(&runproof_keeping(&data, &["proofs"]), 5, "nothing was recorded");
    complains(&prove(&["best", "--simulate", "pieces"]), 64, "there is no piece `best`");
    complains(&prove(&["--simulate", "nowhere"]), 5, "cannot read nowhere/good.toml");
    complains(
        &prove(&["--port", "/dev/null"]),
        64,
        "nobody can say when the next piece is clipped on",
    );
    let file = data.join("wrong.toml");
    fs::write(&file, "name = \"x\"\nversion = 1\n").expect("written");
    let path = file.to_str().expect("UTF-8");
    complains(&prove(&["--simulate", "pieces", "--pieces", path]), 5, "line 2");
    let lax = Path::new(env!("CARGO_MANIFEST_DIR")).join("../firmware/jig/check-pieces.toml");
    let lax = fs::read_to_string(lax).expect("pieces").replace("0.20", "9.9");
    fs::write(&file, lax).expect("written");
    complains(
        &prove(&["--simulate", "pieces", "--pieces", path]),
        5,
        "has the name of the pieces that come with",
    );
    runproof_keeping(&data, &["check", "--simulate", "good-run", "--yes"]);
    complains(&runproof_keeping(&data, &["proofs"]), 5, "no jig was proved");
    complains(
        &runproof_keeping(&data, &["proofs", "--jig", "seed-1"]),
        5,
        "the jig seed-1 was not proved",
    );
}
