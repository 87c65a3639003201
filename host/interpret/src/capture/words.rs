//! The words of the text form, and what they stand for.

use runproof_protocol::{Drive, Phase, Post, Range, Step};

use super::{At, Channel, Drain, End, Node};

const PHASES: [(Phase, &str); 12] = [
    (Phase::Open, "open"),
    (Phase::Plug, "plug"),
    (Phase::Glance, "glance"),
    (Phase::Live, "live"),
    (Phase::LiveZero, "live-zero"),
    (Phase::FarLights, "far-lights"),
    (Phase::SupplyLoad, "supply-load"),
    (Phase::Fixture, "fixture"),
    (Phase::Flex, "flex"),
    (Phase::FlexShorts, "flex-shorts"),
    (Phase::FlexAcross, "flex-across"),
    (Phase::FlexAlong, "flex-along"),
];
const STEPS: [(Step, &str); 9] = [
    (Step::Live, "live"),
    (Step::LiveLoaded, "live-loaded"),
    (Step::SelfCalibration, "self-calibration"),
    (Step::PreScan, "pre-scan"),
    (Step::Pairs, "pairs"),
    (Step::Leakage, "leakage"),
    (Step::LiveZero, "live-zero"),
    (Step::SupplyLoaded, "supply-loaded"),
    (Step::Flex, "flex"),
];
const PLACES: [(At, &str); 2] = [(At::Adapter, "adapter"), (At::Plate, "plate")];
const ENDS: [(End, &str); 2] = [(End::Near, "near"), (End::Far, "far")];
const DRAINS: [(Drain, &str); 3] =
    [(Drain::Landed, "landed"), (Drain::Free, "free"), (Drain::Unsure, "unsure")];
/// How a run is clipped that is tested to earth.
pub(super) const TO_EARTH: &str = "to-earth";
/// The step of what is no reading of a converter.
pub(super) const RISE: &str = "rise";

const DRIVES: [(Drive, char); 3] = [(Drive::Off, 'Z'), (Drive::Low, 'L'), (Drive::High, 'H')];
const NODES: [(Node, char); 3] = [(Node::Sense, 'N'), (Node::Drive, 'G'), (Node::Live, 'D')];
const RELAYS: [(bool, &str); 2] = [(false, "open"), (true, "closed")];

fn word<T: Copy + PartialEq, W: Copy + Default>(table: &[(T, W)], value: T) -> W {
    table.iter().find(|row| row.0 == value).map_or_else(W::default, |row| row.1)
}

fn value<T: Copy, W: Copy + PartialEq>(table: &[(T, W)], word: W) -> Option<T> {
    table.iter().find(|row| row.1 == word).map(|row| row.0)
}

pub(super) fn phase(phase: Phase) -> &'static str {
    word(&PHASES, phase)
}

pub(super) fn parse_phase(text: &str) -> Option<Phase> {
    value(&PHASES, text)
}

pub(super) fn end(end: End) -> &'static str {
    word(&ENDS, end)
}

pub(super) fn parse_end(text: &str) -> Option<End> {
    value(&ENDS, text)
}

pub(super) fn at(at: At) -> &'static str {
    word(&PLACES, at)
}

pub(super) fn parse_at(text: &str) -> Option<At> {
    value(&PLACES, text)
}

pub(super) fn drain(drain: Drain) -> &'static str {
    word(&DRAINS, drain)
}

pub(super) fn parse_drain(text: &str) -> Option<Drain> {
    value(&DRAINS, text)
}

pub(super) fn step(step: Step) -> &'static str {
    word(&STEPS, step)
}

pub(super) fn parse_step(text: &str) -> Option<Step> {
    value(&STEPS, text)
}

pub(super) fn relays(closed: bool) -> &'static str {
    word(&RELAYS, closed)
}

pub(super) fn parse_relays(text: &str) -> Option<bool> {
    value(&RELAYS, text)
}

pub(super) fn drives(drives: &[Drive]) -> String {
    drives.iter().map(|drive| word(&DRIVES, *drive)).collect()
}

pub(super) fn parse_drives<const N: usize>(text: &str) -> Option<[Drive; N]> {
    let drives: Option<Vec<Drive>> = text.chars().map(|letter| value(&DRIVES, letter)).collect();
    drives?.try_into().ok()
}

pub(super) fn range(volts: f64) -> Option<Range> {
    Range::ALL.into_iter().find(|range| (range.full_scale_volts() - volts).abs() < 1e-6)
}

pub(super) fn channel(channel: Channel) -> String {
    let node = word(&NODES, channel.node);
    match channel.against {
        None => format!("{node}{}", channel.post),
        Some(against) => format!("{node}{}-{node}{against}", channel.post),
    }
}

pub(super) fn parse_channel(text: &str) -> Option<Channel> {
    let (first, second) = match text.split_once('-') {
        Some((first, second)) => (first, Some(second)),
        None => (text, None),
    };
    let (node, post) = parse_node(first)?;
    let against = match second.map(parse_node) {
        None => None,
        Some(Some((same, other))) if same == node && other != post => Some(other),
        Some(_) => return None,
    };
    Some(Channel { node, post, against })
}

fn parse_node(text: &str) -> Option<(Node, Post)> {
    let mut letters = text.chars();
    let node = value(&NODES, letters.next()?)?;
    let post = letters.next()?.to_digit(10).and_then(|n| Post::from_number(n as u8))?;
    letters.next().is_none().then_some((node, post))
}

#[test]
fn a_channel_is_a_node_or_the_difference_of_two_of_a_kind() {
    for text in ["N1", "G4", "N1-N4", "D2-D4"] {
        assert_eq!(parse_channel(text).map(channel).as_deref(), Some(text));
    }
    for text in ["", "N", "N5", "N0", "N1-", "N1-G1", "N1-N1", "N1-N2-N3", "N10", "n1", "N1 "] {
        assert_eq!(parse_channel(text), None, "{text}");
    }
}
