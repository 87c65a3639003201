// How much room the image takes, as the table of firmware/README.md, with its bars: `--write` puts it there. After tests/image.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readElf } from './elf.mjs';
import { figures } from './figures.mjs';
import { worstStackBytes } from './stack.mjs';
import { built } from './testing/bench.mjs';

/** What the project has set itself for a chip with 2 MiB and 264 KiB, so that a smaller one would do; the stack's [judgement]. */
const FLASH_MAX = 64 * 1024, RAM_MAX = 16 * 1024, ENGINE_MAX = 24 * 1024, ALONE_MAX = 32 * 1024, STACK_MAX = 8 * 1024;

export const README = fileURLToPath(new URL('../../firmware/README.md', import.meta.url));
const BEGIN = '<!-- sizes: written by tests/emulator/sizes.mjs -->', END = '<!-- end of sizes -->';

export async function measured() {
  const [image, engine, alone] = ['runproof-rp2040.elf', 'engine.elf', 'engine-alone.elf'].map((file) => figures(readElf(built(file))));
  return {
    compiler: readFileSync(built('compiler.txt'), 'utf8').trim(),
    rows: [
      { what: 'flash, the whole image', bytes: image.flashBytes, max: FLASH_MAX },
      { what: 'flash, engine and protocol alone', bytes: engine.flashBytes, max: ENGINE_MAX },
      { what: 'flash, those and the check without a host', bytes: alone.flashBytes, max: ALONE_MAX },
      { what: 'static RAM', bytes: image.ramBytes, max: RAM_MAX },
      { what: 'stack at its deepest', bytes: await worstStackBytes(), max: STACK_MAX },
    ],
  };
}

export function broken(rows) {
  return rows.filter(({ bytes, max }) => bytes > max).map(({ what, bytes, max }) => `${what}: ${bytes} bytes, more than ${max}`);
}

export function table({ compiler, rows }) {
  const number = (n) => n.toLocaleString('en-US');
  return [
    BEGIN,
    '| what | bytes | at most |',
    '|---|---:|---:|',
    ...rows.map(({ what, bytes, max }) => `| ${what} | ${number(bytes)} | ${number(max)} |`),
    '',
    `By \`${compiler}\`.`,
    END,
  ].join('\n');
}

/** The table as it stands in a text. */
export function tableIn(text) {
  const from = text.indexOf(BEGIN), to = text.indexOf(END);
  if (from < 0 || to < from) throw new Error(`no table between "${BEGIN}" and "${END}"`);
  return text.slice(from, to + END.length);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const now = await measured();
  console.log(table(now));
  if (process.argv[2] === '--write') {
    const text = readFileSync(README, 'utf8');
    writeFileSync(README, text.replace(tableIn(text), () => table(now)));
  }
  const over = broken(now.rows);
  for (const line of over) console.error(line);
  process.exitCode = over.length > 0 ? 1 : 0;
}
