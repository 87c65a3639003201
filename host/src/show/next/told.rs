//! In words, plain enough to be read aloud.

use runproof_interpret::judgement::{Finding, Verdict};
use runproof_interpret::next::{Evidence, Kind, Origin, Source};

use super::{Commands, Shown, Told, command};
use crate::show::terminal::{broken, paragraph};
use crate::show::words;

impl Told<'_> {
    pub(crate) fn words(&self, commands: &Commands) -> String {
        let step = self.advice.step;
        let mut lines = vec![];
        broken(&mut lines, words::next_head(step).into(), 2, &step.text);
        for (label, text) in self.dangers() {
            paragraph(&mut lines, label, text);
        }
        for caution in words::next_cautions(step, self.known.is_clipped_on) {
            paragraph(&mut lines, "CAUTION", &caution);
        }
        lines.push(String::new());
        for (text, at) in words::next_first(&self.advice.first).zip(0..) {
            paragraph(&mut lines, if at == 0 { "first" } else { "then" }, text);
        }
        for (file, remedy) in self.remedies() {
            paragraph(
                &mut lines,
                "remedy",
                &format!("{remedy} (the check's own next step, {file})"),
            );
        }
        if let Some(wiring) = step.wiring {
            paragraph(&mut lines, "wiring", words::wiring(wiring));
        }
        for one in &self.advice.because {
            paragraph(&mut lines, "because", &format!("{}.", words::evidence(one)));
        }
        for one in &self.advice.left {
            paragraph(&mut lines, "left", &format!("{}.", one.text));
        }
        for (suspects, why) in self.ruled_out() {
            paragraph(&mut lines, "ruled out", &format!("{}. By {why}.", suspects.join("; ")));
        }
        if self.advice.ruled_out.is_empty() {
            paragraph(&mut lines, "ruled out", "nothing yet.");
        }
        for one in &self.known.contradictions {
            paragraph(&mut lines, "contradiction", &words::contradiction(one));
        }
        for one in self.known.impossible() {
            paragraph(&mut lines, "contradiction", &words::impossible(&one));
        }
        for one in &self.known.superseded {
            paragraph(&mut lines, "superseded", &format!("{}.", words::evidence(one)));
        }
        for one in self.captures {
            let is_past = |old: &Evidence<'_>| matches!(&old.settled.origin, Origin::Measured(file) if *file == one.file);
            let is_past = self.known.superseded.iter().any(is_past);
            let is_said = is_past || self.remedies().iter().any(|(file, _)| *file == one.file);
            paragraph(&mut lines, "measured", &measured(one, is_said));
        }
        if let Some(tell) = &step.tell {
            paragraph(&mut lines, "outcome", tell);
        }
        for (text, at) in words::next_closing(step, &self.advice.close).iter().zip(0..) {
            paragraph(&mut lines, if at == 0 { "at the end" } else { "then" }, text);
        }
        self.commands(&mut lines, commands);
        paragraph(&mut lines, "source", &step.source);
        lines.push(String::new());
        // What comes from a file must not steer the terminal.
        words::printable(&lines.join("\n"))
    }

    fn commands(&self, lines: &mut Vec<String>, commands: &Commands) {
        for (words, at) in commands.run.iter().zip(0..) {
            command::lines(lines, if at == 0 { "run" } else { "then" }, 17, words);
        }
        if let Some(words) = &commands.or_told {
            command::lines(lines, "or, told", 17, words);
        }
        if commands.run.len() == 1 || commands.or_told.is_some() {
            for fact in self.advice.step.settles.iter().map(|fact| &self.steps.facts[*fact]) {
                let place = match fact.kind {
                    Kind::YesNo => "ANSWER",
                    Kind::Outcome(_) => "WORD",
                    Kind::Number { .. } => "NUMBER",
                };
                let text = format!("{}: {} or unknown.", fact.key, fact.kind.expected());
                paragraph(lines, place, &text);
            }
        }
    }

    /// What the captures that the step asks for say to do: of two of a kind, the later one.
    pub(super) fn remedies(&self) -> Vec<(&str, &'static str)> {
        let of = |source: &Source| {
            let last = self.captures.iter().rev().find(|one| one.source == *source)?;
            match &last.shown {
                Shown::Check(judgement) if judgement.verdict != Verdict::Pass => {
                    Some((last.file.as_str(), words::next_step(judgement)))
                }
                _ => None,
            }
        };
        self.advice.step.remedy.iter().filter_map(of).collect()
    }

    /// What is out of it, those by the same evidence together.
    fn ruled_out(&self) -> Vec<(Vec<&str>, String)> {
        let mut all: Vec<(Vec<&str>, String)> = vec![];
        for one in &self.advice.ruled_out {
            let why: Vec<String> = one.because.iter().map(words::evidence).collect();
            let why = why.join("; ");
            match all.iter_mut().find(|(_, known)| *known == why) {
                Some((suspects, _)) => suspects.push(&one.suspect.text),
                None => all.push((vec![&one.suspect.text], why)),
            }
        }
        all
    }

    /// What a capture says that must not be missed, each once; of several of a kind the last one counts.
    fn dangers(&self) -> Vec<(&'static str, &'static str)> {
        let mut all = vec![];
        for (n, one) in self.captures.iter().enumerate() {
            if self.captures[n + 1..].iter().any(|later| later.source == one.source) {
                continue;
            }
            let told: Vec<_> = match &one.shown {
                Shown::Live(judgement) => {
                    words::live::dangers(judgement).map(|text| ("DANGER", text)).collect()
                }
                Shown::Check(judgement) => judgement.findings.iter().flat_map(of_finding).collect(),
            };
            for one in told {
                if !all.contains(&one) {
                    all.push(one);
                }
            }
        }
        all
    }
}

/// What a capture came to, and what its own next step is where it does not pass and nothing else says so.
fn measured(one: &super::Judged, is_said: bool) -> String {
    let (verdict, said, next) = match &one.shown {
        Shown::Live(judgement) => {
            let said = words::live::headline(judgement);
            (judgement.verdict, said, words::live::next_step(judgement))
        }
        Shown::Check(judgement) => {
            let said = words::headline(judgement);
            (judgement.verdict, said, words::next_step(judgement))
        }
    };
    let next = match verdict {
        Verdict::Pass => String::new(),
        _ if is_said => String::new(),
        _ => format!(" Its own next step: {next}"),
    };
    let (taken, verdict) = (words::taken(one.source), words::verdict(verdict));
    format!("{}, {taken}: {verdict}: {said}{next}", one.file)
}

fn of_finding(finding: &Finding) -> impl Iterator<Item = (&'static str, &'static str)> + use<> {
    let danger = words::danger(finding).map(|text| ("DANGER", text));
    danger.into_iter().chain(words::caution(finding).map(|text| ("CAUTION", text)))
}
