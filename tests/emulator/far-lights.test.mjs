// The unmodified image lights the key's lights: the pattern by the edges of its pins, and the interlock meanwhile.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { GPIOPinState } from 'rp2040js';
import { PINS } from './bench/pins.mjs';
import { Bench } from './testing/bench.mjs';
import { ABORT, REARM, lightFar } from './testing/frames.mjs';

const STEP_NS = 100e6, HALF_NS = 5e6;
/** Three of 0.3 s. */
const PATTERN = 0x1ce7;
/** The posts that reach contacts 1–4, by index: conductors of posts 2 and 4 are crossed. */
const POSTS = [0, 3, 2, 1];
const FAR_LIGHTS = 5;
const { High, Low } = GPIOPinState;

/** A jig, and how its four posts are driven from when on. */
async function lit(change) {
  const bench = await Bench.start({ change });
  const { chip } = bench.jig;
  const edges = [];
  for (const [post, pin] of PINS.drives.entries()) {
    chip.gpio[pin].addListener((state) => edges.push({ post, state, at: chip.clock.nanos }));
  }
  return { bench, edges };
}

test('the pattern is on the pins of the posts that reach the lights, both ways round', async () => {
  const { bench, edges } = await lit();
  bench.jig.host.send(lightFar(PATTERN, POSTS));
  assert.deepEqual(bench.until('done').body, Buffer.from([5, FAR_LIGHTS, 0]));
  assert.equal(bench.count('pattern'), 0);
  assert.ok(bench.released);

  // From the first moment on at which the posts are driven unlike each other for longer than an edge takes.
  const now = [undefined, undefined, undefined, undefined];
  const states = [];
  for (const { post, state, at } of edges) {
    now[post] = state;
    states.push({ at, drives: now.map((one) => (one === High ? 'H' : one === Low ? 'L' : '-')).join('') });
  }
  const lasting = states.filter((one, i) => (states[i + 1]?.at ?? Infinity) - one.at > 50e3);
  const [forth, back] = ['HLHL', 'LHLH'].map((contacts) => POSTS.map((_, post) => contacts[POSTS.indexOf(post)]).join(''));
  const from = lasting.find((one) => one.drives === forth).at;
  const drivesAt = (at) => lasting.findLast((one) => one.at <= at).drives;
  for (let at = HALF_NS / 2; at < 16 * STEP_NS; at += HALF_NS) {
    const half = Math.floor(at / HALF_NS);
    const expected = (PATTERN >> Math.floor(at / STEP_NS)) & 1 ? [forth, back][half % 2] : '----';
    assert.equal(drivesAt(from + at), expected, `${at / 1e6} ms`);
  }
  // Before it only all alike, which shows that the watch sees each post.
  const before = new Set(lasting.filter((one) => one.at < from).map((one) => one.drives));
  assert.deepEqual([...before].filter((drives) => drives !== '----').sort(), ['HHHH', 'LLLL']);
});

test('the interlock lets go within 1 ms while the lights are lit, and an abort within 5 ms', async () => {
  const live = { at: Infinity };
  const change = (world) => ({
    ...world,
    followed_volts: (post, at) => world.followed_volts(post, at) + (post === 1 && at >= live.at ? 34 : 0),
  });
  const { bench } = await lit(change);
  const { chip } = bench.jig;
  let releasedAt;
  const seen = () => {
    releasedAt = bench.jig.released ? (releasedAt ?? chip.clock.nanos) : undefined;
  };
  for (const pin of [...PINS.drives, PINS.relays]) chip.gpio[pin].addListener(seen);
  for (const after of [0.3, 0.777, 1.4]) {
    bench.jig.host.send(lightFar(0xffff, POSTS));
    bench.until('started');
    bench.run(after);
    assert.ok(!bench.released, 'lit');
    live.at = bench.jig.nanos;
    bench.until('hazard');
    const delay = (releasedAt - live.at) / 1e3;
    assert.ok(delay > 0 && delay < 1000, `${delay} µs`);
    live.at = Infinity;
    bench.jig.host.send(REARM);
    bench.until('armed', 0.05);
  }
  bench.jig.host.send(lightFar(0xffff, POSTS));
  bench.run(0.9);
  assert.ok(!bench.released, 'lit');
  const from = bench.jig.nanos;
  bench.jig.host.send(ABORT);
  bench.until('stopped');
  assert.ok(releasedAt - from < 5e6, `${(releasedAt - from) / 1e6} ms`);
});
