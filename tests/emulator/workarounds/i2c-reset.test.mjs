import assert from 'node:assert/strict';
import { test } from 'node:test';
import { I2C, plainChip } from '../testing/plain-chip.mjs';
import { i2cReset } from './i2c-reset.mjs';

const RESET = 0x4000c000, I2C0 = 1 << 3;

function busyAfterReset(workAround) {
  const chip = plainChip();
  const i2c = chip.i2c[0];
  workAround(chip);
  i2c.onStart = () => {}; // the bus is stuck
  i2c.writeUint32(I2C.ENABLE, 1);
  i2c.writeUint32(I2C.DATA_CMD, I2C.STOP);
  chip.writeUint32(RESET, I2C0);
  chip.writeUint32(RESET, 0);
  return { active: Boolean(i2c.readUint32(I2C.STATUS) & I2C.ACTIVITY), waiting: i2c.readUint32(I2C.TXFLR) };
}

test('a reset ends a hung transfer', () => {
  const plain = busyAfterReset(() => {});
  assert.deepEqual(plain, { active: true, waiting: 1 }, 'the emulator has learnt it: drop the work-around');
  assert.deepEqual(busyAfterReset(i2cReset), { active: false, waiting: 0 });
});
