// Why the image fell, as it lies in its RAM: firmware/src/boards/rp2040/panic.rs writes it.
import { RAM } from './memory.mjs';

const SYMBOL = 'RUNPROOF_KEPT_REASON';
const MAGIC = 0x66656c6c, PANICKED = 1, HARD_FAULT = 2;
const FILE_AT = 16;

/** {panicked: 'file:line'} or {hardFault: address}; undefined where there is none. */
export function keptReason(chip, image) {
  const kept = image.symbol(SYMBOL);
  const bytes = Buffer.from(chip.sram.buffer, kept.address - RAM, kept.size);
  const [magic, kind, number, fileBytes] = [0, 4, 8, 12].map((at) => bytes.readUInt32LE(at));
  if (magic !== MAGIC) return undefined;
  if (kind === PANICKED) return { panicked: `${bytes.toString('utf8', FILE_AT, FILE_AT + fileBytes)}:${number}` };
  if (kind === HARD_FAULT) return { hardFault: number };
  throw new Error(`${SYMBOL} holds a reason of kind ${kind}, which kept-reason.mjs does not know`);
}
