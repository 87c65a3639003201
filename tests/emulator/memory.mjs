// Where the chip's memories begin (data sheet, 2.2).
export const FLASH = 0x10000000;
export const RAM = 0x20000000;
