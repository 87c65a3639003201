//! Studies of many results: the jig's own variation, and what a process can do.

use std::fmt::Write;
use std::fs;

use serde_json::Value;

use crate::bad_input::complains;
use crate::program::{folder, runproof_keeping};

/// AIAG MSA-4's analysis of variance on 5 parts × 3 operators × 3 trials: readings of a published tutorial; what follows
/// was computed from them in another program. In hundredths.
const READINGS: [[[u16; 3]; 3]; 5] = [
    [[329, 341, 364], [308, 325, 307], [304, 289, 285]],
    [[244, 232, 242], [253, 178, 232], [162, 187, 204]],
    [[434, 417, 427], [419, 394, 434], [388, 409, 367]],
    [[347, 350, 364], [301, 403, 320], [314, 320, 311]],
    [[220, 208, 216], [244, 180, 172], [154, 193, 155]],
];

fn near(found: &Value, expected: f64) {
    let found = found.as_f64().expect("a number");
    assert!(
        (found / expected - 1.0).abs() < 5e-9 + 5e-5 * f64::from(u8::from(expected > 1.0)),
        "{found}: {expected}"
    );
}

#[test]
fn a_published_study_from_a_file() {
    let data = folder("study-file");
    let file = data.join("study.csv");
    let mut text = "part,operator,ohm\n".to_owned();
    // Trial by trial, as somebody would write them down.
    for trial in 0..3 {
        for (part, of_part) in READINGS.iter().enumerate() {
            for (operator, cell) in of_part.iter().enumerate() {
                let ohm = f64::from(cell[trial]) / 100.0;
                writeln!(text, "part {part}, {operator}, {ohm}").expect("a line");
            }
        }
    }
    fs::write(&file, &text).expect("written");
    let path = file.to_str().expect("UTF-8");
    let found = runproof_keeping(&data, &["repeatability", "--csv", path, "--json"]).json();
    let components = &found["analysis_of_variance"]["components"];
    near(&components["repeatability"], 0.046_766_783_6);
    near(&components["reproducibility"], 0.051_227_251_5);
    near(&components["part"], 0.797_841_715_4);
    near(&found["percent_study_variation"], 33.0739);
    near(&found["percent_contribution"], 10.9388);
    assert_eq!(found["distinct_categories"], 4);
    let ran = runproof_keeping(&data, &["repeatability", "--csv", path, "--tolerance", "20"]);
    // 6 √0.0979940350 of 20.
    assert!(
        ran.out.starts_with("STUDY: the gauge takes 9.4 % of the tolerance: good"),
        "{}",
        ran.out
    );
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);

    let study = |text: &str| {
        fs::write(&file, text).expect("written");
        runproof_keeping(&data, &["repeatability", "--csv", path])
    };
    let lacks_one = text.trim_end().rsplit_once('\n').expect("lines").0;
    complains(&study(lacks_one), 5, "of `part 4` that is not so");
    complains(&study("part,operator\n1,2\n"), 5, "holds no readings");
    complains(&study("part,operator,ohm\n1,2,x\n"), 5, "holds no readings");
    complains(&study("part,operator,ohm\n1,2,3\n"), 5, "this is no study");
    complains(&study("part,operator,ohm\n"), 5, "this is no study");
    complains(&study(&text.replace("3.29", "inf")), 5, "this is no study");
}

#[test]
fn a_study_from_records() {
    let data = folder("study-records");
    let mut told = vec![];
    for (run, scene) in [("short", "good-run"), ("long", "long-thin-run")] {
        for operator in ["day", "night"] {
            for _ in 0..2 {
                let words = [
                    "check",
                    "--simulate",
                    scene,
                    "--yes",
                    "--json",
                    "--job",
                    "study",
                    "--run-name",
                    run,
                    "--operator",
                    operator,
                ];
                let ran = runproof_keeping(&data, &words).json();
                told.push(ran["conductors"][3]["resistance_ohm"].as_f64().expect("ohms"));
            }
        }
    }
    let words = ["repeatability", "--job", "study", "--conductor", "supply", "--json"];
    let found = runproof_keeping(&data, &words).json();
    assert_eq!(
        (found["parts"].to_string(), found["trials"].as_u64()),
        (r#"["long","short"]"#.into(), Some(2))
    );
    // The runs differ by ohms, the readings of one by milliohms: the parts' variance is half the squared difference.
    let means = [&told[..4], &told[4..]].map(|four| four.iter().sum::<f64>() / 4.0);
    let parts = (means[0] - means[1]).powi(2) / 2.0;
    let found = found["analysis_of_variance"]["components"]["part"].as_f64().expect("a number");
    assert!((found / parts - 1.0).abs() < 1e-3, "{found}: {parts}");
    let check = ["check", "--simulate", "good-run", "--yes", "--job", "study"];
    runproof_keeping(&data, &check);
    complains(&runproof_keeping(&data, &words), 5, "record 9 does not say its --run-name");
    complains(
        &runproof_keeping(&data, &["repeatability", "--job", "other"]),
        5,
        "no record of the job other",
    );
}

#[test]
fn what_a_lots_process_can_do() {
    let data = folder("study-lot");
    let lot = ["lot", "open", "R-1", "--units", "5", "--series", "reels", "--every-unit"];
    assert_eq!(runproof_keeping(&data, &lot).status, 0);
    complains(&runproof_keeping(&data, &["capability", "R-1"]), 2, "no unit of the lot");
    let mut values = vec![];
    let mut limit = f64::NAN;
    for unit in ["1", "2", "3", "4", "5"] {
        let words = [
            "check",
            "--simulate",
            "good-run",
            "--yes",
            "--json",
            "--seed",
            unit,
            "--lot",
            "R-1",
            "--unit",
            unit,
            "--gauge",
            "18awg",
            "--length",
            "100ft",
        ];
        let one = runproof_keeping(&data, &words).json()["conductors"][1].clone();
        let per_kilometre = |key: &str| one[key].as_f64().expect("ohms") / 0.030_48;
        values.push(per_kilometre("resistance_ohm"));
        limit = per_kilometre("limit_ohm");
    }
    let mean = values.iter().sum::<f64>() / 5.0;
    let deviation = (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / 4.0).sqrt();
    let words = ["capability", "R-1", "--conductor", "data-", "--json", "--part", "90%"];
    let found = runproof_keeping(&data, &words).json();
    assert_eq!((found["unit"].as_str(), found["units"].as_u64()), (Some("ohm/km"), Some(5)));
    near(&found["mean"], mean);
    near(&found["capability"]["cpk"]["value"], (limit - mean) / (3.0 * deviation));
    // k of five units, 90 % with 95 %, one side: 3.400 (Natrella, Handbook 91, table A-7, from memory).
    let factor = (found["tolerance"]["most"].as_f64().expect("a number") - mean) / deviation;
    assert!((factor - 3.400).abs() < 0.01, "{factor}");
    let text = runproof_keeping(&data, &["capability", "R-1"]);
    assert!(text.out.contains("  Cpk ") && text.out.contains("SIMULATED"), "{}", text.out);
}
