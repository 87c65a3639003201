import assert from 'node:assert/strict';
import { test } from 'node:test';
import { I2C, plainChip } from '../testing/plain-chip.mjs';
import { i2cAbort } from './i2c-abort.mjs';

function emptyAfterAbort(workAround) {
  const i2c = plainChip().i2c[0];
  workAround(i2c);
  i2c.writeUint32(I2C.ENABLE, 1);
  i2c.writeUint32(I2C.DATA_CMD, I2C.STOP);
  return Boolean(i2c.readUint32(I2C.RAW_INTR_STAT) & I2C.TX_EMPTY);
}

test('an aborted transfer says that its FIFO is empty', () => {
  assert.equal(emptyAfterAbort(() => {}), false, 'the emulator has learnt it: drop the work-around');
  assert.equal(emptyAfterAbort(i2cAbort), true);
});
