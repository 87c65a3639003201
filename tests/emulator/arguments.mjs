// The command line of the emulated jig.
import { parseArgs } from 'node:util';

export const USAGE = `usage: node jig.mjs --image <uf2> --world <wasm> --scene <toml> [--seed <number>] [--press <number>] [--store <file>]
  Beside the image lies its ELF, which names its addresses.
  What the jig keeps is read from the file, where there is one, and written there.
  The jig's serial port is on standard input and output; it leaves when its input ends.
  --press: its key is pressed so often before anybody is at its port.`;

export function readArguments(argv) {
  const { values } = parseArgs({
    args: argv,
    options: {
      image: { type: 'string' },
      world: { type: 'string' },
      scene: { type: 'string' },
      seed: { type: 'string', default: '1' },
      press: { type: 'string', default: '0' },
      store: { type: 'string' },
    },
  });
  for (const name of ['image', 'world', 'scene']) if (!values[name]) throw new Error(`--${name} is missing\n${USAGE}`);
  const seed = Number(values.seed);
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff) throw new Error(`--seed ${values.seed}: a whole number up to 2^32 - 1`);
  return { ...values, seed, press: Number(values.press) };
}
