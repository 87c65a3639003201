//! A watch on a whole terminal: a lane for each conductor or pair.

mod model;
mod page;
mod strip;
#[cfg(test)]
mod tests;

use std::collections::VecDeque;
use std::io::{self, Write};
use std::time::{Duration, Instant};

use ratatui::DefaultTerminal;
use ratatui::crossterm::event::{self, Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use self::model::Model;
use self::page::{Ink, page};
use super::face::{Face, Happened, Now, Said};
use crate::show::words::flex::Names;

/// Thirty times a second at most.
const DRAWN_EVERY: Duration = Duration::from_millis(33);

/// Keys are asked for so often.
const ASKED_EVERY: Duration = Duration::from_millis(20);

/// Nobody wants to hear more of it from the terminal; the jig sounds each.
const RINGS_EVERY: Duration = Duration::from_secs(1);

/// The terminal is put right again when it is dropped, and when the program panics.
pub(crate) struct Screen {
    terminal: DefaultTerminal,
    model: Model,
    ink: Ink,
    drawn: Option<Instant>,
    shown: Vec<Line<'static>>,
    size: (u16, u16),
    asked: Option<Instant>,
    rings: bool,
    rung: Option<Instant>,
    said: VecDeque<Said>,
}

impl Screen {
    /// Where nothing else sounds, the terminal's bell rings.
    pub(crate) fn new(names: Names, rings: bool) -> io::Result<Self> {
        let colours = std::env::var_os("NO_COLOR").is_none_or(|told| told.is_empty());
        Ok(Self {
            terminal: ratatui::try_init()?,
            model: Model::new(names),
            ink: Ink { colours },
            drawn: None,
            shown: vec![],
            size: (0, 0),
            asked: None,
            rings,
            rung: None,
            said: VecDeque::new(),
        })
    }

    fn draw(&mut self) -> io::Result<()> {
        if self.drawn.is_some_and(|drawn| drawn.elapsed() < DRAWN_EVERY) {
            return Ok(());
        }
        self.drawn = Some(Instant::now());
        let size = self.terminal.size()?;
        let lines = page(&self.model, size.width.into(), size.height.into(), self.ink);
        let size = (size.width, size.height);
        if lines != self.shown || size != self.size {
            self.terminal.draw(|frame| {
                frame.render_widget(Paragraph::new(lines.clone()), frame.area());
            })?;
            (self.shown, self.size) = (lines, size);
        }
        Ok(())
    }

    fn ring(&mut self) -> io::Result<()> {
        if self.rung.is_some_and(|rung| rung.elapsed() < RINGS_EVERY) {
            return Ok(());
        }
        self.rung = Some(Instant::now());
        let mut to = io::stdout().lock();
        to.write_all(b"\x07").and_then(|()| to.flush())
    }

    /// What was pressed since.
    fn ask(&mut self) -> io::Result<()> {
        while event::poll(Duration::ZERO)? {
            match event::read()? {
                Event::Key(key) if key.kind != KeyEventKind::Release => self.press(key),
                Event::Resize(..) => self.size = (0, 0),
                _ => {}
            }
        }
        Ok(())
    }

    fn press(&mut self, key: KeyEvent) {
        let ctrl = key.modifiers.contains(KeyModifiers::CONTROL);
        let is_typing = self.model.typing.is_some();
        match key.code {
            KeyCode::Char('c' | 'd') if ctrl => self.said.push_back(Said::Enough),
            KeyCode::Enter if is_typing => {
                if let Some((text, at)) = self.model.typing.take() {
                    let text = text.trim().to_owned();
                    if !text.is_empty() {
                        self.said.push_back(Said::Mark { text, at: Some(at) });
                    }
                }
            }
            KeyCode::Esc if is_typing => self.model.typing = None,
            KeyCode::Backspace => {
                if let Some((text, _)) = &mut self.model.typing {
                    text.pop();
                }
            }
            KeyCode::Char(letter) if is_typing && !ctrl => self.model.type_letter(letter),
            KeyCode::Char('m' | 'M') if !ctrl => self.model.begin_mark(),
            KeyCode::Char('q' | 'Q') | KeyCode::Enter | KeyCode::Esc => {
                self.said.push_back(Said::Enough);
            }
            _ => {}
        }
    }
}

impl Face for Screen {
    fn tell(&mut self, happened: Happened<'_>, now: &Now<'_>) -> io::Result<()> {
        use runproof_interpret::flex::{FlexKind, FlexNews};
        self.model.happened(happened, now);
        let is_heard = matches!(happened, Happened::News(FlexNews::Ended(event)) if event.kind != FlexKind::Step);
        if is_heard && self.rings { self.ring() } else { Ok(()) }
    }

    fn look(&mut self, now: &Now<'_>) -> io::Result<()> {
        self.model.look(now);
        self.draw()
    }

    fn said(&mut self) -> Option<Said> {
        if self.asked.is_none_or(|asked| asked.elapsed() >= ASKED_EVERY) {
            self.asked = Some(Instant::now());
            if self.ask().is_err() {
                return Some(Said::Gone);
            }
        }
        self.said.pop_front()
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        let _gone = ratatui::try_restore();
    }
}
