import assert from 'node:assert/strict';
import { test } from 'node:test';
import { NorFlash, PowerCut } from './nor-flash.mjs';
import { installRom } from './rom.mjs';
import { plainChip } from './testing/plain-chip.mjs';
import { badAddress } from './workarounds/bad-address.mjs';
import { ImageFault } from './workarounds/image-fault.mjs';

const RAM = 0x20000000, FLASH = 0x10000000, END = RAM + 0x100, DATA = RAM + 0x200;
const BREAKPOINT = 0xbe00;
const SECTOR = 4096, PAGE = 256, AT = 0x1f0000;

function chipWithRom() {
  const chip = plainChip();
  badAddress(chip);
  const flash = new NorFlash([1, 2, 3, 4, 5, 6, 7, 8]);
  flash.attach(chip);
  installRom(chip, flash);
  return { chip, flash };
}

/** Calls a Thumb function with up to three arguments, by the core itself; returns r0. */
function call(chip, address, ...args) {
  const { core } = chip;
  args.forEach((value, i) => (core.registers[i] = value));
  core.SP = RAM + 0x1000;
  core.LR = END | 1;
  core.PC = address & ~1;
  for (let left = 1000; (core.PC & ~1) !== END; left--) {
    assert.ok(left > 0, 'it does not return');
    core.executeInstruction();
  }
  return core.registers[0] >>> 0;
}

/** By the ROM's own lookup, as the data sheet says. */
function find(chip, code) {
  const lookup = chip.readUint16(0x18), table = chip.readUint16(0x14);
  return call(chip, lookup, table, code.charCodeAt(0) | (code.charCodeAt(1) << 8));
}

test('a ROM is recognised by its magic, and what it does not have is not found', () => {
  const { chip } = chipWithRom();
  assert.deepEqual([0x10, 0x11, 0x12].map((at) => chip.readUint8(at)), [0x4d, 0x75, 1]);
  assert.equal(find(chip, 'ZZ'), 0);
  const found = ['IF', 'EX', 'RE', 'RP', 'FC', 'CX', 'C4'].map((code) => find(chip, code));
  assert.ok(found.every((address) => address & 1), 'Thumb code');
  assert.equal(new Set(found).size, found.length);
});

test('a sector is erased to ones, programming clears bits, and both take their time', () => {
  const { chip, flash } = chipWithRom();
  chip.sram.fill(0b1100_1010, DATA - RAM, DATA - RAM + PAGE);
  call(chip, find(chip, 'RP'), AT, DATA, PAGE);
  chip.sram.fill(0b1010_1111, DATA - RAM, DATA - RAM + PAGE);
  call(chip, find(chip, 'RP'), AT, DATA, PAGE);
  assert.equal(chip.readUint8(FLASH + AT), 0b1000_1010);
  assert.equal(chip.readUint8(FLASH + AT + PAGE), 0xff);
  const before = chip.clock.nanos;
  call(chip, find(chip, 'RE'), AT, 2 * SECTOR, 2 ** 31);
  assert.equal(chip.readUint8(FLASH + AT), 0xff);
  assert.equal(chip.clock.nanos - before, 90e6);
  assert.equal(flash.steps, 4);
});

test('what is no whole sector or page is an error, not a surprise', () => {
  const { chip } = chipWithRom();
  assert.throws(() => call(chip, find(chip, 'RE'), AT + PAGE, SECTOR), RangeError);
  assert.throws(() => call(chip, find(chip, 'RP'), AT, DATA, 100), RangeError);
  assert.throws(() => call(chip, find(chip, 'RE'), 2 * 1024 * 1024, SECTOR), RangeError);
});

test('memory is copied', () => {
  const { chip } = chipWithRom();
  chip.flash.set([1, 2, 3, 4], 64);
  assert.equal(call(chip, find(chip, 'C4'), DATA, FLASH + 64, 4), DATA);
  assert.equal(chip.readUint32(DATA), 0x04030201);
});

for (const [halfway, done] of [[false, 0], [true, PAGE / 2]]) {
  test(`the power goes away after two steps, ${halfway ? 'in the middle of' : 'before'} the third`, () => {
    const { chip, flash } = chipWithRom();
    chip.sram.fill(0, DATA - RAM, DATA - RAM + 3 * PAGE);
    flash.cutPower(2, { halfway });
    assert.throws(() => call(chip, find(chip, 'RP'), AT, DATA, 3 * PAGE), PowerCut);
    const next = flash.unplugged();
    assert.equal(next.memory.subarray(AT, AT + 3 * PAGE).filter((byte) => byte === 0).length, 2 * PAGE + done);
    next.erase(AT, SECTOR, () => {});
    assert.ok(next.memory.subarray(AT, AT + SECTOR).every((byte) => byte === 0xff), 'it has power again');
  });
}

test("a breakpoint that is not the ROM's is still a fault", () => {
  const { chip } = chipWithRom();
  chip.writeUint16(DATA, BREAKPOINT);
  chip.core.PC = DATA;
  assert.throws(() => chip.step(), ImageFault);
});
