// The unmodified image without a host: its key, its lamps, its sounder, and what it keeps for a host that comes later.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Bench, builtInScene } from './testing/bench.mjs';
import { HELLO, REPLAY_OPEN, REPLAY_PLUG } from './testing/frames.mjs';

const STEPS = 16, STEP_S = 0.1;
const WITHIN_S = 2;
const HOST_QUIET_S = 5.1;
/** For so many steps a tune sounds; see firmware/src/signs.rs. */
const NEXT = 1, PASS = 4, FAIL = 9, HAZARD = STEPS;

/** Presses the key; returns the lamps' steps as numbers, the lowest bit first, how long the tune is, and how long it took to come. */
function press(bench, seconds = 0.1) {
  const { jig } = bench;
  const from = jig.nanos;
  jig.desk.press(true);
  bench.run(seconds);
  jig.desk.press(false);
  while (!jig.desk.tone) {
    bench.run(0.001);
    assert.ok(jig.nanos < from + 5e9, 'no tone');
  }
  const took = (jig.nanos - from) / 1e9;
  const lamps = [0, 0, 0, 0];
  let sounding = 0;
  bench.run(STEP_S / 2);
  for (let step = 0; step < STEPS; step++) {
    jig.desk.lamps.forEach((lit, post) => (lamps[post] |= Number(lit) << step));
    sounding += Number(jig.desk.tone > 0);
    bench.run(STEP_S);
  }
  return { lamps, sounding, took };
}

const [DARK, STEADY, BLINK, WINK, FLASH] = [0, 0xffff, 0x00ff, 0x0003, 0x5555];
const TURNS = [0x00ff, 0xff00];
const all = (lamp) => [lamp, lamp, lamp, lamp];

/** By scene: what a press with the plug out shows, and one with it in. */
const SHOWN = {
  'good-run': [[all(STEADY), NEXT], [all(STEADY), PASS]],
  'crossed-supply': [[all(STEADY), NEXT], [[STEADY, TURNS[0], STEADY, TURNS[1]], FAIL]],
  'staple-short': [[[STEADY, BLINK, BLINK, STEADY], FAIL], [[WINK, BLINK, BLINK, WINK], FAIL]],
  'open-supply': [[all(STEADY), NEXT], [[STEADY, STEADY, STEADY, DARK], FAIL]],
  'corroded-splice': [[all(STEADY), NEXT], [[STEADY, STEADY, STEADY, BLINK], FAIL]],
  'powered-run': [[all(FLASH), HAZARD], [all(FLASH), HAZARD]],
};

for (const [scene, shown] of Object.entries(SHOWN)) {
  test(`the lamps tell ${scene} within 2 s of the key`, async () => {
    const bench = await Bench.start({ scene: builtInScene(scene) });
    bench.run(0.1);
    for (const [lamps, sounding] of shown) {
      const seen = press(bench);
      assert.deepEqual([seen.lamps, seen.sounding], [lamps, sounding]);
      assert.ok(seen.took <= WITHIN_S, `${seen.took} s`);
      assert.ok(bench.released);
      bench.run(0.3);
    }
  });
}

test('what it kept is told to a host that comes later, whole', async () => {
  const bench = await Bench.start({ scene: builtInScene('good-run') });
  bench.jig.host.send(REPLAY_OPEN);
  bench.until('refused', 0.1);
  bench.run(HOST_QUIET_S);
  press(bench);
  press(bench);
  bench.jig.host.send(HELLO);
  bench.until('hello', 0.1);
  for (const [order, phase, patterns] of [[REPLAY_OPEN, 0, 86], [REPLAY_PLUG, 1, 50]]) {
    bench.events.length = 0;
    bench.jig.host.send(order);
    const { body } = bench.until('done', 1);
    assert.deepEqual([...body], [5, phase, patterns]);
    assert.equal(bench.count('pattern') + bench.count('rise'), patterns);
  }
});

test('with a host there, the key is for the host', async () => {
  const bench = await Bench.start();
  bench.jig.host.send(HELLO);
  bench.until('hello', 0.1);
  bench.jig.desk.press(true);
  bench.run(0.1);
  bench.jig.desk.press(false);
  bench.until('key', 0.1);
  assert.ok(bench.released);
});

test('a long press re-arms, a short one does not', async () => {
  const bench = await Bench.start({ scene: builtInScene('powered-run') });
  bench.run(0.1);
  assert.equal(press(bench).sounding, HAZARD);
  assert.deepEqual(press(bench).lamps, all(FLASH));
  bench.jig.desk.press(true);
  bench.run(1.7);
  assert.deepEqual(bench.jig.desk.lamps, [false, false, false, false]);
  bench.jig.desk.press(false);
});
