//! Length by gauge and gauge by length, from the resistance of a run; and how even its data pair is.

use std::fs;

use serde_json::{Value, json};

use crate::program::{folder, runproof};

/// What is said of the copper, in words on one line and as data.
fn copper(scene: &str, more: &[&str]) -> (String, Value) {
    let check = [&["check", "--simulate", scene], more].concat();
    let words = runproof(&check).out.split_whitespace().collect::<Vec<_>>().join(" ");
    (words, runproof(&[&check[..], &["--json"]].concat()).json()["copper"].clone())
}

fn numbers(of: &Value) -> [f64; 3] {
    ["least", "value", "most"].map(|key| of[key].as_f64().expect("a number"))
}

/// The good run has 30 m of 18 AWG at 27 °C.
#[test]
fn a_gauge_gives_the_length() {
    let warm = ["--gauge", "18awg-solid", "--cable-temp", "25..30C"];
    let (words, told) = copper("good-run", &[&warm[..], &["--units", "metric"]].concat());
    assert_eq!((&told["basis"], &told["agrees_with_capacitance"]), (&json!("gauge"), &json!(true)));
    let [least, value, most] = numbers(&told["metres"]);
    assert!(least < 30.0 && 30.0 < most && most - least < 9.0, "{told}");
    let said = format!(
        "by its resistance and gauge the run looks {value:.0} m ({:.0} to {:.0} m) long. Its \
         capacitance agrees.",
        least.floor(),
        most.ceil()
    );
    assert!(words.contains(&said), "{said}\n{words}");
    let (words, told) = copper("good-run", &["--gauge", "18awg"]);
    let [wide_least, _, wide_most] = numbers(&told["metres"]);
    assert!(wide_least < least && most < wide_most, "{told}");
    assert!(words.contains(&format!("{:.0} ft)", (wide_most / 0.3048).ceil())), "{words}");
}

#[test]
fn a_length_gives_the_gauge() {
    let (words, told) = copper("good-run", &["--length", "30m", "--cable-temp", "20..35C"]);
    assert_eq!((&told["basis"], &told["metres"]), (&json!("length"), &Value::Null));
    assert!(told["gauges"].as_array().is_some_and(|all| all.contains(&json!("18 AWG"))), "{told}");
    assert!(words.contains("of a run of that length, 18 AWG fits the resistance."), "{words}");
    let (words, told) = copper("good-run", &["--length", "1m"]);
    assert_eq!(told["gauges"], json!([]));
    assert!(words.contains("no usual size in AWG fits a run of that length"), "{words}");
}

#[test]
fn neither_is_told_from_the_other() {
    let (words, told) = copper("good-run", &[]);
    assert_eq!(
        (&told["basis"], &told["metres"], &told["gauges"]),
        (&json!("nothing"), &Value::Null, &json!([]))
    );
    assert!(words.contains("by resistance length and gauge cannot be told apart"), "{words}");
}

/// Once: where a limit is exceeded, that finding says so.
#[test]
fn more_than_the_wire_can_have_may_be_other_metal() {
    let wire = ["--gauge", "18awg", "--length", "30ft"];
    let (words, told) = copper("good-run", &wire);
    assert_eq!(told["more_than_wire"], json!(true));
    assert_eq!(words.matches("or not plain copper; resistance does not tell which.").count(), 1);
    let (words, told) = copper("good-run", &[&wire[..], &["--sheet", "acceptance-24vac"]].concat());
    assert_eq!(told["more_than_wire"], json!(true));
    assert!(!words.contains("or not plain copper"), "{words}");
    let (_, told) = copper("good-run", &["--gauge", "18awg", "--length", "30m"]);
    assert_eq!(told["more_than_wire"], json!(false));
}

#[test]
fn a_few_metres_are_too_short() {
    let file = folder("short-run").join("run.toml");
    let text = "about = \"4 m\"\nplug = \"goes-in\"\n[run]\nlength_m = 4.0\nohm_per_km = 20.95\n\
                copper_c = 20.0\narrives_at = [1, 2, 3, 4]\n";
    fs::write(&file, text).expect("written");
    let (words, told) = copper(file.to_str().expect("UTF-8"), &["--gauge", "18awg"]);
    assert_eq!((&told["too_short"], &told["metres"]), (&json!(true), &Value::Null));
    assert!(words.contains("too short to tell its length by resistance: 0."), "{words}");
}

/// Eight ohms of a loose screw: an unbalance of the pair, and no length.
#[test]
fn a_joint_unbalances_the_pair_and_does_not_lengthen_the_run() {
    let (words, told) = copper("loose-data-screw", &["--gauge", "18awg"]);
    let [least, _, most] = numbers(&told["metres"]);
    assert!(least < 30.0 && 30.0 < most && most < 60.0, "{told}");
    let unbalance = &told["unbalance"];
    assert_eq!(unbalance["post"], json!(1));
    let number = |key: &str| unbalance[key].as_f64().expect("a number");
    assert!((number("ohm") - 8.0).abs() <= number("expanded_uncertainty_ohm"), "{unbalance}");
    // 8 Ω beside twice 0.63 Ω.
    assert!((number("percent") - 100.0 * 8.0 / 9.27).abs() < 3.0, "{unbalance}");
    assert!(
        words.contains("data+ has ") && words.contains("Ω more than the other (unbalance 8"),
        "{words}"
    );
}

/// Of two wires only their loop is known; of a run with a break not every conductor.
#[test]
fn what_is_not_known_is_not_told() {
    let (_, told) = copper("two-wire", &["--sheet", "two-wire-bus", "--gauge", "18awg"]);
    assert_eq!(told["unbalance"], Value::Null, "{told}");
    for scene in ["open-supply", "staple-short", "no-plug"] {
        let (words, told) = copper(scene, &["--gauge", "18awg"]);
        assert_eq!(told, Value::Null);
        assert!(!words.contains(" copper "), "{words}");
    }
}

/// The good run, 30 m of 18 AWG: no usual cable of 300 ft or 1 m reads like that.
#[test]
fn a_length_that_no_usual_cable_has_is_a_remark() {
    for (length, told) in
        [("300ft", "300 ft was told, and a run of 24 to 16 AWG"), ("1m", "3.3 ft")]
    {
        let check = ["check", "--simulate", "good-run", "--yes", "--length", length];
        let ran = runproof(&check);
        let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(ran.status, 0, "{words}");
        assert!(words.contains(told), "{words}");
        assert!(words.contains("next check the length that was told"), "{words}");
        let json = runproof(&[&check[..], &["--json"]].concat()).json();
        let finding = &json["findings"][0];
        assert_eq!(
            (&finding["kind"], &finding["severity"]),
            (&json!("length-unlikely"), &json!("note"))
        );
        let [least, _, most] = numbers(&json["copper"]["usual_metres"]);
        assert!(least < 30.0 && 30.0 < most, "{least} to {most}");
    }
    for told in [&["--length", "30m"][..], &["--length", "300ft", "--cannot-lift", "far"]] {
        let check = ["check", "--simulate", "good-run", "--yes", "--json"];
        let json = runproof(&[&check[..], told].concat()).json();
        let findings = json["findings"].as_array().expect("a list");
        assert!(findings.iter().all(|one| one["kind"] != "length-unlikely"), "{findings:?}");
    }
}

#[test]
fn capacitance_that_disagrees_says_how_long() {
    let (words, told) = copper("good-run", &["--gauge", "24awg"]);
    assert_eq!(told["agrees_with_capacitance"], json!(false));
    assert!(words.contains("ft) long. By its capacitance it looks 9"), "{words}");
}

/// Before anything is measured, and with the result.
#[test]
fn a_gauge_that_may_be_mains_is_cautioned_about() {
    for (gauge, thick) in [("14awg", true), ("2.5mm2", true), ("1.5mm2", false), ("18awg", false)] {
        let check = ["check", "--simulate", "good-run", "--yes", "--gauge", gauge];
        let ran = runproof(&check);
        assert_eq!(ran.status, 0, "{}", ran.err);
        for text in [&ran.err, &ran.out] {
            let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert_eq!(
                words.contains("Keep this jig off any cable that carries mains"),
                thick,
                "{words}"
            );
        }
        let result = runproof(&[&check[..], &["--json"]].concat()).json();
        let findings = result["findings"].as_array().expect("a list");
        assert_eq!(findings.iter().any(|one| one["kind"] == "thick-wire"), thick, "{findings:?}");
    }
}
