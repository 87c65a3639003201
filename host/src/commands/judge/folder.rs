//! Every capture of a folder, on all processor cores: a line each as it comes, then how many of which.

use std::path::Path;

use rayon::prelude::*;
use runproof_interpret::judgement::Verdict;
use runproof_interpret::{LimitSheet, LiveKnowledge, RunKnowledge, judge, judge_live, judge_reel};

use super::super::{flex, print, reel, to_earth};
use crate::arguments::Output;
use crate::error::Error;
use crate::exit::Exit;
use crate::files;
use crate::show::folder::{Counts, line, totals};
use crate::show::judged::Judged;
use crate::show::progress::Rewritten;

/// So many are judged before their lines are printed: what is held of a large folder.
const AT_ONCE: usize = 64;

/// The worst of all: a file that cannot be judged, else the verdicts together.
pub(super) fn run(
    folder: &Path,
    sheet: &LimitSheet,
    (known, known_live): (&RunKnowledge, &LiveKnowledge),
    output: Output,
) -> Result<Exit, Error> {
    let sheet_of_reels =
        if *sheet == LimitSheet::service_24vac() { LimitSheet::reel() } else { sheet.clone() };
    let files = files::in_folder(folder)?;
    let width =
        files.iter().map(|file| files::name(file).chars().count()).max().unwrap_or_default();
    let (mut counts, of) = (Counts::default(), files.len());
    let mut progress = Rewritten::new();
    for files in files.chunks(AT_ONCE) {
        let judged: Vec<(Option<Verdict>, String)> = files
            .par_iter()
            .map(|file| {
                let judged = files::read_capture(file).map_err(Error::from).and_then(|capture| {
                    if capture.is_live() {
                        let judgement = judge_live(&capture, sheet, known_live);
                        return Ok(Judged::Live(capture, judgement));
                    }
                    if capture.is_flex() {
                        flex::takes(known)?;
                        let seen = Box::new(flex::seen(&capture, sheet));
                        return Ok(Judged::Flex(capture, seen));
                    }
                    if capture.reel().is_some() {
                        reel::takes(known)?;
                        let judgement = Box::new(judge_reel(&capture, &sheet_of_reels));
                        return Ok(Judged::Reel(capture, judgement));
                    }
                    to_earth::check_told(&capture, known)?;
                    let judgement = judge(&capture, sheet, known);
                    Ok(Judged::Check(capture, judgement))
                });
                let verdict = judged.as_ref().ok().map(Judged::verdict);
                (verdict, line(&files::name(file), width, &judged, known, output.json))
            })
            .collect();
        progress.clear();
        let text: String = judged.iter().map(|(_, line)| line.as_str()).collect();
        print(&text)?;
        judged.iter().for_each(|(verdict, _)| counts.add(*verdict));
        progress.write(&format!("judged {} of {of} …", counts.all()));
    }
    progress.clear();
    if !output.json {
        print(&totals(&counts, known, output.in_units.units))?;
    }
    Ok(counts.verdict().map_or(Exit::BadFile, Exit::from))
}
