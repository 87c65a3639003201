import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { timerFromZero } from './timer-from-zero.mjs';

const TIME_RAW_LOW = 0x40054028, ALARM_0 = 0x40054010, INTERRUPTS_RAW = 0x40054034;

test('a timer counts from where its chip was started', () => {
  const chip = plainChip();
  chip.clock.tick(5_000_000);
  assert.equal(chip.readUint32(TIME_RAW_LOW), 5000, 'by the clock of the world');
  timerFromZero(chip);
  assert.equal(chip.readUint32(TIME_RAW_LOW), 0);
  chip.writeUint32(ALARM_0, 100);
  chip.clock.tick(99_000);
  assert.equal(chip.readUint32(INTERRUPTS_RAW), 0);
  chip.clock.tick(2_000);
  assert.equal(chip.readUint32(INTERRUPTS_RAW), 1);
});
