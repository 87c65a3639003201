// Where the chip's memories begin (data sheet, 2.2), and how much flash firmware/memory.x says is behind it.
export const FLASH = 0x10000000;
export const RAM = 0x20000000;
export const FLASH_BYTES = 2 * 1024 * 1024;
