//! The model of expected results: what each built-in scene must come to.

use serde_json::{Value, json};

use crate::program::{Ran, runproof};

/// A scene and what it must come to.
pub(crate) struct Expected {
    /// The scene's name.
    pub(crate) scene: &'static str,
    /// The verdict, and with it the exit status.
    pub(crate) verdict: &'static str,
    /// The kind of the gravest finding, and the posts it concerns.
    pub(crate) finding: Option<(&'static str, &'static [u8])>,
    /// Per post: the plug's terminal that it arrives at, 0 for not known; and its verdict.
    pub(crate) conductors: [(u8, &'static str); 4],
    /// Wire resistance of one conductor at the scene's temperature, where there is one.
    pub(crate) wire_ohm: f64,
}

/// ρ(t) = ρ₂₀ (1 + 0.00393 (t − 20)): IEC 60028. 20.95 Ω/km: 18 AWG, ASTM B258.
const fn wire_ohm(length_m: f64, copper_c: f64) -> f64 {
    20.95e-3 * length_m * (1.0 + 0.003_93 * (copper_c - 20.0))
}

const PASS: &str = "pass";
const FAIL: &str = "fail";
const CANNOT: &str = "cannot-tell";

/// Every built-in scene.
pub(crate) const ALL: [Expected; 6] = [
    Expected {
        scene: "good-run",
        verdict: PASS,
        finding: None,
        conductors: [(1, PASS), (2, PASS), (3, PASS), (4, PASS)],
        wire_ohm: wire_ohm(30.0, 27.0),
    },
    Expected {
        scene: "reversed-pair",
        verdict: FAIL,
        finding: Some(("reversed-pair", &[1, 2])),
        conductors: [(2, FAIL), (1, FAIL), (3, PASS), (4, PASS)],
        wire_ohm: wire_ohm(42.0, 48.0),
    },
    Expected {
        scene: "crossed-supply",
        verdict: FAIL,
        finding: Some(("crossed", &[2, 4])),
        conductors: [(1, PASS), (4, FAIL), (3, PASS), (2, FAIL)],
        wire_ohm: wire_ohm(24.0, 22.0),
    },
    Expected {
        scene: "open-supply",
        verdict: FAIL,
        finding: Some(("open", &[4])),
        conductors: [(1, PASS), (2, PASS), (3, PASS), (0, FAIL)],
        wire_ohm: wire_ohm(30.0, 19.0),
    },
    Expected {
        scene: "no-plug",
        verdict: CANNOT,
        finding: Some(("no-end-plug", &[])),
        conductors: [(0, CANNOT); 4],
        wire_ohm: wire_ohm(30.0, 21.0),
    },
    Expected {
        scene: "powered-run",
        verdict: CANNOT,
        finding: Some(("hazard", &[])),
        conductors: [(0, CANNOT); 4],
        wire_ohm: wire_ohm(30.0, 25.0),
    },
];

impl Expected {
    /// The exit status that goes with the verdict.
    pub(crate) fn status(&self) -> i32 {
        match self.verdict {
            PASS => 0,
            FAIL => 1,
            _ => 2,
        }
    }

    /// What is wrong with a result; empty if nothing is.
    pub(crate) fn differences(&self, status: i32, result: &Value) -> Vec<String> {
        let mut wrong = vec![];
        let mut compare = |what: &str, found: &Value, wanted: Value| {
            if *found != wanted {
                wrong.push(format!("{what} is {found}, not {wanted}"));
            }
        };
        compare("exit status", &json!(status), json!(self.status()));
        compare("verdict", &result["verdict"], json!(self.verdict));
        let first = &result["findings"][0];
        compare("finding", &first["kind"], json!(self.finding.map(|(kind, _)| kind)));
        if let Some((_, posts)) = self.finding {
            compare("posts", &first["posts"], json!(posts));
        }
        for (k, (reaches, verdict)) in self.conductors.into_iter().enumerate() {
            let conductor = &result["conductors"][k];
            compare("post", &conductor["post"], json!(k + 1));
            let reaches = (reaches != 0).then_some(reaches);
            compare(&format!("{} reaches", k + 1), &conductor["reaches"], json!(reaches));
            compare(&format!("{} verdict", k + 1), &conductor["verdict"], json!(verdict));
        }
        wrong
    }

    /// Conductors whose true resistance lies in the stated interval, and all with an interval. One
    /// cable's conductors differ by 1 % (standard deviation) in the simulated world.
    fn covered(&self, result: &Value) -> (usize, usize) {
        let intervals = (0..4).filter_map(|k| {
            let conductor = &result["conductors"][k];
            let ohm = conductor["resistance_ohm"].as_f64()?;
            Some((ohm, conductor["expanded_uncertainty_ohm"].as_f64()?))
        });
        intervals.fold((0, 0), |(inside, all), (ohm, u_ohm)| {
            let spread_ohm = 0.02 * self.wire_ohm;
            let is_inside = (ohm - self.wire_ohm).abs() <= u_ohm + spread_ohm;
            (inside + usize::from(is_inside), all + 1)
        })
    }
}

/// How many checks came out right.
#[derive(Default)]
pub(crate) struct Tally {
    right: usize,
    wrong: Vec<String>,
    inside: usize,
    intervals: usize,
}

impl Tally {
    /// Counts a check whose capture was saved in `file`, and the capture judged again.
    pub(crate) fn count(&mut self, expected: &Expected, seed: u32, checked: &Ran, file: &str) {
        let complained = checked.err.contains("runproof:");
        assert!(!complained, "{} seed {seed}: {}", expected.scene, checked.err);
        let result = checked.json();
        let judged = runproof(&["judge", file, "--json"]);
        let mut differences = expected.differences(checked.status, &result);
        if judged.status != checked.status || judged.json() != result {
            differences.push("judging the capture again gives another result".into());
        }
        if differences.is_empty() {
            self.right += 1;
        } else {
            self.wrong.push(format!("{} seed {seed}: {differences:?}", expected.scene));
        }
        let (inside, intervals) = expected.covered(&result);
        self.inside += inside;
        self.intervals += intervals;
    }

    /// All of `checks` came out right, and the intervals cover what they promise.
    pub(crate) fn is_right(&self, checks: usize) {
        let Self { right, wrong, inside, intervals } = self;
        println!("{right} right, {} wrong; {inside} of {intervals} cover the wire", wrong.len());
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        assert_eq!(*right, checks);
        assert!(inside * 100 >= intervals * 94, "{inside} of {intervals} cover the wire");
    }
}
