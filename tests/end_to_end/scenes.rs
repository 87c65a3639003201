//! The model of expected results: what each built-in scene must come to.

use serde_json::{Value, json};

use crate::program::{Ran, runproof};

/// A scene and what it must come to.
pub(crate) struct Expected {
    /// The scene's name.
    pub(crate) scene: &'static str,
    /// The limit sheet, where it is not the usual one.
    sheet: Option<&'static str>,
    /// The verdict, and with it the exit status.
    pub(crate) verdict: &'static str,
    /// The gravest finding.
    pub(crate) finding: Option<Gravest>,
    /// Per post: the plug's terminal that it arrives at, 0 for not known; and its verdict.
    pub(crate) conductors: &'static [(u8, &'static str)],
    /// Wire resistance of each conductor at the scene's temperature, where they are alike.
    pub(crate) wire_ohm: Option<f64>,
}

/// What the gravest finding must say.
#[derive(Clone, Copy)]
pub(crate) struct Gravest {
    kind: &'static str,
    posts: &'static [u8],
    cause: Option<&'static str>,
}

/// ρ(t) = ρ₂₀ (1 + 0.00393 (t − 20)): IEC 60028. 20.95 Ω/km: 18 AWG, ASTM B258.
const fn wire_ohm(length_m: f64, copper_c: f64) -> f64 {
    20.95e-3 * length_m * (1.0 + 0.003_93 * (copper_c - 20.0))
}

const PASS: &str = "pass";
const FAIL: &str = "fail";
const CANNOT: &str = "cannot-tell";

/// Built-in scenes of another test: `to_earth.rs` beside this has what they must come to.
pub(crate) const TO_EARTH: [&str; 4] =
    ["sound-to-earth", "nicked-to-conduit", "damp-conduit", "shield-bonded-far"];

/// Every other built-in scene.
pub(crate) const ALL: [Expected; 29] = [
    expected("good-run", PASS).conductors(STRAIGHT).wire(30.0, 27.0),
    expected("reversed-pair", FAIL)
        .found("reversed-pair", &[1, 2])
        .conductors(&[(2, FAIL), (1, FAIL), (3, PASS), (4, PASS)])
        .wire(42.0, 48.0),
    expected("crossed-supply", FAIL)
        .found("crossed", &[2, 4])
        .conductors(&[(1, PASS), (4, FAIL), (3, PASS), (2, FAIL)])
        .wire(24.0, 22.0),
    expected("rolled-splice", FAIL)
        .found("crossed", &[1, 2, 3])
        .conductors(&[(2, FAIL), (3, FAIL), (1, FAIL), (4, PASS)])
        .wire(21.0, 22.0),
    expected("tail-exchanged", FAIL)
        .found("crossed", &[2, 3])
        .conductors(&[(1, PASS), (3, FAIL), (2, FAIL), (4, PASS)])
        .wire(27.0, 18.0),
    expected("clips-shifted", FAIL)
        .found("crossed", &[1, 2, 3, 4])
        .conductors(&[(4, FAIL), (1, FAIL), (2, FAIL), (3, FAIL)])
        .wire(30.0, 22.0),
    expected("open-supply", FAIL)
        .found("open", &[4])
        .conductors(&[(1, PASS), (2, PASS), (3, PASS), (0, FAIL)])
        .wire(30.0, 19.0),
    expected("cut-common", FAIL)
        .found("open", &[3])
        .conductors(&[(1, PASS), (2, PASS), (0, FAIL), (4, PASS)])
        .wire(38.0, 22.0),
    expected("cut-through", CANNOT).found("no-end-plug", &[]),
    expected("reversed-and-open", FAIL)
        .found("open", &[4])
        .conductors(&[(2, FAIL), (1, FAIL), (3, PASS), (0, FAIL)])
        .wire(30.0, 22.0),
    expected("staple-short", FAIL).found("short", &[2, 3]).conductors(&[
        (1, CANNOT),
        (0, FAIL),
        (0, FAIL),
        (4, CANNOT),
    ]),
    expected("nail-through-three", FAIL).found("short", &[2, 3, 4]).conductors(&[
        (0, CANNOT),
        (0, FAIL),
        (0, FAIL),
        (0, FAIL),
    ]),
    expected("corroded-splice", FAIL).found("high-resistance", &[4]).conductors(&[
        (1, PASS),
        (2, PASS),
        (3, PASS),
        (4, FAIL),
    ]),
    expected("loose-data-screw", PASS).found("uneven-resistance", &[1]).conductors(STRAIGHT),
    expected("long-thin-run", FAIL).found("high-resistance", &[3]).conductors(&[
        (1, PASS),
        (2, PASS),
        (3, FAIL),
        (4, FAIL),
    ]),
    expected("damp-splice", FAIL).found("leakage", &[1, 3]).conductors(STRAIGHT).wire(45.0, 22.0),
    expected("slightly-damp", PASS).found("leakage", &[1, 3]).conductors(STRAIGHT).wire(45.0, 22.0),
    expected("terminator-left", CANNOT).found("something-connected", &[1, 2]).because("terminator"),
    expected("transformer-landed", CANNOT).found("something-connected", &[3, 4]).because("winding"),
    expected("receiver-landed", CANNOT)
        .found("something-connected", &[1, 2, 3])
        .because("receiver")
        .conductors(STRAIGHT)
        .wire(30.0, 22.0),
    expected("rectifier-landed", CANNOT)
        .found("something-connected", &[3, 4])
        .because("not-plain")
        .conductors(STRAIGHT)
        .wire(30.0, 22.0),
    expected("ghost-voltage", PASS).found("hum", &[]).conductors(STRAIGHT).wire(30.0, 24.0),
    expected("hum-alongside", CANNOT).found("hum", &[1, 2]),
    expected("two-wire", PASS).by("two-wire-bus").conductors(&[]),
    expected("powered-run", CANNOT).found("hazard", &[]).because("hazard"),
    expected("no-plug", CANNOT).found("no-end-plug", &[]),
    expected("wrong-cable", CANNOT).found("no-end-plug", &[]),
    expected("plug-left-in", CANNOT)
        .found("incomplete", &[])
        .because("plug-not-out")
        .conductors(STRAIGHT)
        .wire(30.0, 22.0),
    expected("tail-on-clips", CANNOT)
        .found("incomplete", &[])
        .because("plug-not-out")
        .conductors(STRAIGHT),
];

const STRAIGHT: &[(u8, &str)] = &[(1, PASS), (2, PASS), (3, PASS), (4, PASS)];

/// Nothing found, and nothing known of the conductors, until more is said.
const fn expected(scene: &'static str, verdict: &'static str) -> Expected {
    Expected {
        scene,
        sheet: None,
        verdict,
        finding: None,
        conductors: &[(0, CANNOT); 4],
        wire_ohm: None,
    }
}

impl Expected {
    const fn found(self, kind: &'static str, posts: &'static [u8]) -> Self {
        Self { finding: Some(Gravest { kind, posts, cause: None }), ..self }
    }

    const fn because(self, cause: &'static str) -> Self {
        match self.finding {
            Some(gravest) => {
                Self { finding: Some(Gravest { cause: Some(cause), ..gravest }), ..self }
            }
            None => panic!("a cause needs its finding"),
        }
    }

    const fn by(self, sheet: &'static str) -> Self {
        Self { sheet: Some(sheet), ..self }
    }

    const fn conductors(self, conductors: &'static [(u8, &'static str)]) -> Self {
        Self { conductors, ..self }
    }

    /// Each conductor is a wire of this length, at this temperature.
    const fn wire(self, length_m: f64, copper_c: f64) -> Self {
        Self { wire_ohm: Some(wire_ohm(length_m, copper_c)), ..self }
    }

    /// The gravest finding says no less and no more than the verdict.
    const fn severity(&self) -> &'static str {
        match self.verdict.as_bytes() {
            b"pass" => "note",
            _ => self.verdict,
        }
    }

    /// With what the program must be told for this scene.
    pub(crate) fn told(&self) -> Vec<&'static str> {
        self.sheet.map_or(vec![], |sheet| vec!["--sheet", sheet])
    }

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
        match &self.finding {
            None => compare("finding", first, Value::Null),
            Some(gravest) => {
                compare("finding", &first["kind"], json!(gravest.kind));
                compare("posts", &first["posts"], json!(gravest.posts));
                compare("cause", &first["cause"], json!(gravest.cause));
                compare("severity", &first["severity"], json!(self.severity()));
            }
        }
        let count = result["conductors"].as_array().map_or(0, Vec::len);
        compare("conductors", &json!(count), json!(self.conductors.len()));
        for (k, &(reaches, verdict)) in self.conductors.iter().enumerate() {
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
        let Some(wire_ohm) = self.wire_ohm else { return (0, 0) };
        let intervals = (0..4).filter_map(|k| {
            let conductor = &result["conductors"][k];
            let ohm = conductor["resistance_ohm"].as_f64()?;
            Some((ohm, conductor["expanded_uncertainty_ohm"].as_f64()?))
        });
        intervals.fold((0, 0), |(inside, all), (ohm, u_ohm)| {
            let spread_ohm = 0.02 * wire_ohm;
            let is_inside = (ohm - wire_ohm).abs() <= u_ohm + spread_ohm;
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
        let judged = runproof(&[&["judge", file, "--json"], &*expected.told()].concat());
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

    /// What another tally counted as well.
    pub(crate) fn add(&mut self, other: Self) {
        self.right += other.right;
        self.wrong.extend(other.wrong);
        self.inside += other.inside;
        self.intervals += other.intervals;
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
