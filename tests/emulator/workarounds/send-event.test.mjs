import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plainChip } from '../testing/plain-chip.mjs';
import { sendEvent } from './send-event.mjs';

const RAM = 0x20000000;
const SEV = 0xbf40, WFE = 0xbf20;

function sleepsAfterSev(workAround) {
  const chip = plainChip();
  workAround(chip);
  [SEV, WFE].forEach((instruction, i) => chip.writeUint16(RAM + 2 * i, instruction));
  chip.core.PC = RAM;
  chip.step();
  chip.step();
  return chip.core.waiting;
}

test('an event that was sent before the wait is not lost', () => {
  assert.equal(sleepsAfterSev(() => {}), true, 'the emulator has learnt it: drop the work-around');
  assert.equal(sleepsAfterSev(sendEvent), false);
});
