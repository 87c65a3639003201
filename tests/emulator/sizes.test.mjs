import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { broken, measured, README, table, tableIn } from './sizes.mjs';

test('the image keeps to its bars, and its README tells the truth', async (t) => {
  const now = await measured();
  assert.deepEqual(broken(now.rows), []);
  const told = tableIn(readFileSync(README, 'utf8'));
  if (told.includes(`\`${now.compiler}\``)) {
    assert.equal(told, table(now), 'node tests/emulator/sizes.mjs --write');
  } else {
    t.diagnostic(`bars only: the README's table is by another compiler than this image's, ${now.compiler}`);
    assert.deepEqual(told.match(/\d[\d,]* \|$/gm), table(now).match(/\d[\d,]* \|$/gm), 'the bars');
  }
});

test('a bar that is broken is told', () => {
  assert.deepEqual(broken([{ what: 'flash', bytes: 11, max: 10 }, { what: 'RAM', bytes: 10, max: 10 }]), ['flash: 11 bytes, more than 10']);
});
