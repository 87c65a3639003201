import assert from 'node:assert/strict';
import { test } from 'node:test';
import { answeringI2c, I2C, plainChip } from '../testing/plain-chip.mjs';
import { i2cRestart } from './i2c-restart.mjs';

function starts(workAround, commands) {
  const i2c = answeringI2c(plainChip());
  workAround(i2c);
  for (const command of commands) i2c.writeUint32(I2C.DATA_CMD, command);
  return i2c.starts;
}

const none = () => {};

test('reading after writing sends a repeated START', () => {
  const commands = [0x00, I2C.READ, I2C.READ | I2C.STOP];
  assert.equal(starts(none, commands), 1, 'the emulator has learnt it: drop the work-around');
  assert.equal(starts(i2cRestart, commands), 2);
});

test('a transfer after a STOP begins with one START, bit 10 or not', () => {
  const commands = [I2C.STOP, I2C.RESTART | I2C.READ | I2C.STOP];
  assert.equal(starts(none, commands), 3, 'the emulator has learnt it: drop the work-around');
  assert.equal(starts(i2cRestart, commands), 2);
});

test('a transfer after an aborted one begins with one START', () => {
  const i2c = answeringI2c(plainChip());
  i2cRestart(i2c);
  i2c.onConnect = () => i2c.completeConnect(false);
  i2c.writeUint32(I2C.DATA_CMD, 0x00);
  i2c.onConnect = () => i2c.completeConnect(true);
  i2c.writeUint32(I2C.DATA_CMD, I2C.READ | I2C.STOP);
  assert.equal(i2c.starts, 2);
});
