// The unmodified image watches a run that is flexed: breaks and touches far shorter than a conversion, found and timed.
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { GPIOPinState } from 'rp2040js';
import { PINS } from './bench/pins.mjs';
import { Bench, builtInScene } from './testing/bench.mjs';
import { ABORT, MEASURE_FLEX, MEASURE_FLEX_ACROSS, edges } from './testing/frames.mjs';
import { random } from './testing/random.mjs';

/** Of each length; LONG=1 ten times as many, and an hour of quiet in place of 8 s. */
const EACH = process.env.LONG ? 400 : 20;
const QUIET_S = process.env.LONG ? 3600 : 8;
const MICROS = [20, 30, 100, 300, 2000];
/** From power-up: the phase is ordered at once, and by then all looks and contacts are at rest. */
const BEGINS_S = 0.6;
/** Between two that follow each other. */
const APART_MS = 3;

const FOLDER = mkdtempSync(join(tmpdir(), 'flex-'));
process.on('exit', () => rmSync(FOLDER, { recursive: true }));

/** A run of a random length, on which `of` moves at a random place, so often as there are lengths, in random order. */
function scene({ between, oneOf }, of, plug) {
  const moves = MICROS.flatMap((micros) => Array(EACH).fill(micros)).map((micros) => ({ micros, by: between(0, 1) }));
  moves.sort((a, b) => a.by - b.by);
  let at = 0;
  for (const move of moves) {
    at += APART_MS + between(0, 1) + move.micros / 1e3;
    move.at = at;
  }
  const file = join(FOLDER, `${Math.floor(between(0, 1e9))}.toml`);
  writeFileSync(file, `about = "Flexed."
plug = "${plug}"

[run]
length_m = ${oneOf([1, 10, 50, 150])}
ohm_per_km = 20.95
copper_c = 24.0
arrives_at = [1, 2, 3, 4]

[[flexed]]
of = ${of}
at = ${between(0, 1)}
from_s = ${BEGINS_S}
moves = { at = [${moves.map(({ at, micros }) => `[${at}, ${micros / 1e3}]`)}] }

[[source]]
between = [2, 0]
volts_rms = 120.0
through = { coupled_pf = 20.0 }
`);
  return { file, moves, seconds: BEGINS_S + at / 1e3 + 0.05 };
}

async function watched(file, order, seconds) {
  const bench = await Bench.start({ scene: file });
  bench.jig.host.send(order);
  bench.run(seconds);
  const last = bench.events.at(-1)?.kind;
  assert.ok(['edges', 'pattern', 'heartbeat'].includes(last), `it ended: ${bench.kinds().slice(-60)}`);
  const told = bench.events.filter(({ kind }) => kind === 'edges').map(({ body }) => edges(body));
  assert.equal(told.reduce((sum, { dropped }) => sum + dropped, 0), 0);
  const [first, ...found] = told.flatMap((one) => one.edges);
  bench.jig.host.send(ABORT);
  bench.until('stopped', 0.01);
  assert.ok(bench.released);
  return { bench, first, found };
}

/** Each that was injected, with what was found of it: a post's change and its change back. */
function compare(moves, found, posts) {
  const missed = [];
  let worst = 0, twice = 0;
  for (const post of posts) {
    const changes = found.filter(({ changed }) => (changed >> post) & 1);
    for (const { at, micros } of moves) {
      const begins = BEGINS_S * 1e6 + at * 1e3;
      const near = changes.filter((one) => one.at > begins - 2 && one.at < begins + micros + 40);
      if (near.length === 2) worst = Math.max(worst, Math.abs(near[1].at - near[0].at - micros));
      else if (near.length === 1) twice++;
      else missed.push({ post, at, micros, near });
    }
  }
  const others = found.filter(({ changed }) => changed & ~posts.reduce((bits, post) => bits | (1 << post), 0));
  return { missed, worst, twice, others };
}

for (const [what, plug, order, of, posts] of [
  ['breaks of a conductor', 'in', MEASURE_FLEX, (post) => `{ conductor = { post = ${post + 1} } }`, [[0], [1], [2], [3]]],
  ['touches of two', 'out', MEASURE_FLEX_ACROSS, (a, b) => `{ touch = { posts = [${a + 1}, ${b + 1}], ohm = 1.0 } }`, [[0, 2], [0, 3], [1, 2], [1, 3]]],
]) {
  test(`${what}: each of 20 µs and more is found, and told to 20 µs or 5 %`, async () => {
    const chance = random(1);
    let injected = 0, worst = 0, twice = 0;
    for (const moving of posts) {
      const { file, moves, seconds } = scene(chance, of(...moving), plug);
      const { found } = await watched(file, order, seconds);
      const seen = compare(moves, found, moving);
      injected += moves.length;
      worst = Math.max(worst, seen.worst);
      twice += seen.twice;
      assert.deepEqual(seen.missed.slice(0, 5), [], `${seen.missed.length} missed`);
      assert.deepEqual(seen.others, []);
    }
    console.log(`${injected} ${what}: none missed, worst duration off by ${worst} µs, ${twice} too fast to be timed`);
    assert.ok(worst <= 20, `${worst} µs`);
    assert.equal(twice, 0);
  });
}

test(`nothing is found in ${QUIET_S} s of quiet beside mains`, async () => {
  const { bench, first, found } = await watched(builtInScene('flexed/flex-good'), MEASURE_FLEX, QUIET_S);
  assert.deepEqual([first.carries, first.changed, found], [0b1111, 0, []]);
  const patterns = bench.count('pattern') / QUIET_S;
  console.log(`${patterns.toFixed(1)} patterns of 8 slots a second`);
  assert.ok(patterns > 60);
});

test('a jig without comparators, or with one that is stuck, says so and closes no relay', async () => {
  for (const stuck of [false, true]) {
    const change = (world) => ({ ...world, between: (at) => (stuck ? world.between(at) | 4 : 0) });
    const bench = await Bench.start({ scene: builtInScene('flexed/flex-good'), change });
    let closed = false;
    bench.jig.chip.gpio[PINS.relays].addListener((state) => { closed ||= state === GPIOPinState.High; });
    bench.jig.host.send(MEASURE_FLEX);
    const { body } = bench.until('stopped');
    assert.deepEqual([...body], [6, 8, 1, 5, stuck ? 2 : 0]);
    assert.ok(!closed && bench.released);
  }
});
