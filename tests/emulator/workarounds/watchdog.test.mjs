import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { ImageFault } from './image-fault.mjs';
import { watchdog } from './watchdog.mjs';

const WATCHDOG_CTRL = 0x40058000, TRIGGER = 2 ** 31;

test('a watchdog that fires ends the run', () => {
  const chip = plainChip();
  chip.writeUint32(WATCHDOG_CTRL, TRIGGER); // the emulator goes on
  watchdog(chip);
  assert.throws(() => chip.writeUint32(WATCHDOG_CTRL, TRIGGER), ImageFault);
});
