// Compares two builds of the image; where they differ, says in which sections.
import { readFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { sectionContents } from './elf.mjs';

/** The names of the sections that only one file has, or whose bytes are not the same. */
export function differing(one, other) {
  const [a, b] = [one, other].map((file) => new Map(sectionContents(file).map(({ name, bytes }) => [name, bytes])));
  return [...new Set([...a.keys(), ...b.keys()])].filter((name) => !a.has(name) || !b.has(name) || !a.get(name).equals(b.get(name)));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const files = process.argv.slice(2).map((path) => readFileSync(path));
  const [one, other] = files.map((file) => createHash('sha256').update(file).digest('hex'));
  if (one !== other) {
    console.error(`two builds of one source differ: ${one} and ${other}`);
    console.error(`in ${differing(...files).join(', ') || 'their headers only'}`);
    console.error('does a path of this machine get into it? see path_flags() in tests/image');
    process.exit(1);
  }
}
