// What a check keeps of an unchanged library: used if nothing has changed, and never where it might be wrong.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-cache-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const cache = path.join(folder, 'cache');
const shop = path.join(folder, 'shop');
const pump = path.join(shop, 'procedures/thermostat-pump.yaml');

const check = (...args: string[]) => {
  const { stdout, stderr, status } = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'check', ...args], {
    cwd: shop,
    encoding: 'utf8',
    env: { ...process.env, BAYWRIGHT_CACHE: cache },
  });
  return { stdout, stderr, status };
};
const kept = (): string => path.join(cache, fs.readdirSync(cache).find((name) => name.endsWith('.json')) ?? 'none');
/** Files that changed a moment ago are read again; these have been there for an hour. */
const age = (file: string) => fs.utimesSync(file, new Date(Date.now() - 3_600_000), new Date(Date.now() - 3_600_000));

beforeEach(() => {
  fs.rmSync(cache, { recursive: true, force: true });
  fs.rmSync(shop, { recursive: true, force: true });
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
  for (const entry of fs.readdirSync(shop, { recursive: true, withFileTypes: true }))
    if (entry.isFile()) age(path.join(entry.parentPath, entry.name));
});

/** Puts a finding of another text into the cache, under a digest that fits. */
function forge(message: string): void {
  const text = fs.readFileSync(kept(), 'utf8');
  const body = JSON.parse(text.slice(text.indexOf('\n') + 1));
  body.findings.push({ rule: 'ledger/left-open', severity: 'error', message, span: ['shop.yaml', 0, 4] });
  const made = JSON.stringify(body);
  fs.writeFileSync(kept(), `${createHash('sha256').update(made).digest('base64')}\n${made}`);
}

it('an unchanged library is not looked at again, in any format, for any part of it', () => {
  expect(check()).toMatchObject({ status: 0, stdout: expect.stringContaining('5 files checked: clean') });
  forge('kept from before');
  expect(check()).toMatchObject({ status: 1, stdout: expect.stringContaining('kept from before') });
  expect(check('--format', 'sarif').stdout).toContain('kept from before');
  expect(check('shop.yaml').stdout).toContain('kept from before');
  expect(check('vehicles').stdout).toMatch(/1 file checked: clean/);
  expect(check('--no-cache')).toMatchObject({ status: 0, stdout: expect.stringContaining('clean') });
});

it('a time of change alone is no change; another content is, also of the same size and within the same second', () => {
  check();
  forge('kept from before');
  fs.utimesSync(pump, new Date(), new Date());
  expect(check().stdout).toContain('kept from before');
  const text = fs.readFileSync(pump, 'utf8');
  fs.writeFileSync(pump, text.replace('fit: upper-hose', 'fit: uper-hoses'.slice(0, 15)));
  const changed = check();
  expect([changed.status, changed.stdout.includes('kept from before')]).toEqual([1, false]);
  expect(changed.stdout).toContain('uper-hoses');
  fs.writeFileSync(pump, text);
  expect(check()).toMatchObject({ status: 0 });
});

it('a file more, a file less, or a file renamed is a change', () => {
  check();
  forge('kept from before');
  fs.copyFileSync(pump, path.join(shop, 'procedures/second.yaml'));
  expect(check()).toMatchObject({ status: 1, stdout: expect.not.stringContaining('kept from before') });
  fs.rmSync(path.join(shop, 'procedures/second.yaml'));
  expect(check()).toMatchObject({ status: 0 });
  forge('kept from before');
  fs.renameSync(pump, path.join(shop, 'procedures/other.yaml'));
  expect(check()).toMatchObject({ status: 0, stdout: expect.not.stringContaining('kept from before') });
});

it.each([
  ['cut off', (text: string) => text.slice(0, text.length / 2)],
  ['changed in one letter', (text: string) => text.replace('sizes', 'sizez')],
  ['empty', () => ''],
  ['something else', () => 'not a cache\n{}'],
  ['of another version of the tool', (text: string) => resealed(text, (body) => ({ ...body, key: '0' }))],
  ['of another library', (text: string) => resealed(text, (body) => ({ ...body, root: '/elsewhere' }))],
])('a cache that is %s is made anew', (_, spoil) => {
  check();
  forge('kept from before');
  fs.writeFileSync(kept(), spoil(fs.readFileSync(kept(), 'utf8')));
  expect(check()).toMatchObject({ status: 0, stderr: '', stdout: expect.stringContaining('clean') });
  forge('kept from the second run');
  expect(check().stdout).toContain('kept from the second run');
});

function resealed(text: string, change: (body: object) => object): string {
  const made = JSON.stringify(change(JSON.parse(text.slice(text.indexOf('\n') + 1))));
  return `${createHash('sha256').update(made).digest('base64')}\n${made}`;
}

it('where it cannot be kept, the check works all the same', () => {
  fs.writeFileSync(cache, 'a file where the folder should be');
  expect(check()).toMatchObject({ status: 0, stderr: '', stdout: expect.stringContaining('clean') });
  fs.rmSync(cache);
});

it('what a killed run left in the cache folder is taken away by the next', () => {
  check();
  const left = path.join(cache, `.${path.basename(kept())}.new-999999999`);
  fs.writeFileSync(left, 'half');
  fs.appendFileSync(pump, '# changed\n');
  check();
  expect(fs.readdirSync(cache)).toEqual([path.basename(kept())]);
});
