// What a check keeps of an unchanged library: used if nothing has changed, and never where it might be wrong.
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, expect, it } from 'vitest';
import { runHere } from './helpers/runs.js';
import { projectFolder } from './helpers/shop.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-cache-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const cache = path.join(folder, 'cache');
const shop = path.join(folder, 'shop');
/** The tool as it comes from the registry: nothing is there that the engine made of it. */
const installed = path.join(folder, 'installed');
for (const name of ['bin', 'dist/bundle', 'dist/fonts', 'dist/shipped.json', 'procedures', 'schemas', 'package.json', 'node_modules/yaml'])
  fs.cpSync(path.join(projectFolder, name), path.join(installed, name), { recursive: true });
const pump = path.join(shop, 'procedures/thermostat-pump.yaml');

const bin = path.join(installed, 'bin/baywright.js');
const run = (...args: string[]) => {
  const { stdout, stderr, status } = spawnSync(process.execPath, [bin, ...args], {
    cwd: shop,
    encoding: 'utf8',
    env: { ...process.env, BAYWRIGHT_CACHE: cache },
    timeout: 30_000,
  });
  return { stdout, stderr, status };
};
const check = (...args: string[]) => run('check', ...args);
const kept = (): string => path.join(cache, fs.readdirSync(cache).find((name) => name.endsWith('.json')) ?? 'none');
const code = (): string[] =>
  fs
    .readdirSync(cache)
    .filter((name) => name.endsWith('.code'))
    .map((name) => path.join(cache, name));
/** Files that changed a moment ago are read again; these have been there for an hour. */
const age = (file: string) => fs.utimesSync(file, new Date(Date.now() - 3_600_000), new Date(Date.now() - 3_600_000));
function ageAll(folder: string): void {
  for (const entry of fs.readdirSync(folder, { recursive: true, withFileTypes: true }))
    if (entry.isFile()) age(path.join(entry.parentPath, entry.name));
}
ageAll(installed);

beforeEach(() => {
  fs.rmSync(cache, { recursive: true, force: true });
  fs.rmSync(shop, { recursive: true, force: true });
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
  ageAll(shop);
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

it('a build takes what was found before, looks anew at what has changed, and says nothing of the rest', () => {
  const build = () => {
    const args = ['build', '3001-pump', '--out', path.join(folder, 'out')];
    const env = { ...process.env, BAYWRIGHT_CACHE: cache };
    return spawnSync(process.execPath, [bin, ...args], { cwd: shop, encoding: 'utf8', env });
  };
  expect(build()).toMatchObject({ status: 0, stderr: '' });
  // What it has not looked at is looked at by the check.
  const other = path.join(shop, 'procedures/other.yaml');
  fs.writeFileSync(other, 'kind: procedure\nid: other\nname: Other\nsteps:\n  - remove: splash-shield\n');
  expect(build()).toMatchObject({ status: 0, stderr: '' });
  expect(check()).toMatchObject({ status: 1, stdout: expect.stringContaining('ledger/left-open') });
  expect(build()).toMatchObject({ status: 0, stderr: '' });
  fs.rmSync(other);
  for (const [file, from, to] of [
    [pump, 'fit: upper-hose', 'fit: uper-hose'],
    [path.join(shop, 'vehicles/dalby-18.yaml'), 'upper-hose:', 'upper-pipe:'],
  ] as const) {
    const text = fs.readFileSync(file, 'utf8');
    expect(text).toContain(from);
    fs.writeFileSync(file, text.replace(from, to));
    expect(build()).toMatchObject({ status: 1, stdout: '' });
    expect(build()).toMatchObject({ status: 1, stderr: expect.stringContaining('not printed') });
    fs.writeFileSync(file, text);
    expect(build()).toMatchObject({ status: 0, stderr: '' });
  }
});

it('what a build had to read because it was new when it was kept need not be read by the next', async () => {
  const build = () => expect(run('build', '--out', path.join(folder, 'out'))).toMatchObject({ status: 0, stderr: '' });
  const keptWhen = () => fs.statSync(path.join(cache, fs.readdirSync(cache).find((name) => name.endsWith('.files')) ?? 'none')).mtimeMs;
  build();
  const first = keptWhen();
  build();
  expect(keptWhen()).toBe(first);
  // Two seconds after a change its time says enough.
  await new Promise((resolve) => setTimeout(resolve, 2100));
  build();
  const second = keptWhen();
  expect(second).toBeGreaterThan(first);
  build();
  expect(keptWhen()).toBe(second);
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

it.skipIf(process.platform !== 'linux' || process.getuid?.() !== 0)(
  'a link out of the library is not followed for what was kept of it either',
  () => {
    // Who reads this file waits for what the kernel has to say next.
    fs.symlinkSync('/proc/kmsg', path.join(shop, 'procedures/log.yaml'));
    const first = check();
    expect(first).toMatchObject({ status: 1, stdout: expect.stringContaining('link to a file outside this library') });
    for (let n = 0; n < 2; n++) expect(check()).toEqual(first);
  },
);

it('what could not be read and now can is read, also where its size and content say that nothing changed', () => {
  const file = path.join(shop, 'procedures/empty.yaml');
  fs.symlinkSync('nowhere.yaml', file);
  expect(check().stdout).toContain('what it leads to is not there');
  fs.unlinkSync(file);
  fs.writeFileSync(file, '');
  expect(check().stdout).toContain('This file is empty');
  fs.unlinkSync(file);
  fs.writeFileSync(path.join(folder, 'outside'), '');
  fs.symlinkSync(path.join(folder, 'outside'), file);
  expect(check().stdout).toContain('link to a file outside');
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
  const left = path.join(cache, `.${path.basename(kept())}.baywright-new-${runHere(999999999)}`);
  fs.writeFileSync(left, 'half');
  fs.appendFileSync(pump, '# changed\n');
  check();
  expect(fs.existsSync(left)).toBe(false);
});

/** What the tool keeps of itself, compiled: with what it was made from, under a digest. */
const changeable = (file: string) => {
  const { mtimeMs, size, mode } = fs.statSync(file);
  return { mtimeMs, size, mode };
};

it('the compiled tool is kept for this user alone', () => {
  check();
  expect(code().length).toBeGreaterThanOrEqual(3);
  if (process.platform !== 'win32') expect(code().map((file) => changeable(file).mode & 0o777)).toEqual(code().map(() => 0o600));
});

it.each([
  ['a check of all', ['check', '--no-cache'], 0],
  ['a check of one file', ['check', pump, '--no-cache'], 0],
  ['a build', ['build', '--out', path.join(folder, 'paper')], 0],
  // The engine then does its best.
  ['a check of many files', ['check', '--no-cache'], 501],
] as const)('the compiled tool is used as it is by the next run: %s', (_, args, files) => {
  const text = 'kind: preparation\nid: look-0\nname: Look\nsteps:\n  - inspect: leaks\n';
  for (let n = 1; n <= files; n++) fs.writeFileSync(path.join(shop, 'procedures', `look-${n}.yaml`), text.replace('look-0', `look-${n}`));
  const first = run(...args);
  expect(first).toMatchObject({ status: 0, stderr: '' });
  const made = code().map(changeable);
  expect(made.length).toBeGreaterThanOrEqual(3);
  expect(run(...args)).toEqual(first);
  expect(code().map(changeable)).toEqual(made);
});

it('what is kept holds for a build of the tool, whenever that was installed, and for no other', () => {
  const foundThere = () => check().stdout.includes('kept from before');
  check();
  forge('kept from before');
  expect(foundThere()).toBe(true);
  // Installed anew: the same files at another time.
  fs.cpSync(path.join(projectFolder, 'dist/bundle'), path.join(installed, 'dist/bundle'), { recursive: true });
  expect(foundThere()).toBe(true);
  const digest = path.join(installed, 'dist/bundle/digest.txt');
  const build = fs.readFileSync(digest, 'utf8');
  expect(build).toMatch(/^[0-9a-f]{64}\n$/);
  fs.rmSync(digest);
  expect(foundThere()).toBe(false);
  fs.writeFileSync(
    digest,
    build.replace(/^./, (first) => (first === '0' ? '1' : '0')),
  );
  expect(check()).toMatchObject({ status: 0, stdout: expect.stringContaining('clean') });
  fs.writeFileSync(digest, build);
  expect(foundThere()).toBe(false);
});

it('each use of a bundle keeps what it used, and not the first of them for all', () => {
  const keptAfter = (args: readonly string[]) => {
    expect(run(...args)).toMatchObject({ status: 0, stderr: '' });
    return code().length;
  };
  const inNone = path.join(folder, 'alone.yaml');
  fs.writeFileSync(inNone, 'kind: preparation\nid: alone\nname: Alone\nsteps:\n  - inspect: leaks\n');
  const uses = [
    ['check', '--no-cache'],
    ['check', pump, '--no-cache'],
    ['check', '--no-cache', '--format', 'json'],
    ['check', inNone, '--no-cache'],
    ['explain', 'job/vin'],
    ['build', '--out', path.join(folder, 'paper')],
    ['build', '--out', path.join(folder, 'paper'), '--paper=quote', '--format', 'html'],
  ];
  const first = uses.map(keptAfter);
  // To look at one file of a library is to look at the library. For a file in none the engine of Node 20 has its own switches,
  // and takes back nothing else; with `explain` come the words of the rules, with the last two `build` and its paper, of two
  // kinds; each has the command line to itself.
  const alone = process.versions.v8.startsWith('11.') ? 3 : 2;
  expect(first.map((count, n) => count - (first[n - 1] ?? count))).toEqual([0, 0, 0, alone, 3, 4, 1]);
  expect(uses.map(keptAfter)).toEqual(uses.map(() => first.at(-1)));
});

it('what a run used that could do nothing is not all that is kept', () => {
  const build = (job: string) => run('build', job, '--out', path.join(folder, 'paper')).status;
  const job = fs.readdirSync(path.join(shop, 'jobs'))[0]?.replace('.yaml', '') ?? '';
  const sizes = () => new Map(code().map((file) => [file, fs.statSync(file).size]));
  expect(build('no-such-job')).toBe(2);
  const first = sizes();
  expect(build(job)).toBe(0);
  const second = sizes();
  const grown = [...first].filter(([file, size]) => (second.get(file) ?? 0) > size * 1.5);
  expect(grown.length).toBeGreaterThanOrEqual(1);
  // And not the other way round.
  const made = code().map(changeable);
  expect(build('no-such-job')).toBe(2);
  expect(code().map(changeable)).toEqual(made);
});

/** Where files have no modes, the last cannot be tried. */
const spoilt: readonly (readonly [string, (file: string) => void])[] = [
  ['cut off', (file) => fs.truncateSync(file, Math.floor(fs.statSync(file).size / 2))],
  ['empty', (file) => fs.truncateSync(file, 0)],
  ['changed in one bit', (file) => flip(file, 4000)],
  ['under another digest', (file) => flip(file, 3)],
  ['no code, under a digest that fits', (file) => fs.writeFileSync(file, sealed(file, Buffer.from('no code at all')))],
  ['open for others to write', (file) => fs.chmodSync(file, 0o666)],
];

it.each(process.platform === 'win32' ? spoilt.slice(0, -1) : spoilt)('a compiled tool that is %s is compiled anew', (_, spoil) => {
  check('--no-cache');
  const sizes = code().map((file) => fs.statSync(file).size);
  for (const file of code()) {
    spoil(file);
    age(file);
  }
  expect(check('--no-cache')).toMatchObject({ status: 0, stderr: '', stdout: expect.stringContaining('clean') });
  const again = code().map(changeable);
  for (const [n, { mtimeMs, size, mode }] of again.entries()) {
    expect(Date.now() - mtimeMs).toBeLessThan(1_800_000);
    expect(size / (sizes[n] ?? 0)).toBeCloseTo(1, 1);
    if (process.platform !== 'win32') expect(mode & 0o777).toBe(0o600);
  }
});

it('what the engine made when the tool was built need not be made by the first run; spoilt, it is made anew', () => {
  const first = () => {
    fs.rmSync(cache, { recursive: true, force: true });
    expect(check('--no-cache')).toMatchObject({ status: 0, stderr: '', stdout: expect.stringContaining('clean') });
    return fs.existsSync(cache) ? code() : [];
  };
  const made = first();
  expect(made.length).toBeGreaterThanOrEqual(3);
  const built = path.join(installed, 'dist/code');
  for (const file of made) fs.cpSync(file, path.join(built, path.basename(file)));
  try {
    expect(first()).toEqual([]);
    for (const file of made) flip(path.join(built, path.basename(file)), 4000);
    expect(first()).toEqual(made);
  } finally {
    fs.rmSync(built, { recursive: true });
  }
});

it('a clone has what the engine made for usual runs', () => {
  const args = [path.join(projectFolder, 'bin/baywright.js'), 'check', '--no-cache'];
  const { status } = spawnSync(process.execPath, args, { cwd: shop, env: { ...process.env, BAYWRIGHT_CACHE: cache } });
  expect([status, fs.existsSync(cache)]).toEqual([0, false]);
});

function flip(file: string, at: number): void {
  const bytes = fs.readFileSync(file);
  bytes[at] = (bytes[at] ?? 0) ^ 1;
  fs.writeFileSync(file, bytes);
}

/** Other code for the bundle that a file was made from, sealed as the tool does it. */
function sealed(file: string, other: Buffer): Buffer {
  const whole = fs.readFileSync(file);
  const seal = (source: Buffer, made: Uint8Array) => createHash('sha256').update(process.versions.v8).update(source).update(made).digest();
  const folder = path.join(installed, 'dist/bundle');
  const sources = fs.readdirSync(folder).map((name) => fs.readFileSync(path.join(folder, name)));
  const source = sources.find((one) => seal(one, whole.subarray(32)).equals(whole.subarray(0, 32)));
  if (!source) throw new Error('the seal is made in another way');
  return Buffer.concat([seal(source, other), other]);
}

it('nothing is kept where nothing shall be', () => {
  const { status } = spawnSync(process.execPath, [bin, 'check'], {
    cwd: shop,
    env: { ...process.env, BAYWRIGHT_CACHE: 'off', HOME: folder, XDG_CACHE_HOME: path.join(folder, 'xdg') },
  });
  expect([status, fs.existsSync(path.join(folder, 'xdg')), fs.existsSync(path.join(folder, '.cache'))]).toEqual([0, false, false]);
});

it('a file that was too new to be known by its time is opened once more, and then no longer', async () => {
  check();
  const first = fs.readFileSync(kept(), 'utf8');
  await new Promise((done) => setTimeout(done, 2500));
  check();
  const second = fs.readFileSync(kept(), 'utf8');
  expect(second).not.toBe(first);
  expect(check()).toMatchObject({ status: 0, stdout: expect.stringContaining('5 files checked: clean') });
  expect(fs.readFileSync(kept(), 'utf8')).toBe(second);
});

it('what was kept long ago is taken away, and nothing else', () => {
  check();
  const old = (name: string) => {
    const file = path.join(cache, name);
    fs.writeFileSync(file, 'x');
    fs.utimesSync(file, new Date(Date.now() - 100 * 86_400_000), new Date(Date.now() - 100 * 86_400_000));
  };
  for (const name of ['0123456789abcdef01234567.json', '0123456789abcdef01234567.files', 'notes.json']) old(name);
  const changed = () => {
    fs.appendFileSync(pump, '# changed\n');
    expect(check().status).toBe(0);
  };
  // There may be very many: they are looked through once in a day.
  changed();
  expect(fs.readdirSync(cache)).toContain('0123456789abcdef01234567.json');
  old('looked-through');
  changed();
  expect(Math.abs(Date.now() - fs.statSync(path.join(cache, 'looked-through')).mtimeMs)).toBeLessThan(3_600_000);
  const now = fs.readdirSync(cache);
  expect(now).not.toContain('0123456789abcdef01234567.json');
  expect(now).not.toContain('0123456789abcdef01234567.files');
  expect(now).toContain('notes.json');
  expect(now.filter((name) => name.endsWith('.files'))).toHaveLength(1);
});

it.skipIf(process.platform === 'win32')('what others could have written is not trusted', () => {
  check();
  forge('from somebody else');
  fs.chmodSync(kept(), 0o666);
  expect(check()).toMatchObject({ status: 0, stdout: expect.stringContaining('clean') });
});

it.skipIf(process.platform === 'win32' || process.getuid?.() === 0)('a file that may no longer be read is told of', () => {
  expect(check().status).toBe(0);
  fs.chmodSync(pump, 0);
  expect(check()).toMatchObject({ status: 1, stdout: expect.stringContaining('yaml/unreadable') });
});

it('another content of the same size, under the old time, is another content', () => {
  const text = fs.readFileSync(pump, 'utf8');
  expect(check().status).toBe(0);
  fs.writeFileSync(pump, text.replace('  - fit: splash-shield', '  - fit: splash-sheild'));
  age(pump);
  expect(check()).toMatchObject({ status: 1, stdout: expect.stringContaining('splash-sheild') });
});

it('killed at any point, what is kept is right or made anew, and nothing half-written stays', async () => {
  check();
  const text = fs.readFileSync(pump, 'utf8');
  for (let n = 0; n < 16; n++) {
    fs.writeFileSync(pump, n % 2 === 0 ? text.replace('  - fit: splash-shield\n', '') : text);
    const child = spawn(process.execPath, [bin, 'check'], {
      cwd: shop,
      env: { ...process.env, BAYWRIGHT_CACHE: cache },
      stdio: 'ignore',
    });
    setTimeout(() => child.kill('SIGKILL'), 60 + n * 10);
    await new Promise((done) => child.on('exit', done));
    const [next, anew] = [check(), check('--no-cache')];
    expect(next, `killed after ${60 + n * 10} ms`).toEqual(anew);
    expect(next.status).toBe(n % 2 === 0 ? 1 : 0);
    expect(fs.readdirSync(cache).filter((name) => name.startsWith('.'))).toEqual([]);
  }
}, 60_000);
