// A stand-in for the boot ROM's functions that the image calls: its tables and lookup in the ROM's format (RP2040 data
// sheet, 2.8.3), each function a trap that is served here.
const MAGIC = 0x10, FUNCTIONS_AT = 0x14, DATA_AT = 0x16, LOOKUP_AT = 0x18;
const LOOKUP = 0x40, TABLE = 0x80, NO_TABLE = 0x7c, TRAPS = 0x200;
/** 'M', 'u', 1, and the version of the chip's third ROM. */
const MAGIC_WORD = 0x0301754d;
const THUMB = 1;

/** Finds the code of r1 in the table at r0, pairs of half-words that end with a zero; gives its pointer or 0. */
const LOOKUP_CODE = [
  0x8802, // ldrh r2, [r0]
  0x2a00, // cmp  r2, #0
  0xd005, // beq  none
  0x428a, // cmp  r2, r1
  0xd001, // beq  found
  0x3004, // adds r0, #4
  0xe7f8, // b    first
  0x8840, // found: ldrh r0, [r0, #2]
  0x4770, // bx   lr
  0x2000, // none: movs r0, #0
  0x4770, // bx   lr
];
const BREAKPOINT = 0xbe00, RETURN = 0x4770;

/** Puts the ROM into the chip; `flash` is the NorFlash that its functions act on. */
export function installRom(chip, flash) {
  const functions = servedFunctions(chip, flash);
  const rom = new DataView(chip.bootrom.buffer);
  const half = (at, ...values) => values.forEach((value, i) => rom.setUint16(at + 2 * i, value, true));
  rom.setUint32(MAGIC, MAGIC_WORD, true);
  half(FUNCTIONS_AT, TABLE);
  half(DATA_AT, NO_TABLE);
  half(LOOKUP_AT, LOOKUP | THUMB);
  half(LOOKUP, ...LOOKUP_CODE);
  functions.forEach(([code], i) => {
    const trap = TRAPS + 4 * i;
    half(TABLE + 4 * i, code.charCodeAt(0) | (code.charCodeAt(1) << 8), trap | THUMB);
    half(trap, BREAKPOINT | i, RETURN);
  });
  const { onBreak } = chip;
  chip.onBreak = (number) => {
    const { core } = chip;
    const trap = (core.PC & ~1) - 2; // the core has gone on to the next instruction
    if (trap !== TRAPS + 4 * number || !functions[number]) return onBreak(number);
    const [r0, r1, r2] = core.registers;
    core.registers[0] = functions[number][1](r0 >>> 0, r1 >>> 0, r2 >>> 0) ?? r0;
  };
}

function servedFunctions(chip, flash) {
  const passed = (nanos) => chip.clock.tick(nanos);
  const read = (address, count) => Uint8Array.from({ length: count }, (_, i) => chip.readUint8(address + i));
  return [
    ['IF', () => {}], // connect_internal_flash
    ['EX', () => {}], // flash_exit_xip
    ['RE', (offset, count) => flash.erase(offset, count, passed)],
    ['RP', (offset, data, count) => flash.program(offset, read(data, count), passed)],
    ['FC', () => {}], // flash_flush_cache
    ['CX', () => {}], // flash_enter_cmd_xip
    ['C4', (to, from, count) => {
      read(from, count).forEach((byte, i) => chip.writeUint8(to + i, byte));
      return to;
    }], // memcpy44
  ];
}
