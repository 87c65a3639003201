//! `label`: what is stuck on a lead, a reel or a run, as a drawing or a PDF.

use std::path::{Path, PathBuf};

use runproof_interpret::judgement::Verdict;
use runproof_records::{Record, UnitTest};

use super::again;
use crate::arguments::{Label as Arguments, Units};
use crate::error::{Error, LotError, PaperError, ProofError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::lots::Lot;
use crate::shop::proofs::Jigs;
use crate::show::label::grid::Grid;
use crate::show::label::size::Size;
use crate::show::label::{Label, alone, saved};
use crate::{captures, files};

pub(super) fn run(arguments: &Arguments) -> Result<Exit, Error> {
    let units = arguments.in_units.units;
    let labels = match &arguments.lot {
        Some(lot) => of_lot(lot, units)?,
        None => arguments.of.iter().map(|name| of_record(name, units)).collect::<Result<_, _>>()?,
    };
    let (page, drawings) = drawn(arguments, &labels)?;
    let to = arguments.to.clone().unwrap_or_else(|| named_after(arguments));
    if arguments.pdf || super::paper::is_pdf(&to) {
        let bytes = super::paper::pdf_of("labels", page, &drawings)?;
        super::print(&saved(labels.len(), &files::save_bytes(to, &bytes)?))?;
        return Ok(Exit::Pass);
    }
    for (n, drawing) in (1..).zip(&drawings) {
        let path = if drawings.len() == 1 { to.clone() } else { numbered(&to, n) };
        super::print(&saved(labels.len(), &files::save(path, drawing)?))?;
    }
    Ok(Exit::Pass)
}

/// How large a page is, and what is on each.
fn drawn(arguments: &Arguments, labels: &[Label]) -> Result<(Size, Vec<String>), Error> {
    let label = arguments.size;
    if arguments.sheet.is_none() && arguments.lot.is_none() {
        return Ok((label, labels.iter().map(|one| alone(one, label)).collect()));
    }
    let paper = arguments.paper.size();
    let pitch = arguments.pitch.unwrap_or(label);
    if pitch.width_mm <= 0.0 || pitch.height_mm <= 0.0 {
        return Err(PaperError::OffSheet.into());
    }
    let full = Grid::full(paper, label, arguments.margin, pitch);
    let grid = Grid { counts: arguments.sheet.unwrap_or(full.counts), ..full };
    if !grid.fits() {
        return Err(PaperError::OffSheet.into());
    }
    Ok((paper, grid.sheets(labels)))
}

fn of_record(name: &Path, units: Units) -> Result<Label, Error> {
    match captures::named(name)? {
        captures::Named::Record(number, record) => {
            captures::has_result(number, &record)?;
            label(number, &record, units)
        }
        captures::Named::File(_) => Err(PaperError::NoRecord { path: name.into() }.into()),
    }
}

fn label(number: i64, record: &Record, units: Units) -> Result<Label, Error> {
    let again = again::of(record)?.ok_or(ProofError::NoRun { number })?;
    Ok(Label::of(number, record, &again.judged, again.known.length, units))
}

/// Unit by unit: of the tests that count for its lot the last, or the last that failed.
fn of_lot(name: &str, units: Units) -> Result<Vec<Label>, Error> {
    let none = || LotError::NoLot { name: name.into() };
    let store = recording::store_to_read()?.ok_or_else(none)?;
    let lot = Lot::named(&store, name)?;
    let all = store.unit_tests(lot.number)?;
    let is_its =
        |one: &&UnitTest| one.counts() && one.kind == lot.opened.test && one.by_the_lots_sheet;
    let mut chosen: Vec<(u32, &UnitTest)> = vec![];
    for one in all.iter().filter(is_its) {
        let Ok(unit) = one.unit.trim().parse() else { continue };
        match chosen.iter_mut().find(|(its, _)| *its == unit) {
            None => chosen.push((unit, one)),
            Some((_, before)) if is_graver(before, one) => {}
            Some((_, before)) => *before = one,
        }
    }
    if chosen.is_empty() {
        return Err(PaperError::NothingTested { lot: lot.name }.into());
    }
    chosen.sort_by_key(|(unit, _)| *unit);
    let mut jigs = Jigs::new(&store);
    let each = chosen.into_iter().map(|(_, one)| {
        let label = label(one.number, &store.record(one.number)?, units)?;
        let was_right = jigs.was_right(&one.jig, one.at.as_second())?;
        Ok(if was_right { label } else { label.not_proved() })
    });
    each.collect()
}

/// A unit that failed once is no good one because it passes later.
fn is_graver(before: &UnitTest, later: &UnitTest) -> bool {
    before.verdict == Some(Verdict::Fail) && later.verdict != Some(Verdict::Fail)
}

fn named_after(arguments: &Arguments) -> PathBuf {
    let names: Vec<String> = match &arguments.lot {
        Some(lot) => vec![lot.clone()],
        None => arguments.of.iter().map(|name| name.display().to_string()).collect(),
    };
    let form = if arguments.pdf { "pdf" } else { "svg" };
    PathBuf::from(format!("label-{}.{form}", super::paper::plain(&names.join("-"))))
}

fn numbered(path: &Path, n: usize) -> PathBuf {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let form = path.extension().map(|form| format!(".{}", form.to_string_lossy()));
    path.with_file_name(format!("{stem}-{n}{}", form.unwrap_or_default()))
}
