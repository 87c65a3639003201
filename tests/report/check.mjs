// Reports as others see them: an HTML validator, axe-core and Chromium at phone, laptop and print width, a QR reader.
//
//     node tests/report/check.mjs RUNPROOF_BINARY
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { asked, picture, sheets } from './browser.mjs';
import { layout } from './layout.mjs';

const BYTES_MAX = 300 * 1024;
const HOSTILE = `<script>alert(1)</script><img src=x onerror=alert(2)> "q" 'q' & </style></title>]]> 数据線 שלום العربية ไทย ${'long'.repeat(30)}`;
const HOSTILE_LOT = HOSTILE.slice(0, 200).trim();
const WORST = `about = "several faults"
plug = "goes-in"
[run]
length_m = 30.0
ohm_per_km = 20.95
copper_c = 20.0
arrives_at = [2, 1, 4, 3]
joint = [{ post = 3, at = 0.6, ohm = 4.2 }]
open = [{ post = 1, at = 0.4 }]
`;

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const validator = new HtmlValidate({ extends: ['html-validate:recommended', 'html-validate:a11y'], rules: { 'no-inline-style': 'error', 'long-title': 'off' } });

// Both colour schemes, each at one width: what axe-core finds of any impact.
const ACCESSIBLE = `
  const all = await axe.run();
  return found.concat(all.violations.map((one) => one.id + ': ' + one.help + ' (' + one.impact + ') ' + one.nodes[0].html));`;

class Bench {
  wrong = [];
  held = 0;

  constructor(binary, folder) {
    this.binary = binary;
    this.folder = folder;
  }

  run(...words) {
    const env = { ...process.env, XDG_DATA_HOME: this.folder };
    const done = spawnSync(this.binary, words, { encoding: 'utf8', env, cwd: this.folder, timeout: 60_000 });
    if (done.status === null || done.status > 2) throw new Error(`${words.join(' ')}: ${done.stderr}`);
    return done.stdout;
  }

  holds(what, is) {
    this.held += 1;
    if (!is) this.wrong.push(what);
  }

  async page(name, words, sheetCount, command = ['report']) {
    const file = join(this.folder, `${name}.html`);
    this.run(...command, ...words, '--to', file);
    const html = readFileSync(file, 'utf8');
    this.holds(`${name}: ${Buffer.byteLength(html)} bytes`, Buffer.byteLength(html) <= BYTES_MAX);
    const report = await validator.validateString(html);
    for (const message of report.results.flatMap((one) => one.messages)) {
      this.wrong.push(`${name}, line ${message.line}, column ${message.column}: ${message.ruleId}: ${message.message}`);
    }
    this.held += 1;
    for (const [width, dark] of [[360, true], [1280, false]]) {
      const found = asked(this.folder, html, `${axe}; ${layout}; ${ACCESSIBLE}`, { width, dark });
      this.holds(`${name}, ${width} wide${dark ? ', dark' : ''}: ${found.join('; ')}`, found.length === 0);
    }
    for (const size of ['A4', 'letter']) {
      const printed = sheets(this.folder, html, size);
      this.holds(`${name} prints on ${printed} sheets of ${size}, not ${sheetCount}`, printed === sheetCount);
    }
    return file;
  }

  /** A camera reads of the page what `runproof code` says. */
  qr(file, record) {
    const seen = picture(this.folder, file, 1100, 2400);
    const read = spawnSync('zbarimg', ['--quiet', '--raw', '-Sdisable', '-Sqrcode.enable', seen], { encoding: 'utf8' });
    const said = this.run('code', record).split('\n')[0];
    this.holds(`the QR code reads ${JSON.stringify(read.stdout)}, not ${said}`, read.stdout.trim() === said);
  }
}

async function main() {
  if (process.argv.length !== 3) {
    console.error('node tests/report/check.mjs RUNPROOF_BINARY');
    return 2;
  }
  const folder = mkdtempSync(join(tmpdir(), 'runproof-report-'));
  mkdirSync(folder, { recursive: true });
  const bench = new Bench(resolve(process.argv[2]), folder);
  const scene = join(folder, 'worst.toml');
  writeFileSync(scene, WORST);
  const about = ['run-name', 'place', 'operator', 'equipment-model', 'equipment-serial', 'symptom', 'note'].flatMap((key) => [`--${key}`, HOSTILE]);
  const checks = [['--simulate', scene], ['--simulate', 'good-run'], ['--simulate', 'nail-through-three'], ['--simulate', 'reversed-and-open'],
    ['--simulate', 'damp-splice'], ['--simulate', 'two-wire', '--sheet', 'two-wire-bus'], ['--simulate', 'terminator-left'],
    ['--simulate', 'nicked-to-conduit', '--to-earth', '--yes'], ['--simulate', 'corroded-splice', '--gauge', '18awg', '--length', '100ft']];
  for (const check of checks) bench.run('check', ...check, '--job', HOSTILE, ...(check[1] === scene ? about : []));
  for (const live of ['live-reversed', 'live-mains-on-data', 'live-over-voltage', 'live-hum']) bench.run('live', '--simulate', live, '--at', 'plate');
  bench.run('records', 'void', '5', '--reason', HOSTILE);

  for (const _ of [1, 2]) bench.run('prove', '--simulate', 'pieces');
  bench.run('lot', 'open', HOSTILE_LOT, '--units', '400', '--series', HOSTILE_LOT, '--aql', '1.0');
  bench.run('lot', 'identity', HOSTILE_LOT, '1-17', '--missed', 'label,print');

  bench.qr(await bench.page('worst', ['1'], 1), '1');
  for (let n = 2; n <= checks.length + 4; n += 1) {
    const file = await bench.page(`record-${n}`, [String(n)], 1);
    if (n === 10) bench.qr(file, String(n));
  }
  await bench.page('before-and-after', ['2', '--before', '1'], 3);
  await bench.page('job', ['1', '2', '3'], 4);
  await bench.page('lot', [HOSTILE_LOT], 1, ['lot', 'show']);
  await bench.page('jig', ['--jig', 'seed-1'], 3, ['proofs']);
  await bench.page('audit', ['--jig', 'seed-1'], 3, ['audit']);
  rmSync(folder, { recursive: true });
  for (const line of bench.wrong) console.error(line);
  console.log(`${checks.length + 9} reports: ${bench.held} checks, ${bench.wrong.length} failed`);
  return bench.wrong.length > 0 || bench.held < 80 ? 1 : 0;
}

process.exitCode = await main();
