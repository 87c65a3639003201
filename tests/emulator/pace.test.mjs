import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sleep } from './pace.mjs';
import { plainChip } from './testing/plain-chip.mjs';

const never = () => new Promise(() => {});

test('a wait takes a twentieth of its length, and time moves on by the whole of it', async () => {
  const chip = plainChip();
  const started = performance.now();
  await sleep(chip, 500e6, never);
  assert.ok(performance.now() - started >= 24);
  assert.equal(chip.clock.nanos, 500e6);
});

test('a word from the host ends a wait early', async () => {
  const chip = plainChip();
  await sleep(chip, Infinity, () => Promise.resolve());
  assert.ok(chip.clock.nanos < 20e9);
});
