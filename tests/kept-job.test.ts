// A job as the last build compiled it: printed again while nothing has changed, and never where it might be another.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeEach, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-kept-job-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const cache = path.join(folder, 'cache');
const shop = path.join(folder, 'shop');
const out = path.join(folder, 'out');
const at = (...names: string[]) => path.join(shop, ...names);

const runBy = (bin: string, args: readonly string[], env: NodeJS.ProcessEnv = {}) => {
  const { stdout, stderr, status } = spawnSync(process.execPath, [bin, ...args], {
    cwd: shop,
    encoding: 'utf8',
    env: { ...process.env, BAYWRIGHT_CACHE: cache, ...env },
    timeout: 30_000,
  });
  return { stdout, stderr, status };
};
const bin = path.join(projectFolder, 'bin/baywright.js');
const build = (...args: string[]) => runBy(bin, ['build', ...args, '--out', out]);
const printed = (name = 'job.json') => fs.readFileSync(path.join(out, '3001-pump', name), 'utf8');
/** What is printed where nothing is kept. */
const anew = (...args: string[]) => {
  const elsewhere = path.join(folder, 'anew');
  const result = runBy(bin, ['build', ...args, '--out', elsewhere], { BAYWRIGHT_CACHE: 'off' });
  const all = result.status === 0 ? fs.readFileSync(path.join(elsewhere, '3001-pump/job.json'), 'utf8') : null;
  return { ...result, stdout: result.stdout.replaceAll(elsewhere, out), all };
};
const kept = () => fs.readdirSync(cache).filter((name) => name.endsWith('.job'));
const bodyOf = (file: string) => fs.readFileSync(file, 'utf8').split('\n')[1] ?? '';

beforeEach(() => {
  for (const one of [cache, shop, out]) fs.rmSync(one, { recursive: true, force: true });
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
});

/** Has the shop of all kept jobs bear another name, under a digest that fits: who prints it has not compiled. */
function forge(): void {
  expect(kept()).not.toEqual([]);
  for (const name of kept()) {
    const file = path.join(cache, name);
    const body = bodyOf(file)
      .replace('"name":"Our shop"', '"name":"Kept shop"')
      .replace(/"digest":"\w{8}/, '"digest":"00000000');
    expect(body).toContain('Kept shop');
    fs.writeFileSync(file, `${createHash('sha256').update(body).digest('base64')}\n${body}`);
  }
}

const isKept = () => printed().includes('Kept shop');

it('a job that is as it was is not compiled again, for any of its paper, by id or by file', () => {
  const first = build('3001-pump');
  expect(first).toMatchObject({ status: 0, stderr: '' });
  const [json, sheet] = [printed(), fs.readFileSync(path.join(out, '3001-pump/bay-sheet.pdf'))];
  expect(build('3001-pump')).toEqual(first);
  expect([printed(), fs.readFileSync(path.join(out, '3001-pump/bay-sheet.pdf')).equals(sheet)]).toEqual([json, true]);
  expect(json).toBe(anew('3001-pump').all);
  forge();
  expect(build('3001-pump')).toEqual(first);
  expect(isKept()).toBe(true);
  expect(build('3001-pump', '--paper', 'quote', '--format', 'html').stdout).toContain('quote.html');
  expect(printed('quote.html')).toContain('Kept shop');
  expect(build('3001-pump', '--after', '3').stdout).toContain('hand-over-tag-3.pdf');
  expect(isKept()).toBe(true);
  // Another way to ask is another question.
  expect(build('jobs/3001-pump.yaml')).toEqual(first);
  expect(isKept()).toBe(false);
  forge();
  expect(build(at('jobs/3001-pump.yaml'))).toEqual(first);
  expect(isKept()).toBe(true);
  expect(build()).toEqual(first);
  expect(isKept()).toBe(false);
});

const replaced = (file: string, from: string, to: string) => {
  const text = fs.readFileSync(at(file), 'utf8');
  expect(text).toContain(from);
  fs.writeFileSync(at(file), text.replace(from, to));
};

const changes: readonly (readonly [string, () => void])[] = [
  ['the order', () => replaced('jobs/3001-pump.yaml', 'Loses coolant.', 'Loses water.')],
  ['a letter of the order', () => replaced('jobs/3001-pump.yaml', 'AB 123', 'AB 124')],
  ['a price', () => replaced('parts/dalby.yaml', 'price: ', 'price: 1')],
  ['the shop', () => replaced('shop.yaml', 'mechanic: 60.00', 'mechanic: 61.00')],
  ['the procedure, to a mistake', () => replaced('procedures/thermostat-pump.yaml', '  - fit: splash-shield\n', '')],
  ['the vehicle, of which a place goes', () => fs.rmSync(at('vehicles/dalby-18.yaml'))],
  ['a name, to another place', () => fs.renameSync(at('parts/dalby.yaml'), at('parts/other.yaml'))],
  [
    'what was shipped, by the shop',
    () =>
      fs.writeFileSync(
        at('procedures/own.yaml'),
        fs.readFileSync(path.join(projectFolder, 'procedures/coolant-drained.yaml'), 'utf8').replace(/^name: .*/m, 'name: Our own way'),
      ),
  ],
  [
    'a second job of that id',
    () => fs.writeFileSync(at('jobs/again.yaml'), fs.readFileSync(at('jobs/3001-pump.yaml'), 'utf8').replace('AB 123', 'CD 456')),
  ],
  ['a catalogue more', () => fs.writeFileSync(at('parts/more.yaml'), 'kind: parts\nid: more\nname: More\n')],
];

it.each(changes)('it is compiled anew after a change of %s', (_, change) => {
  expect(build('3001-pump').status).toBe(0);
  forge();
  const stamps = new Map(fs.readdirSync(shop, { recursive: true, encoding: 'utf8' }).map((name) => [name, fs.statSync(at(name))]));
  change();
  // Also where the time of the change is hidden.
  for (const [name, { atime, mtime }] of stamps) if (fs.existsSync(at(name))) fs.utimesSync(at(name), atime, mtime);
  const now = anew('3001-pump');
  for (const _round of [1, 2]) {
    const { status, stdout } = build('3001-pump');
    expect({ status, stdout }).toEqual({ status: now.status, stdout: now.stdout });
    if (now.all !== null) expect(printed()).toBe(now.all);
  }
});

it('a file that no paper comes from counts as changed by its time, and not before that can tell', async () => {
  fs.writeFileSync(at('procedures/other.yaml'), 'kind: procedure\nid: other\nname: Other\nsteps:\n  - inspect: upper-hose\n');
  expect(build('3001-pump').status).toBe(0);
  expect(kept()).toEqual([]);
  await wait(2100);
  expect(build('3001-pump').status).toBe(0);
  forge();
  expect(build('3001-pump').status).toBe(0);
  expect(isKept()).toBe(true);
  fs.writeFileSync(at('procedures/other.yaml'), fs.readFileSync(at('procedures/other.yaml'), 'utf8').replace('Other', 'Ather'));
  expect(build('3001-pump').status).toBe(0);
  expect(isKept()).toBe(false);
});

it('what is printed in spite of mistakes, or for a screen alone, is compiled each time', () => {
  expect(build('3001-pump', '--format', 'html').status).toBe(0);
  expect(kept()).toEqual([]);
  replaced('procedures/thermostat-pump.yaml', '  - fit: splash-shield\n', '');
  expect(build('3001-pump', '--draft').status).toBe(0);
  expect(kept()).toEqual([]);
  expect(build('3001-pump')).toMatchObject({ status: 1, stdout: '' });
});

const spoilt: readonly (readonly [string, (file: string) => void])[] = [
  ['cut off', (file) => fs.truncateSync(file, Math.floor(fs.statSync(file).size / 2))],
  ['empty', (file) => fs.truncateSync(file, 0)],
  ['under another digest', (file) => fs.writeFileSync(file, `!${fs.readFileSync(file, 'utf8').slice(1)}`)],
  ['of another build of the tool', (file) => resealed(file, (body) => body.replace(/"key":"[^"]*"/, '"key":"2 older"'))],
  ['of another library', (file) => resealed(file, (body) => body.replace(/"root":"[^"]*"/, '"root":"/elsewhere"'))],
  ...(process.platform === 'win32' ? [] : [['open for others to write', (file: string) => fs.chmodSync(file, 0o666)] as const]),
];

function resealed(file: string, change: (body: string) => string): void {
  const body = change(bodyOf(file));
  expect(body).not.toBe(bodyOf(file));
  fs.writeFileSync(file, `${createHash('sha256').update(body).digest('base64')}\n${body}`);
}

it.each(spoilt)('a kept job that is %s is compiled anew, and kept again', (_, spoil) => {
  const first = build('3001-pump');
  forge();
  spoil(path.join(cache, kept()[0] ?? ''));
  expect(build('3001-pump')).toEqual(first);
  expect(isKept()).toBe(false);
  forge();
  expect(build('3001-pump')).toEqual(first);
  expect(isKept()).toBe(true);
});

it('a shipped preparation that somebody has changed in the installation is seen', () => {
  const installed = path.join(folder, 'installed');
  for (const name of ['bin', 'dist', 'procedures', 'schemas', 'package.json'])
    fs.cpSync(path.join(projectFolder, name), path.join(installed, name), { recursive: true });
  fs.symlinkSync(path.join(projectFolder, 'node_modules'), path.join(installed, 'node_modules'), 'junction');
  const there = () => runBy(path.join(installed, 'bin/baywright.js'), ['build', '3001-pump', '--out', out]);
  expect(there()).toMatchObject({ status: 0, stderr: '' });
  const used = Object.keys(JSON.parse(bodyOf(path.join(cache, kept()[0] ?? ''))).used).find((name) => name.startsWith('baywright:'));
  expect(used).toBeDefined();
  forge();
  expect([there().status, isKept()]).toEqual([0, true]);
  const file = path.join(installed, String(used).replace('baywright:', ''));
  fs.appendFileSync(file, '# Changed.\n');
  expect([there().status, isKept()]).toEqual([0, false]);
  forge();
  fs.writeFileSync(path.join(installed, 'procedures/more.yaml'), 'kind: preparation\nid: more\nname: More\nsteps:\n  - inspect: leaks\n');
  expect([there().status, isKept()]).toEqual([0, false]);
});
