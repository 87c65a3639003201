//! One session: what the program said of each lead, held against what the operator had in hand.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::fs;
use std::path::PathBuf;
use std::process::Command;

use serde_json::Value;

#[derive(Debug, Default)]
pub(crate) struct Session {
    leads: u32,
    skipped: u32,
    twice: u32,
    /// By what was wrong with the lead: how many, and how many verdicts or faults told were wrong.
    by_fault: BTreeMap<String, [u32; 2]>,
    asked_again: usize,
    hours: f64,
}

impl Session {
    pub(crate) fn of(seed: u64, count: u32, fixtures: u32) -> Self {
        let name = format!("leads-{}-{seed}", std::process::id());
        let data = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
        let wanted = count;
        let [seed, count, fixtures_told] =
            [seed, count.into(), fixtures.into()].map(|number: u64| number.to_string());
        let ran = Command::new(env!("CARGO_BIN_EXE_runproof"))
            .args([
                "lead",
                "--simulate",
                "leads",
                "--gauge",
                "18awg",
                "--length",
                "5.5ft",
                "--json",
            ])
            .args(["--seed", &seed, "--count", &count, "--fixtures", &fixtures_told])
            .env("XDG_DATA_HOME", &data)
            .output()
            .expect("the program starts");
        let _none_is_kept = fs::remove_dir_all(&data);
        let (out, told) =
            (String::from_utf8_lossy(&ran.stdout), String::from_utf8_lossy(&ran.stderr));
        assert_eq!(out.lines().count() as u32, wanted, "{told}");
        let mut session =
            Self { asked_again: told.matches("Not counted").count(), ..Self::default() };
        let mut seen = BTreeSet::new();
        let mut last = Value::Null;
        for line in out.lines() {
            let line: Value = serde_json::from_str(line).expect("a line of JSON");
            let nth = line["simulated"]["nth"].as_u64().expect("which lead") as u32;
            session.leads += 1;
            session.twice += u32::from(!seen.insert(nth));
            let fault = line["simulated"]["fault"].as_str().expect("its fault");
            let [of, wrong] = session.by_fault.entry(fault.to_owned()).or_default();
            *of += 1;
            *wrong += u32::from(!is_right(fault, &line));
            last = line;
        }
        // As the session ends, a lead may still be in each other fixture.
        let missing = seen.last().map_or(0, |last| last - seen.len() as u32);
        session.skipped = missing.saturating_sub(fixtures - 1);
        let rate = last["leads_per_hour"].as_f64().expect("a rate");
        session.hours = f64::from(session.leads) / rate;
        session
    }

    pub(crate) fn add(&mut self, other: &Self) {
        self.leads += other.leads;
        self.skipped += other.skipped;
        self.twice += other.twice;
        self.asked_again += other.asked_again;
        self.hours += other.hours;
        for (fault, [of, wrong]) in &other.by_fault {
            let all = self.by_fault.entry(fault.clone()).or_default();
            *all = [all[0] + of, all[1] + wrong];
        }
    }
}

/// The verdict, and what is said to be wrong.
fn is_right(fault: &str, line: &Value) -> bool {
    let told = line["fault"].as_str();
    match fault {
        "sound" => line["verdict"] == "pass",
        "crossed" => line["verdict"] == "fail" && matches!(told, Some("crossed" | "reversed-pair")),
        "damp" => line["verdict"] == "fail" && told == Some("leakage"),
        other => line["verdict"] == "fail" && told == Some(other),
    }
}

impl fmt::Display for Session {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "| what | count |\n|---|---:|")?;
        writeln!(f, "| leads counted | {} |", self.leads)?;
        writeln!(f, "| skipped | {} |\n| counted twice | {} |", self.skipped, self.twice)?;
        for (fault, [of, wrong]) in &self.by_fault {
            writeln!(f, "| {}: told wrong, of {of} | {wrong} |", fault.replace('-', " "))?;
        }
        writeln!(f, "| asked for again, or to be taken out | {} |", self.asked_again)?;
        write!(f, "| an hour of the jig's time | {:.0} |", f64::from(self.leads) / self.hours)
    }
}
