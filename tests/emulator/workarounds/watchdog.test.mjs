import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { ChipRestart } from './chip-restart.mjs';
import { keepWatchdog, watchdog } from './watchdog.mjs';

const WATCHDOG_CTRL = 0x40058000, REASON = WATCHDOG_CTRL + 0x08, SCRATCH_3 = WATCHDOG_CTRL + 0x18;
const TRIGGER = 2 ** 31, FORCED = 2;

test('a watchdog that fires restarts the chip', () => {
  const chip = plainChip();
  chip.writeUint32(WATCHDOG_CTRL, TRIGGER); // the emulator goes on
  watchdog(chip);
  assert.throws(() => chip.writeUint32(WATCHDOG_CTRL, TRIGGER), ChipRestart);
});

test('it knows why, and what was scratched into it', () => {
  const [before, after] = [plainChip(), plainChip()];
  before.writeUint32(SCRATCH_3, 42);
  before.writeUint32(WATCHDOG_CTRL, TRIGGER);
  keepWatchdog(before, after);
  assert.equal(after.readUint32(REASON), FORCED);
  assert.equal(after.readUint32(SCRATCH_3), 42);
});
