//! The screen at several sizes, as text.

use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::widgets::Paragraph;
use runproof_interpret::LimitSheet;
use runproof_interpret::flex::{
    Depth, FlexEvent, FlexKind, FlexLane, FlexLaneOf, FlexNews, Lasted, Now as Is,
};
use runproof_protocol::{Microseconds, Post};

use super::super::face::{Clock, Happened, Now};
use super::model::Model;
use super::page::{Ink, page};
use crate::show::words::flex::Names;

fn conductors(second: Is) -> Vec<FlexLane> {
    let mut lanes: Vec<FlexLane> = Post::ALL
        .into_iter()
        .map(|post| FlexLane {
            now: Is::Carries { ohm: Some(0.61), rise_ohm: Some(0.01) },
            baseline_ohm: Some(0.6),
            least_rise_ohm: Some(-0.02),
            most_rise_ohm: Some(0.05),
            ..FlexLane::new(FlexLaneOf::Conductor(post))
        })
        .collect();
    lanes[1] = FlexLane {
        now: second,
        count: 14,
        longest_us: 2_140,
        total_us: 9_300,
        steps: 1,
        most_rise_ohm: Some(2.4),
        ..lanes[1]
    };
    lanes.push(FlexLane::new(FlexLaneOf::Untold));
    lanes
}

fn pairs() -> Vec<FlexLane> {
    let lane = |(a, b)| FlexLane { now: Is::Apart, ..FlexLane::new(FlexLaneOf::Pair(a, b)) };
    let mut lanes: Vec<FlexLane> = Post::PAIRS.into_iter().map(lane).collect();
    lanes[1] = FlexLane {
        now: Is::Touching { since: Microseconds(11_900_000) },
        count: 3,
        longest_us: 49_000,
        total_us: 120_000,
        least_touch_ohm: Some(1.83),
        ..lanes[1]
    };
    lanes
}

fn at(lanes: &[FlexLane], s: f64) -> Now<'_> {
    let clock = Clock { from: Some(Microseconds(0)), before_s: 0.0 };
    Now { lanes, clock, at: Microseconds((s * 1e6) as u64), watched_s: s }
}

/// Twelve seconds of it.
fn model(lanes: &[FlexLane], event: FlexEvent) -> Model {
    let mut model = Model::new(Names::of(&LimitSheet::service_24vac()));
    model.look(&at(lanes, 0.0));
    for quarter in 1..=48 {
        let now = at(lanes, f64::from(quarter) / 4.0);
        if quarter == 20 {
            model.happened(Happened::News(&FlexNews::Ended(event)), &now);
        }
        if quarter == 24 {
            model.happened(Happened::Mark("at the elbow", Microseconds(6_000_000)), &now);
        }
        model.look(&now);
    }
    model
}

fn broke() -> FlexEvent {
    FlexEvent {
        lane: FlexLaneOf::Conductor(Post::P2),
        kind: FlexKind::Break,
        at: Microseconds(4_900_000),
        lasted: Lasted::Micros(420),
        depth: Depth::NotSeen,
    }
}

fn touched() -> FlexEvent {
    FlexEvent {
        lane: FlexLaneOf::Pair(Post::P1, Post::P3),
        kind: FlexKind::Touch,
        lasted: Lasted::AtLeastMicros(33_000),
        depth: Depth::Ohm(1.83),
        ..broke()
    }
}

fn drawn(model: &Model, width: u16, height: u16) -> String {
    let mut terminal = Terminal::new(TestBackend::new(width, height)).expect("a terminal");
    let lines = page(model, width.into(), height.into(), Ink { colours: true });
    assert_eq!(lines.len(), usize::from(height), "{width}×{height}");
    terminal.draw(|frame| frame.render_widget(Paragraph::new(lines), frame.area())).expect("drawn");
    terminal.backend().to_string()
}

#[test]
fn it_is_drawn_as_it_was_looked_at() {
    let carries = Is::Carries { ohm: Some(0.61), rise_ohm: Some(0.01) };
    let lanes = conductors(carries);
    let conductors = model(&lanes, broke());
    let pairs = pairs();
    let pairs = model(&pairs, touched());
    for (width, height) in [(80, 24), (120, 40), (60, 15), (50, 12), (40, 6)] {
        insta::assert_snapshot!(
            format!("breaks_{width}x{height}"),
            drawn(&conductors, width, height)
        );
        insta::assert_snapshot!(format!("touches_{width}x{height}"), drawn(&pairs, width, height));
    }
}

/// Broken is a word, and a shape, not a colour.
#[test]
fn what_is_broken_now_is_said_in_letters() {
    let lanes = conductors(Is::Broken { since: Microseconds(11_000_000) });
    let mut model = model(&lanes, broke());
    model.begin_mark();
    "near\u{7}".chars().for_each(|letter| model.type_letter(letter));
    let told = drawn(&model, 80, 24);
    let row = told.lines().find(|line| line.contains("data−")).expect("its row");
    assert!(row.contains("BROKEN"), "{told}");
    assert!(told.contains("mark: near█"), "{told}");
    let without = page(&model, 80, 24, Ink { colours: false });
    let coloured =
        |line: &ratatui::text::Line| line.spans.iter().any(|span| span.style.fg.is_some());
    assert!(!without.iter().any(coloured));
}

#[test]
fn no_size_is_too_small() {
    let lanes = conductors(Is::NotKnown);
    for model in [model(&lanes, broke()), Model::new(Names::of(&LimitSheet::service_24vac()))] {
        for width in 0..90 {
            for height in 0..30 {
                let lines = page(&model, width, height, Ink { colours: true });
                assert_eq!(lines.len(), height, "{width}×{height}");
            }
        }
        drawn(&model, 1, 1);
    }
}
