import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { AVAILABLE, STALL, usbBuffers } from './usb-buffers.mjs';

const BUFFERS = 0x50100000;
const OUT_1 = BUFFERS + 0x8c, IN_0 = BUFFERS + 0x80;

test('an armed buffer stays armed until its packet has moved', () => {
  const plain = plainChip();
  plain.writeUint32(OUT_1, AVAILABLE | 64);
  assert.equal(plain.readUint32(OUT_1) & AVAILABLE, 0, 'the emulator has learnt it: drop the work-around');

  const chip = plainChip();
  const seen = [];
  usbBuffers(chip.usbCtrl, {
    armed: (endpoint, out) => seen.push({ endpoint, out }),
    stalled: (endpoint) => seen.push({ endpoint, stalled: true }),
  });
  chip.writeUint32(OUT_1, AVAILABLE | 64);
  chip.writeUint32(IN_0, STALL);
  chip.writeUint32(BUFFERS + 0x100, AVAILABLE); // data, not a buffer's control word
  assert.equal(chip.readUint32(OUT_1), AVAILABLE | 64);
  assert.deepEqual(seen, [{ endpoint: 1, out: true }, { endpoint: 0, stalled: true }]);
});
