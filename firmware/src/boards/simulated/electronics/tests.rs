//! What powered runs make of the live dividers, worked out by hand.

use std::f64::consts::{SQRT_2, TAU};

use nalgebra::Complex;

use super::super::scene::{Source, Through};
use super::super::traffic::Traffic;
use super::*;

const STILL: Stands = Stands { plug_in: false, seconds: 0.0, away: [0.0; 4] };
/// From a post to the mid voltage, 0.1 % for each jig.
const DIVIDER_OHM: f64 = 4_522_000.0;
const FOOT: f64 = 22_000.0 / DIVIDER_OHM;
/// Every node has 10 pS to ground: some 20 of them beside a post's 0.22 µS.
const WITHIN: f64 = 3e-3;

fn with(source: &[Source], earthed: bool) -> (Electronics, Parts) {
    let mut scene = Scene::built_in("no-plug").expect("built in");
    scene.source = source.to_vec();
    scene.jig.earthed = earthed;
    let (parts, _) = Parts::of(1, &scene);
    (Electronics::new(&scene, &parts, &Lines::default(), STILL), parts)
}

fn average_v(electronics: &mut Electronics, input: Input, range: Range, from: u64) -> f64 {
    let looks = [None, None, Some((input, range))];
    let seen = electronics.seen(&looks)[Converter::Live.index()].as_ref().expect("it looks");
    seen.area(from, from + 1_000_000) / 1e6
}

/// Four conductors at 120 V to earth, through 50 pF to a jig that floats: 1.13 MΩ, which four dividers are,
/// behind 53 MΩ of capacitance.
#[test]
fn a_floating_jig_sees_a_part_of_what_is_to_earth() {
    let all =
        [1, 2, 3, 4].map(|post| Source::alternating([post, 0], 120.0, 60.0, Through::Ohm(1.0)));
    let (mut electronics, _) = with(&all, false);
    let dividers = Complex::from(DIVIDER_OHM / 4.0 + MID_OHM);
    let capacitance = Complex::new(0.0, -1.0 / (TAU * 60.0 * 50e-12));
    let expected = Complex::from(120.0 * SQRT_2) * dividers / (dividers + capacitance);
    assert!((expected.norm() - 3.615).abs() < 1e-3, "{expected}");
    for post in electronics.followed() {
        let off = (post.phasor(60.0) - expected).norm() / expected.norm();
        assert!(off < WITHIN, "{post:?}, not {expected}");
    }
}

/// The same with the jig earthed: the whole of it.
#[test]
fn an_earthed_jig_sees_all_of_it() {
    let all =
        [1, 2, 3, 4].map(|post| Source::alternating([post, 0], 120.0, 60.0, Through::Ohm(1.0)));
    let (mut electronics, _) = with(&all, true);
    for post in electronics.followed() {
        assert!((post.phasor(60.0).norm() - 120.0 * SQRT_2).abs() < 0.3, "{post:?}");
    }
}

/// A driver of 2 V behind 120 Ω into 120 Ω: half of it, in step with its bits.
#[test]
fn traffic_is_divided_by_resistances() {
    let traffic = Traffic { volts: 2.0, baud: 100.0, packet_bits: 50, idle_bits: 0, seed: 1 };
    let driver = Source::direct([1, 2], 0.0, Through::Ohm(120.0));
    let load = Source::direct([1, 2], 0.0, Through::Ohm(120.0));
    let (mut electronics, _) = with(&[Source { traffic: Some(traffic), ..driver }, load], false);
    for bit in 0..20_u32 {
        let from = u64::from(bit) * 10_000_000 + 4_000_000;
        let level = traffic.level(f64::from(bit) * 0.01 + 0.005);
        let found = average_v(&mut electronics, Input::P1P2, Range::V2, from) / FOOT;
        // 4.9 MΩ across two feet take 0.9 %.
        assert!((found - 0.991 * level).abs() < 4e-3, "bit {bit}: {found} V, not {level} V");
    }
}

/// Hundreds of volts: a foot goes no further than a diode beyond the supply, and that is much.
#[test]
fn a_foot_is_held_within_the_rails() {
    let direct = |volts: f64| Source::direct([1, 0], volts, Through::Ohm(1.0));
    for volts in [450.0, 600.0] {
        let (mut electronics, parts) = with(&[direct(volts)], true);
        let found = average_v(&mut electronics, Input::P1, Range::V4, 0);
        assert!((found - (parts.supply_volts + 0.3)).abs() < 1e-9, "{found}");
        let (mut electronics, _) = with(&[direct(-volts)], true);
        let found = average_v(&mut electronics, Input::P1, Range::V4, 0);
        assert!((found + 0.3).abs() < 1e-9, "{found}");
    }
    // Within the rails all of it is there.
    let (mut electronics, _) = with(&[direct(300.0)], true);
    let found = average_v(&mut electronics, Input::P1, Range::V4, 0);
    assert!((found - (1.65 + 300.0 * FOOT)).abs() < 0.02, "{found}");
}

/// What alternates beyond the rails is held for a part of each period, and its average is that of what is left.
#[test]
fn what_is_held_for_a_part_of_the_time_is_averaged_so() {
    let source = Source::alternating([1, 0], 600.0, 50.0, Through::Ohm(1.0));
    let (mut electronics, parts) = with(&[source], true);
    let looks = [None, None, Some((Input::P1, Range::V4))];
    let sight = electronics.seen(&looks)[Converter::Live.index()].as_ref().expect("it looks");
    let mean = sight.area(0, 20_000_000) / 20e6;
    let foot_v = |angle: f64| MID_VOLTS + 600.0 * SQRT_2 * FOOT * angle.sin();
    let held = |n: u32| foot_v(TAU * f64::from(n) / 1e5).clamp(-0.3, parts.supply_volts + 0.3);
    let expected = (0..100_000).map(held).sum::<f64>() / 1e5;
    assert!((mean - expected).abs() < 0.01, "{mean}, not {expected}");
}
