// A page in headless Chromium: what a script finds in it, how it looks, how many sheets it prints on.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const QUIET = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--hide-scrollbars', '--no-pdf-header-footer'];

function chromium(folder, options, page) {
  const profile = mkdtempSync(join(tmpdir(), 'runproof-chromium-'));
  const done = spawnSync('chromium', [...QUIET, `--user-data-dir=${profile}`, ...options, `file://${page}`], { encoding: 'utf8', timeout: 120_000, maxBuffer: 1 << 28 });
  rmSync(profile, { recursive: true, force: true });
  if (done.error || done.status !== 0) throw new Error(`chromium: ${done.error ?? done.stderr}`);
  return done.stdout;
}

/** What `script`, the body of an async function, returns when it runs in the page. */
export function asked(folder, html, script, { width, dark = false }) {
  const page = join(folder, 'asked.html');
  const answer = `(async () => { ${script} })().then(a => a, e => ({ error: String(e) })).then(a => {
    document.documentElement.innerHTML = '<body><pre id="answer"></pre></body>';
    document.getElementById('answer').textContent = btoa(unescape(encodeURIComponent(JSON.stringify(a)))); });`;
  writeFileSync(page, html.replace('</body>', () => `<script>${answer.replaceAll('</script>', '<\\/script>')}</script></body>`));
  const options = [`--window-size=${width},1200`, '--virtual-time-budget=20000', '--dump-dom'];
  if (dark) options.push('--blink-settings=preferredColorScheme=0');
  const dom = chromium(folder, options, page);
  const said = /<pre id="answer">([^<]*)<\/pre>/.exec(dom);
  if (!said) throw new Error('the page gave no answer');
  const found = JSON.parse(Buffer.from(said[1], 'base64').toString('utf8'));
  if (found?.error) throw new Error(found.error);
  return found;
}

export function picture(folder, page, width, height) {
  const file = join(folder, 'seen.png');
  chromium(folder, [`--window-size=${width},${height}`, '--force-device-scale-factor=2', `--screenshot=${file}`], page);
  return file;
}

/** On how many sheets of this size it prints. */
export function sheets(folder, html, size) {
  const [page, file] = ['printed.html', 'printed.pdf'].map((name) => join(folder, name));
  writeFileSync(page, html.replace('</style>', () => ` @page { size: ${size}; }</style>`));
  chromium(folder, [`--print-to-pdf=${file}`], page);
  return readFileSync(file).toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}
