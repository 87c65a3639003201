//! Prints what the simulated circuit's nodes are at in every pattern of both phases, without noise,
//! as JSON lines: `circuit SCENE.toml SEED [SECONDS]`, seconds since the jig's start. The first
//! line is the parts as drawn. tests/outside/check_circuit.py compares it with ngspice.

use std::error::Error;

use runproof_firmware::boards::simulated::{Circuitry, NodeVoltage, Scene, Setting};
use runproof_protocol::{Converter, Drive, Input, Post, Range};
use serde_json::{Value, json};

const OFF: [Drive; 4] = [Drive::Off; 4];
const HALF_SUPPLY: [Drive; 2] = [Drive::High, Drive::Low];
const DIFFERENCES: [Input; 3] = [Input::P1P4, Input::P2P4, Input::P3P4];
/// What the engine holds to be room enough on the narrow range.
const NARROW_V: f64 = 0.9;

type Looks = [Option<(Input, Range)>; 3];

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (path, seed, seconds) = match arguments.as_slice() {
        [path, seed] => (path, seed, 0.0),
        [path, seed, seconds] => (path, seed, seconds.parse()?),
        _ => return Err("usage: circuit SCENE.toml SEED [SECONDS]".into()),
    };
    let scene = Scene::read(&std::fs::read_to_string(path)?)?;
    let circuitry = Circuitry::new(scene, seed.parse()?);
    println!("{}", json!({ "parts": serde_json::to_value(circuitry.parts())? }));
    for plug_phase in [false, true] {
        let plug_in = circuitry.plug_in(plug_phase);
        let still = Setting { plug_in, seconds, ..Setting::default() };
        Phase { circuitry: &circuitry, plug_phase, still, pattern: 0 }.print();
    }
    Ok(())
}

/// Walks through a phase as the engine does.
struct Phase<'a> {
    circuitry: &'a Circuitry,
    plug_phase: bool,
    /// Nothing driven, relays open.
    still: Setting,
    pattern: usize,
}

impl Phase<'_> {
    fn print(&mut self) {
        let live = [Input::P1P2, Input::P3P4, Input::P1P4, Input::P2P4]
            .map(|input| [None, None, Some((input, Range::V1))]);
        let sense = Post::ALL.map(|post| [Some((Input::single(post), Range::V4)), None, None]);
        let both = Post::ALL.map(|post| {
            let look = Some((Input::single(post), Range::V4));
            [look, look, None]
        });
        let closed = Setting { relays_closed: true, ..self.still };
        self.patterns("live", 8, self.still, &live);
        self.patterns("live-loaded", 4, Setting { loaded: true, ..self.still }, &live);
        if !self.plug_phase {
            self.patterns("leakage", 4, Setting { pulls: HALF_SUPPLY, ..self.still }, &sense);
        }
        for _ in 0..4 {
            for drive in [Drive::High, Drive::Low] {
                self.patterns(
                    "self-calibration",
                    1,
                    Setting { drives: [drive; 4], ..closed },
                    &both,
                );
            }
        }
        let ranges = Post::PAIRS.map(|(i, j)| self.pre_scan(i, j, closed));
        for ((i, j), ranges) in Post::PAIRS.into_iter().zip(ranges) {
            for drives in [against(i, j), against(j, i)] {
                self.patterns("pairs", 2, Setting { drives, ..closed }, &pair_looks(i, j, ranges));
            }
        }
        if !self.plug_phase {
            let pulled = Setting { pulls: HALF_SUPPLY, ..closed };
            self.patterns("leakage", 4, pulled, &sense);
            for post in Post::ALL {
                let mut drives = OFF;
                drives[post.index()] = Drive::High;
                self.patterns("leakage", 4, Setting { drives, ..pulled }, &sense);
            }
            self.rises(closed);
        }
    }

    /// With the jig alone, with the reference beside it, and with the run.
    fn rises(&self, closed: Setting) {
        for (setting, referred) in [(self.still, false), (self.still, true), (closed, false)] {
            for post in Post::ALL {
                let seconds = self.circuitry.rise_seconds(post.index(), referred, &setting);
                let rise = json!({
                    "post": post.number(),
                    "referred": referred,
                    "relays": if setting.relays_closed { "closed" } else { "open" },
                    "seconds": seconds,
                });
                println!("{}", json!({ "rise": rise }));
            }
        }
    }

    fn pre_scan(&mut self, i: Post, j: Post, closed: Setting) -> [Range; 3] {
        let setting = Setting { drives: against(i, j), ..closed };
        let looks = pair_looks(i, j, [Range::V4; 3]);
        self.patterns("pre-scan", 1, setting, &looks);
        DIFFERENCES.map(|input| {
            let look = [Some((input, Range::V4)), None, None];
            let [sense, ..] = self.circuitry.inputs(&Setting { looks: look, ..setting });
            let [plus, minus] = [input.posts().0, input.posts().1.unwrap_or(Post::P4)];
            let volts = sense[plus.index()].direct_v - sense[minus.index()].direct_v;
            if volts.abs() <= NARROW_V { Range::V1 } else { Range::V4 }
        })
    }

    /// So many patterns alike, each with these looks in turn.
    fn patterns(&mut self, step: &str, count: usize, setting: Setting, looks: &[Looks]) {
        let seen: Vec<Value> =
            looks.iter().map(|looks| self.seen(Setting { looks: *looks, ..setting })).collect();
        for _ in 0..count {
            println!(
                "{}",
                json!({
                    "phase": if self.plug_phase { "plug" } else { "open" },
                    "step": step,
                    "pattern": self.pattern,
                    "drive": letters(&setting.drives),
                    "pulls": letters(&setting.pulls),
                    "relays": if setting.relays_closed { "closed" } else { "open" },
                    "loaded": setting.loaded,
                    "plug_in": setting.plug_in,
                    "seconds": setting.seconds,
                    "seen": seen,
                })
            );
            self.pattern += 1;
        }
    }

    /// What is selected, and all nodes meanwhile.
    fn seen(&self, setting: Setting) -> Value {
        let selected: Vec<Value> = Converter::ALL
            .into_iter()
            .zip(setting.looks)
            .filter_map(|(converter, look)| look.map(|look| (node(converter), look)))
            .map(|(node, (input, range))| {
                let (plus, minus) = input.posts();
                let minus = minus.map(|post| format!("-{node}{}", post.number()));
                let channel = format!("{node}{}{}", plus.number(), minus.unwrap_or_default());
                json!([channel, range.full_scale_volts()])
            })
            .collect();
        let mut seen = json!({ "selected": selected });
        for (converter, posts) in Converter::ALL.into_iter().zip(self.circuitry.inputs(&setting)) {
            for (post, NodeVoltage { direct_v, phasors_v }) in Post::ALL.into_iter().zip(posts) {
                seen[format!("{}{}", node(converter), post.number())] =
                    json!({ "direct": direct_v, "phasors": phasors_v });
            }
        }
        seen
    }
}

fn node(converter: Converter) -> char {
    match converter {
        Converter::Sense => 'N',
        Converter::Drive => 'G',
        Converter::Live => 'D',
    }
}

fn against(high: Post, low: Post) -> [Drive; 4] {
    let mut drives = OFF;
    drives[high.index()] = Drive::High;
    drives[low.index()] = Drive::Low;
    drives
}

/// Beside the three differences and N4, the drive nodes of both driven posts, twice.
fn pair_looks(i: Post, j: Post, [one, two, three]: [Range; 3]) -> [Looks; 4] {
    let looks = |sense, drive| [Some(sense), Some((Input::single(drive), Range::V4)), None];
    let [first, second, third] = DIFFERENCES;
    [
        looks((first, one), i),
        looks((second, two), j),
        looks((third, three), i),
        looks((Input::P4, Range::V4), j),
    ]
}

fn letters(drives: &[Drive]) -> String {
    drives
        .iter()
        .map(|drive| match drive {
            Drive::Off => 'Z',
            Drive::Low => 'L',
            Drive::High => 'H',
        })
        .collect()
}
