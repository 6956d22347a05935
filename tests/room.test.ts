// More to tell than fits into memory: said in words, where the engine would end with none that anybody understands.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hand, jsonWith } from '../src/cli/reporters/report.js';
import { EditorSession } from './helpers/lsp.js';
import { projectFolder } from './helpers/shop.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-room-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

const run = (shop: string, options: string, ...args: string[]) => {
  const { stdout, stderr, status } = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), ...args], {
    cwd: path.join(folder, shop),
    encoding: 'utf8',
    env: { ...process.env, BAYWRIGHT_CACHE: path.join(folder, 'cache'), ...(options !== '' && { NODE_OPTIONS: options }) },
    maxBuffer: 1e9,
    timeout: 120_000,
  });
  return { stdout, stderr, status };
};
const check = (shop: string, heap: number | null, ...args: string[]) =>
  run(shop, heap === null ? '' : `--max-old-space-size=${heap}`, 'check', ...args);

/** As in a container with so much memory, MB; there the system ends what takes more. */
const inContainer = (size: number, besides = ''): string => {
  const file = path.join(folder, `container-${size}.cjs`);
  fs.writeFileSync(file, `process.constrainedMemory = () => ${size * 1024 * 1024};\n${besides}`);
  return `-r ${JSON.stringify(file)}`;
};

const demo = (name: string) => fs.readFileSync(path.join(projectFolder, 'examples', name), 'utf8');

/** A shop with many copies of a procedure. */
function shopOf(name: string, copies: number, text: string): void {
  const place = path.join(folder, name);
  fs.mkdirSync(path.join(place, 'procedures'), { recursive: true });
  fs.mkdirSync(path.join(place, 'vehicles'));
  fs.writeFileSync(path.join(place, 'shop.yaml'), demo('shop.yaml'));
  fs.writeFileSync(path.join(place, 'vehicles/marn-20.yaml'), demo('vehicles/marn-20.yaml'));
  for (let n = 0; n < copies; n++)
    fs.writeFileSync(path.join(place, `procedures/copy-${n}.yaml`), text.replace(/^id: .*/m, `id: copy-${n}`));
}

describe('a library of which each file has a mistake in each line', () => {
  const copies = 1600;
  // Each line otherwise: one wrong name in many lines would be one mistake.
  let line = 0;
  const wrong = demo('procedures/clutch.yaml').replace(
    /^( *- \w+: )([a-z])/gm,
    (_, key: string, letter: string) => `${key}x${line++}${letter}`,
  );
  beforeAll(() => shopOf('wrong', copies, wrong));

  it('is told all of it where that fits, each time the same, and nothing of it is kept that nobody could read', () => {
    const first = check('wrong', null);
    expect(first).toMatchObject({ status: 1, stderr: '' });
    expect(Number(/(\d+) errors/.exec(first.stdout)?.[1])).toBeGreaterThan(30 * copies);
    expect(check('wrong', null)).toEqual(first);
    const kept = fs.readdirSync(path.join(folder, 'cache')).filter((name) => /\.(json|files)$/.test(name));
    for (const name of kept) expect(fs.statSync(path.join(folder, 'cache', name)).size, name).toBeLessThan(30_000_000);
    const json = JSON.parse(check('wrong', null, '--format', 'json').stdout) as { findings: unknown[]; summary: { errors: number } };
    expect(json.summary.errors).toBe(Number(/(\d+) errors/.exec(first.stdout)?.[1]));
  }, 120_000);

  it.each([72, 56])(
    'says so where it does not fit into %i MB, with what most files lack',
    (heap) => {
      const { stdout, stderr, status } = check('wrong', heap, '--no-cache');
      expect([status, stdout]).toEqual([2, '']);
      expect(stderr).toMatch(/^baywright: What is found in this library does not fit into memory: \d+ findings in \d+ of 16\d\d files\./);
      expect(stderr).toMatch(/\nMost are like procedures\/copy-\d+\.yaml:\d+:\d+ `x/);
      expect(stderr).not.toMatch(/FATAL|heap out of memory/);
    },
    60_000,
  );
});

it('in a container it ends before the system ends it', () => {
  const { stdout, stderr, status } = run('wrong', inContainer(120), 'check', '--no-cache');
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr).toMatch(/^baywright: (What is found in this library|A library of \d+ files or more) does not fit into memory/);
  expect(stderr).toContain('or give the container more memory.');
}, 60_000);

it('in a small container all paper is made by one thread, and is the same', () => {
  fs.cpSync(path.join(projectFolder, 'examples'), path.join(folder, 'demo'), { recursive: true });
  const noThreads = "require('node:worker_threads').Worker = class { constructor() { throw new Error('a thread'); } };\n";
  const made = (out: string, options: string) => {
    expect(run('demo', options, 'build', '--out', out, '--paper', 'quote')).toMatchObject({ status: 0, stderr: '' });
    const within = path.join(folder, 'demo', out);
    return fs
      .readdirSync(within, { recursive: true, encoding: 'utf8' })
      .sort()
      .map((name) => [name, fs.statSync(path.join(within, name)).isFile() && fs.readFileSync(path.join(within, name), 'base64')]);
  };
  expect(made('small', inContainer(150, noThreads))).toEqual(made('large', ''));
  expect(run('demo', inContainer(900, noThreads), 'build', '--out', 'other').status).toBe(os.availableParallelism() < 2 ? 0 : 2);
}, 60_000);

it.each([72, 56])(
  'a watch of such a library ends in words where %i MB do not suffice',
  (heap) => {
    const { stdout, stderr, status } = check('wrong', heap, '--watch');
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(/^baywright: (What is found in this|This) library does not fit into memory/);
    expect(stderr).not.toMatch(/FATAL|heap out of memory/);
  },
  60_000,
);

it.each([88, 64])(
  'whoever edits such a library is told that %i MB do not suffice, once, and the editor goes on with another',
  async (heap) => {
    const session = new EditorSession(
      process.execPath,
      [`--max-old-space-size=${heap}`, path.join(projectFolder, 'bin/baywright.js'), 'editor'],
      folder,
    );
    const uriOf = (name: string) => pathToFileURL(path.join(folder, name)).href;
    const said: string[] = [];
    const first = new Promise<void>((done) =>
      session.connection.onNotification('window/showMessage', ({ message }: { message: string }) => {
        said.push(message);
        done();
      }),
    );
    await session.start(uriOf('wrong'));
    const wrong = 'wrong/procedures/copy-7.yaml';
    const text = fs.readFileSync(path.join(folder, wrong), 'utf8');
    await session.open(uriOf(wrong), text);
    await first;
    expect(said[0]).toMatch(/^baywright: (What is found in this|This) library does not fit into memory/);
    await session.change(uriOf(wrong), 2, `${text}# more\n`);
    if (!fs.existsSync(path.join(folder, 'few'))) shopOf('few', 2, demo('procedures/clutch.yaml'));
    const other = 'few/procedures/copy-1.yaml';
    await session.open(uriOf(other), fs.readFileSync(path.join(folder, other), 'utf8').replace('steps:', 'stesp:'));
    expect((await session.found(uriOf(other), (all) => all.length > 0)).map(({ code }) => code)).toContain('schema/unknown-key');
    expect(said.length).toBe(1);
    await session.stop();
  },
  60_000,
);

it('a share of such a library says so, and a smaller one fits', () => {
  const first = check('wrong', 56, '--shard', '1/1');
  expect([first.status, first.stdout]).toEqual([2, '']);
  expect(first.stderr).toMatch(/^baywright: What is found in a share of 1 does not fit into memory\. [^\n]*\n$/);
  const small = check('wrong', 72, '--shard', '1/16');
  expect([small.status, (JSON.parse(small.stdout) as { findings: unknown[] }).findings.length > 2000]).toEqual([0, true]);
}, 60_000);

it.each([
  ['check', []],
  ['check --no-cache', ['--no-cache']],
])(
  '%s of a library that cannot even be read says so',
  (_, args) => {
    if (!fs.existsSync(path.join(folder, 'large'))) shopOf('large', 6000, demo('procedures/clutch.yaml'));
    const { stdout, stderr, status } = check('large', 40, ...args);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(/^baywright: A library of \d{3,4} files or more does not fit into memory\. [^\n]*\n$/);
  },
  60_000,
);

it('a long list is written item by item as it would be at once', () => {
  const wide = fc.dictionary(fc.string(), fc.jsonValue());
  fc.assert(
    fc.property(fc.array(fc.jsonValue()), wide, (list, more) => {
      const around = (findings: readonly unknown[]) => ({ version: 1, runs: [{ deep: { findings }, more: Object.keys(more).length }] });
      expect([...jsonWith(around, list)].join('')).toBe(`${JSON.stringify(around(list), null, 2)}\n`);
    }),
  );
});

it('pieces are handed on in few calls, whole and in their order', () => {
  fc.assert(
    fc.property(fc.array(fc.string({ maxLength: 40_000, size: 'max' }), { maxLength: 30 }), (pieces) => {
      const calls: string[] = [];
      hand(pieces, (text) => calls.push(text));
      expect(calls.join('')).toBe(pieces.join(''));
      expect(calls.filter((one) => one === '')).toEqual([]);
      expect(calls.slice(0, -1).every((one) => one.length >= 65_536)).toBe(true);
    }),
    { numRuns: 30 },
  );
});
