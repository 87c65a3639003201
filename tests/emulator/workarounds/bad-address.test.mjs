import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { badAddress } from './bad-address.mjs';
import { ImageFault } from './image-fault.mjs';

const RAM = 0x20000000, NOWHERE = 0x30000000;
const UNDEFINED = 0xde00, BREAKPOINT = 0xbe00;

function strictChip() {
  const chip = plainChip();
  badAddress(chip);
  return chip;
}

test('a bad address ends the run', () => {
  assert.equal(plainChip().readUint32(NOWHERE), 0xffffffff, 'the emulator has learnt it: drop the work-around');
  assert.throws(() => strictChip().readUint32(NOWHERE), ImageFault);
  assert.throws(() => strictChip().writeUint32(NOWHERE, 0), ImageFault);
});

for (const instruction of [UNDEFINED, BREAKPOINT]) {
  test(`instruction 0x${instruction.toString(16)} ends the run`, () => {
    const chip = strictChip();
    chip.writeUint16(RAM, instruction);
    chip.core.PC = RAM;
    assert.throws(() => chip.step(), ImageFault);
  });
}
