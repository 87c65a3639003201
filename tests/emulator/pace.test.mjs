import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sleep } from './pace.mjs';
import { plainChip } from './testing/plain-chip.mjs';

function sleepingJig() {
  const { clock } = plainChip();
  return { clock, pass: (nanos) => clock.tick(nanos) };
}

const never = () => new Promise(() => {});

test('a wait takes a twentieth of its length, and time moves on by the whole of it', async () => {
  const jig = sleepingJig();
  const started = performance.now();
  await sleep(jig, 500e6, never);
  assert.ok(performance.now() - started >= 24);
  assert.equal(jig.clock.nanos, 500e6);
});

test('a word from the host ends a wait early', async () => {
  const jig = sleepingJig();
  await sleep(jig, Infinity, () => Promise.resolve());
  assert.ok(jig.clock.nanos < 20e9);
});
