//! The screen as lines: what fits its size, the lanes before all else.

use ratatui::style::{Modifier, Style, Stylize};
use ratatui::text::{Line, Span};
use runproof_interpret::flex::FlexLane;

use super::model::{Model, Row};
use super::strip::{LETTER_S, Mark};
use crate::show::words::flex::{self, duration, ohms, rise};

/// What is around lanes, where there is room.
const AROUND: usize = 6;

/// So many letters of a strip at most.
const STRIP_MAX: usize = super::strip::LETTERS_MAX;

/// How a mark is drawn beside its shape.
#[derive(Clone, Copy)]
pub(super) struct Ink {
    pub(super) colours: bool,
}

/// All of it.
pub(super) fn page(model: &Model, width: usize, height: usize, ink: Ink) -> Vec<Line<'static>> {
    let lanes = model.rows.len();
    let tall = height >= 2 * lanes + AROUND;
    let mut top: Vec<Line> = vec![];
    let mut foot: Vec<Line> = vec![];
    if height >= lanes + 2 {
        top.push(title(model));
    }
    if height >= lanes + 3 {
        top.push(Line::from(heading(model, width)).add_modifier(Modifier::DIM));
    }
    for row in &model.rows {
        top.push(lane(model, row, width, tall, ink));
        if tall {
            top.push(strip(model, row, width, ink));
        }
    }
    if tall {
        top.push(axis(model, width));
    }
    if height >= lanes + AROUND {
        foot.extend([Line::from(legend(model)), Line::from(heard(model))]);
    }
    if height > lanes + 2 || model.typing.is_some() {
        foot.push(keys(model));
    }
    let room = height.saturating_sub(top.len() + foot.len());
    let recent = model.recent.iter().rev().take(room).rev();
    let mut all: Vec<Line> = top;
    all.extend(recent.map(|told| Line::from(told.clone())));
    let gap = height.saturating_sub(all.len() + foot.len());
    all.extend((0..gap).map(|_| Line::default()));
    // Where even the lanes have no room, what is typed has.
    all.truncate(height.saturating_sub(foot.len()));
    all.extend(foot);
    all
}

fn title(model: &Model) -> Line<'static> {
    let watched = duration((model.watched_s.max(0.0) * 1e6) as u64);
    if model.lost {
        return Line::from(format!(" {}", flex::LOST)).bold();
    }
    if !model.begun || model.rows.is_empty() {
        return Line::from(flex::BEGINS).bold();
    }
    Line::from(flex::title(model.is_pairs(), &watched)).bold()
}

/// Which columns there is room for: heading, letters, from this width on.
const COLUMNS: [(&str, &str, usize, usize); 7] = [
    ("now", "now", 10, 0),
    ("breaks", "touches", 8, 0),
    ("longest", "longest", 9, 34),
    ("in all", "in all", 9, 46),
    ("least", "least", 9, 72),
    ("most", "", 9, 62),
    ("rises", "", 6, 78),
];
const NAME: usize = 15;

fn heading(model: &Model, width: usize) -> String {
    let pairs = model.is_pairs();
    let named = if pairs { " pair" } else { " conductor" };
    let columns = COLUMNS.iter().filter(|column| width >= column.3);
    let told = columns.map(|column| {
        let heading = if pairs { column.1 } else { column.0 };
        let width = column.2;
        format!("{heading:<width$}")
    });
    format!("{named:<NAME$}{}", told.collect::<String>())
}

fn lane(model: &Model, row: &Row, width: usize, tall: bool, ink: Ink) -> Line<'static> {
    let told = cells(&row.lane, &row.now, model.is_pairs());
    let columns = COLUMNS.iter().zip(told).filter(|(column, _)| width >= column.3);
    let cells: String = columns
        .map(|(column, cell)| {
            let width = column.2;
            format!("{cell:<width$}")
        })
        .collect();
    let text = format!(" {:<name$}{cells}", row.name, name = NAME - 1);
    let used = text.chars().count();
    let is_bad = row.now.chars().next().is_some_and(char::is_uppercase);
    let style = if is_bad { bad(ink).add_modifier(Modifier::REVERSED) } else { Style::default() };
    let mut spans = vec![Span::styled(text, style)];
    if !tall && width > used + 4 {
        spans.extend(letters(model, row, width - used - 1, ink));
    }
    Line::from(spans)
}

fn cells(lane: &FlexLane, now: &str, pairs: bool) -> [String; 7] {
    let known = |ohm: Option<f64>| ohm.map_or_else(|| "—".into(), ohms);
    let long = |us: u64| if lane.count == 0 { "—".into() } else { duration(us) };
    let reached = |ohm: Option<f64>, more: Option<f64>| {
        ohm.map(ohms).or(more.map(rise)).unwrap_or_else(|| "—".into())
    };
    let least = match pairs {
        true => known(lane.least_touch_ohm),
        false => reached(lane.min_ohm(), lane.least_rise_ohm),
    };
    let most = reached(lane.max_ohm(), lane.most_rise_ohm);
    [
        now.to_owned(),
        lane.count.to_string(),
        long(lane.longest_us),
        long(lane.total_us),
        least,
        if pairs { String::new() } else { most },
        if pairs { String::new() } else { lane.steps.to_string() },
    ]
}

fn strip(model: &Model, row: &Row, width: usize, ink: Ink) -> Line<'static> {
    let mut spans = vec![Span::raw(" ")];
    spans.extend(letters(model, row, width.saturating_sub(2), ink));
    Line::from(spans)
}

/// Recent time; alike ones together.
fn letters(model: &Model, row: &Row, count: usize, ink: Ink) -> Vec<Span<'static>> {
    let all = row.strip.last(count.min(STRIP_MAX), model.s);
    let alike = all.chunk_by(|one, other| one == other);
    alike
        .map(|alike| {
            let text: String = alike.iter().map(|mark| mark.letter()).collect();
            match alike.first() {
                Some(Mark::Bad) => Span::styled(text, bad(ink)),
                Some(Mark::Rose) => Span::styled(text, Style::default().bold()),
                _ => Span::raw(text),
            }
        })
        .collect()
}

fn bad(ink: Ink) -> Style {
    let bold = Style::default().bold();
    if ink.colours { bold.red() } else { bold }
}

/// "19 s ago …▼… now".
fn axis(model: &Model, width: usize) -> Line<'static> {
    let count = width.saturating_sub(2).min(STRIP_MAX);
    let marks = model.marks.last(count, model.s);
    let ago = format!("{:.0} s ago", count as f64 * LETTER_S);
    let mut letters: Vec<char> = vec![' '; count];
    for (letter, told) in letters.iter_mut().zip(ago.chars()) {
        *letter = told;
    }
    for (letter, told) in letters.iter_mut().rev().zip("now".chars().rev()) {
        *letter = told;
    }
    for (letter, is_mark) in letters.iter_mut().zip(marks) {
        if is_mark {
            *letter = '▼';
        }
    }
    Line::from(format!(" {}", letters.into_iter().collect::<String>()))
}

fn legend(model: &Model) -> &'static str {
    if model.is_pairs() { flex::TOUCHES_LEGEND } else { flex::BREAKS_LEGEND }
}

fn heard(model: &Model) -> &'static str {
    if model.is_pairs() { flex::TOUCHES_HEARD } else { flex::BREAKS_HEARD }
}

fn keys(model: &Model) -> Line<'static> {
    match &model.typing {
        None => Line::from(flex::KEYS),
        Some((text, _)) => Line::from(format!(" {}{text}█   {}", flex::MARK, flex::NOTING)).bold(),
    }
}
