import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { flashId } from './flash-id.mjs';

const SSIENR = 0x18000008, DATA = 0x18000060, READ_ID = 0x4b;
const ID = [1, 2, 3, 4, 5, 6, 7, 8];

function told(chip) {
  chip.writeUint32(SSIENR, 1);
  chip.writeUint8(DATA, READ_ID);
  const bytes = [...Array(12)].map(() => chip.readUint8(DATA));
  chip.writeUint32(SSIENR, 0);
  return bytes.slice(4);
}

test('the flash chip tells its id', () => {
  const chip = plainChip();
  assert.notDeepEqual(told(chip), ID, 'the emulator has learnt it: drop the work-around');
  flashId(chip, ID);
  assert.deepEqual(told(chip), ID);
  assert.deepEqual(told(chip), ID, 'again');
});
