import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { xipControl } from './xip-control.mjs';

const STREAM_COUNTER = 0x14000018;

test('no stream of the cache is running', () => {
  const chip = plainChip();
  assert.notEqual(chip.readUint32(STREAM_COUNTER), 0, 'the emulator has learnt it: drop the work-around');
  xipControl(chip);
  assert.equal(chip.readUint32(STREAM_COUNTER), 0);
});
