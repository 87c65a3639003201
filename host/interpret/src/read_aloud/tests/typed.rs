//! Codes as people type them, and what is told of one that is not whole.

use proptest::prelude::*;
use runproof_protocol::Post;

use crate::judgement::{FindingKind, LiveFindingKind, PairSign, Verdict};
use crate::read_aloud::packing::Lister;
use crate::read_aloud::*;

fn spoken() -> Spoken {
    let told = SpokenCheck::walk(None, &mut Lister::default()).expect("noughts are a check");
    Spoken::Check(Box::new(told))
}

fn error(text: &str) -> CodeError {
    from_code(text).expect_err("no code")
}

#[test]
fn a_code_is_read_however_it_is_typed() {
    let code = to_code(&spoken());
    let bare = code.replace('-', "");
    let words = spelled(&code).join(" ");
    let looks = |one: char, like: char| code.replace(one, &like.to_string());
    let singly: String = bare.chars().flat_map(|one| [one, ' ']).collect();
    for typed in [
        code.clone(),
        bare.clone(),
        code.to_lowercase(),
        code.replace('-', " "),
        code.replace('-', " – "),
        code.replace('-', "."),
        format!("  {singly}\n"),
        format!("“{code}”."),
        looks('1', 'I'),
        looks('1', 'l'),
        looks('0', 'o'),
        words.clone(),
        words.to_uppercase().replace("X-RAY", "X RAY"),
        words.replace(' ', ", "),
        words.replace("Alfa", "alpha").replace("Juliett", "juliet").replace("Nine", "niner"),
        words.replace("One", "Lima").replace("Zero", "oscar"),
    ] {
        assert_eq!(from_code(&typed), Ok(spoken()), "{typed}");
    }
}

/// Written once and kept: whatever changes in the program, these say the same.
#[test]
fn codes_of_this_version_are_read_for_good() {
    let Ok(Spoken::Check(check)) = from_code("0511-8W3Z-AMBQ-V969-BRK6-NEWE") else { panic!() };
    assert_eq!(check.finding.kind, Some(Known::Value(FindingKind::Crossed)));
    assert_eq!(check.finding.posts.all(), [Post::P2, Post::P4]);
    assert_eq!(check.rows.map(|row| row.reaches.map(Post::number)), [1, 4, 3, 2].map(Some));
    assert_eq!((check.powered_up, check.verdict), (PoweredUp::SupplyReachesData, Verdict::Fail));
    let Ok(Spoken::ToEarth(earth)) = from_code("1DY5-1Y4H-QGDE-WB7F-1ZV1") else { panic!() };
    assert_eq!(earth.finding.kind, Some(Known::Value(FindingKind::LeakToMetal)));
    let leak_ohm = earth.paths[0].map(|path| path.ohm.rounded().plain());
    assert_eq!(leak_ohm, Some(62_000.0));
    let Ok(Spoken::Live(live)) = from_code("2CDE-9NE1-2GC2-WMQD-1X2H") else { panic!() };
    assert_eq!(live.finding.kind, Some(Known::Value(LiveFindingKind::ReversedPair)));
    assert_eq!(live.pair, Some(PairSign::Reversed));
    assert_eq!(live.bias_v.map(|volts| volts.rounded().plain()), Some(-0.59));
}

#[test]
fn what_is_no_code_is_told_by_name() {
    let code = to_code(&spoken());
    assert_eq!(
        error(&code.replace(&code[..1], "U")),
        CodeError::NotInAlphabet { found: 'U', at: 1 }
    );
    assert!(error("U").to_string().contains("no U"));
    assert_eq!(error(&format!("{code}!")), CodeError::NotInAlphabet { found: '!', at: 25 });
    assert_eq!(error(""), CodeError::WrongLength { found: 0, needed: vec![20, 24] });
    assert_eq!(error(&code[1..]), CodeError::WrongLength { found: 23, needed: vec![20, 24] });
    assert_eq!(error(&code[..28]), CodeError::WrongLength { found: 23, needed: vec![24] });
    assert_eq!(error(&code[..24]), CodeError::WrongLength { found: 20, needed: vec![24] });
    assert_eq!(error(&format!("{code}7")), CodeError::WrongLength { found: 25, needed: vec![24] });
    let typo = "alfa bravo sevn charlie delta";
    assert_eq!(error(typo), CodeError::NotAWord { found: "sevn".into() });
}

#[test]
fn one_wrong_symbol_is_asked_for_and_never_put_right() {
    let code = to_code(&spoken());
    for at in (0..code.len()).filter(|at| &code[*at..=*at] != "-") {
        let meant = code.chars().nth(at).expect("ASCII");
        for read in (0..32).map(alphabet::symbol).filter(|one| *one != meant) {
            let mut typed = code.clone();
            typed.replace_range(at..=at, &read.to_string());
            let symbol = 1 + code[..at].replace('-', "").len();
            let told = error(&typed);
            assert_eq!(told, CodeError::OneWrong { at: symbol, read, perhaps: meant }, "{typed}");
        }
    }
}

#[test]
fn a_later_version_is_named_only_when_all_fits() {
    for (length, version) in
        [8, 12, 16, 20, 24, 28].into_iter().flat_map(|l| (1..8).map(move |v| (l, v)))
    {
        let mut code = vec![version << 2 | 1];
        code.resize(length - CHECKS, 5);
        code.extend(checks(&code));
        let later = CodeError::LaterVersion { version, known: 0 };
        assert_eq!(error(&grouped(&code)), later);
        code[3] ^= 1;
        assert!(matches!(error(&grouped(&code)), CodeError::OneWrong { at: 4, .. }));
    }
    let mut none = vec![3; 21];
    none.extend(checks(&none));
    assert_eq!(error(&grouped(&none)), CodeError::OutOfRange { field: "kind of result" });
}

proptest! {
    #[test]
    fn no_text_does_more_than_give_an_error(text in "\\PC{0,60}") {
        let _either = from_code(&text);
    }

    #[test]
    fn nor_does_one_of_symbols_and_words(text in "([0-9A-Za-z]{1,4}|alfa|x-ray|lima|seven|[ .-]){0,30}") {
        if let Ok(spoken) = from_code(&text) {
            let code = to_code(&spoken);
            prop_assert_eq!(from_code(&code), Ok(spoken));
        }
    }
}
