//! A result that is read aloud: as a code, over a bad line, and restored by whoever heard it.

use std::fs;
use std::path::Path;

use runproof_firmware::boards::simulated::{BUILT_IN, LIVE};

use crate::program::{Ran, folder, runproof};

fn saved(folder: &Path, scene: &str, arguments: &[&str]) -> String {
    let path = folder.join(format!("{scene}.jsonl")).to_str().expect("UTF-8").to_owned();
    let ran = runproof(&[arguments, &["--simulate", scene, "--save", &path]].concat());
    assert!(ran.status <= 2, "{}", ran.err);
    path
}

fn code(path: &str, arguments: &[&str]) -> String {
    let ran = runproof(&[&["code", path], arguments].concat());
    ran.out.lines().next().expect("a code").to_owned()
}

fn decode(words: &[&str]) -> Ran {
    runproof(&[&["decode"], words].concat())
}

fn words(told: &str) -> String {
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn headline(told: &str) -> String {
    let labelled = |line: &&str| {
        line.is_empty()
            || ["DANGER", "CAUTION", "told"].iter().any(|label| line[2..].starts_with(label))
    };
    words(&told.lines().take_while(|line| !labelled(line)).collect::<Vec<_>>().join(" "))
}

fn fits(ran: &Ran) {
    for line in ran.out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn a_check_is_said_and_restored() {
    let folder = folder("read aloud");
    let path = saved(&folder, "crossed-supply", &["check"]);
    let spoken = runproof(&["code", &path]);
    assert_eq!(spoken.status, 1);
    let code = code(&path, &[]);
    assert_eq!((code.len(), code.split('-').count()), (29, 6));
    let judged = runproof(&["judge", &path]);
    assert!(judged.out.contains(&format!("  read aloud     {code}\n")), "{}", judged.out);
    assert_eq!(runproof(&["judge", &path, "--json"]).json()["code"], *code);

    // As it is, in another hand, and spelled.
    let spelled = spoken.out.lines().skip(2).take(6).map(|line| &line[17..]);
    let spelled = spelled.collect::<Vec<_>>().join(" ");
    let restored = decode(&[&code]);
    assert_eq!(restored.status, 1, "{}", restored.err);
    let groups: Vec<&str> = code.split('-').collect();
    let like = code.replace('1', "l").replace('0', "O");
    for typed in [
        vec![&*like],
        vec![&*code.to_lowercase()],
        vec![&*code.replace('-', "")],
        groups,
        spelled.split(' ').collect(),
        vec![&*spelled.to_lowercase()],
    ] {
        assert_eq!(decode(&typed).out, restored.out, "{typed:?}");
    }
    let told = words(&restored.out);
    for said in [
        "FAIL: data− and supply are crossed. DANGER do not power up",
        "not measured here. The run was SIMULATED: this is of no real cable.",
        "data− 2 supply about",
        "data− arrives at supply, supply arrives at data−. Not at the clips",
        "within 7.5 % of what was measured",
        "limits service-24vac 1.",
        "“I have a check of a simulated run: it fails, data− and supply are crossed. Is that what you have?”",
        "ask for the capture",
    ] {
        assert!(told.contains(said), "{said}: {told}");
    }
    let json = decode(&[&code, "--json"]).json();
    assert_eq!((&json["verdict"], &json["code"]), (&"fail".into(), &code.clone().into()));
    assert_eq!(json["told"]["finding"]["kind"], "crossed");
    assert_eq!(json["told"]["rows"][1]["reaches"], 4);
    let spoken = runproof(&["code", &path, "--json"]).json();
    assert_eq!(spoken["spelled"].as_array().map(Vec::len), Some(6));
}

#[test]
fn what_was_misheard_is_asked_for_and_never_put_right() {
    let folder = folder("misheard");
    let code = code(&saved(&folder, "open-supply", &["check"]), &[]);
    let one = |at: usize, to: char| {
        let mut letters: Vec<char> = code.chars().collect();
        letters[at] = to;
        letters.into_iter().collect::<String>()
    };
    let other = |at: usize| if &code[at..=at] == "9" { '8' } else { '9' };
    // The second symbol of the third group.
    let wrong = decode(&[&one(11, other(11))]);
    assert_eq!(wrong.status, 5);
    assert!(wrong.err.contains("symbol 10, "), "{}", wrong.err);
    assert!(wrong.err.contains("“symbol 2 of group 3, is it `"), "{}", wrong.err);
    assert!(wrong.err.contains(&format!("or `{}`", &code[11..=11])), "{}", wrong.err);
    assert!(wrong.out.is_empty());

    let mut swapped: Vec<char> = code.chars().collect();
    let at = (0..28)
        .find(|n| swapped[*n] != '-' && swapped[n + 1] != '-' && swapped[*n] != swapped[n + 1]);
    let at = at.expect("two neighbours that differ");
    swapped.swap(at, at + 1);
    let swapped = decode(&[&swapped.into_iter().collect::<String>()]);
    assert_eq!(swapped.status, 5);
    assert!(
        swapped.err.contains("at least two are wrong, or two are exchanged"),
        "{}",
        swapped.err
    );

    let long = format!("{code}9");
    let hostile = "\u{1b}[2J".repeat(5000);
    for (typed, told) in [
        (&code[..28], "there are 23 symbols, and 24 are needed"),
        (&code[..24], "there are 20 symbols, and 24 are needed"),
        (&long, "there are 25 symbols, and 24 are needed"),
        ("", "there are 0 symbols, and 20 or 24 are needed"),
        (&one(2, 'U'), "`U`, in place 3, is none of a code's symbols: it has no U"),
        ("alfa bravo sevn charlie", "`sevn` spells no symbol"),
        (&hostile, "is none of a code's symbols"),
        ("ＡＢＣＤ", "is none of a code's symbols"),
    ] {
        let ran = decode(&[typed]);
        assert_eq!(ran.status, 5, "{typed:?}: {}", ran.err);
        assert!(ran.err.contains(told), "{typed:?}: {}", ran.err);
        assert!(ran.err.contains("next: ") && !ran.err.contains('\u{1b}'), "{}", ran.err);
        assert!(ran.err.len() < 500, "{}", ran.err);
    }
    assert_eq!(decode(&[]).status, 64);
    assert_eq!(runproof(&["code", "no such file"]).status, 5);
}

#[test]
fn another_limit_sheet_is_named_only_to_whoever_holds_it() {
    let folder = folder("sheet aloud");
    let shown =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("interpret/src/sheets/service-24vac.toml");
    let text = fs::read_to_string(shown).expect("the sheet");
    let sheet = folder.join("ours.toml");
    fs::write(&sheet, text.replace("service-24vac", "our-own")).expect("written");
    let sheet = sheet.to_str().expect("UTF-8");
    let path = saved(&folder, "good-run", &["check", "--sheet", sheet]);
    let code = code(&path, &["--sheet", sheet]);
    let unknown = words(&decode(&[&code]).out);
    assert!(unknown.contains("limits a sheet not held here, of hash "), "{unknown}");
    let known = words(&decode(&[&code, "--sheet", sheet]).out);
    assert!(known.contains("limits our-own 1, as far as its hash"), "{known}");
    let other = words(&decode(&[&code, "--sheet", "made-up-lead"]).out);
    assert!(other.contains("it is not made-up-lead 1, which was given"), "{other}");
    assert_eq!(decode(&[&code]).status, 0);
    assert_eq!(decode(&[&code, "--sheet", sheet, "--json"]).json()["sheet_given"], true);
}

/// The same words as the result had, as far as they were told; the status is the verdict.
#[test]
fn every_scene_is_restored_in_the_words_that_it_had() {
    let checks = BUILT_IN.iter().map(|(name, _)| ("check", *name));
    for (command, scene) in checks.chain(LIVE.iter().map(|(name, _)| ("live", *name))) {
        let to_earth = ["sound-to-earth", "nicked-to-conduit", "damp-conduit", "shield-bonded-far"];
        let told = if to_earth.contains(&scene) { &["--to-earth"][..] } else { &[] };
        let measure = [&[command, "--simulate", scene], told].concat();
        let (ran, json) = (runproof(&measure), runproof(&[&measure[..], &["--json"]].concat()));
        let json = json.json();
        let code = json["code"].as_str().expect("a code");
        let restored = decode(&[code]);
        assert_eq!(restored.status, ran.status, "{scene}: {}", restored.err);
        fits(&restored);
        let exact = headline(&ran.out);
        let again = headline(&restored.out);
        let more = json["findings"].as_array().map_or(0, Vec::len) > 1;
        if more && ran.status > 0 {
            assert!(again.ends_with("; there is more."), "{scene}: {again}");
        } else {
            // A hazard's has a number, which is rounded.
            let [exact, again] = [&exact, &again].map(|one| one.split(", ").next());
            assert_eq!(exact, again, "{scene}");
        }
        let warns = |told: &str| told.contains("  DANGER  ");
        assert!(warns(&ran.out) == warns(&restored.out), "{scene}:\n{}", restored.out);
        assert!(!restored.out.contains("NaN"), "{}", restored.out);
    }
}
