// Many jobs are printed by several threads: the same paper as one by one, and the same answers.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-printing-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const shop = path.join(folder, 'shop');
fs.cpSync(path.join(projectFolder, 'examples'), shop, { recursive: true, filter: (name) => path.basename(name) !== 'out' });
const jobs = fs.readdirSync(path.join(shop, 'jobs')).map((name) => name.replace('.yaml', ''));

const build = (...args: string[]) => buildUnder([], args);
/** @param options of Node */
function buildUnder(options: readonly string[], args: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [...options, path.join(projectFolder, 'bin/baywright.js'), 'build', ...args],
    { cwd: shop, encoding: 'utf8' },
  );
  return { status, stdout, stderr };
}

const filesIn = (out: string): [string, string][] =>
  fs
    .readdirSync(out, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry): [string, string] => {
      const full = path.join(entry.parentPath, entry.name);
      return [path.relative(out, full), fs.readFileSync(full, 'base64')];
    })
    .sort(([a], [b]) => (a < b ? -1 : 1));

if (os.availableParallelism() < 2) console.warn('This machine has one core: threads are not made, and not tested.');

it('all jobs at once are the same to the byte as each alone, and are named in their order', () => {
  const together = build('--out', path.join(folder, 'together'));
  expect([together.status, together.stderr]).toEqual([0, '']);
  const alone = jobs.map((job) => build(job, '--out', path.join(folder, 'alone')));
  expect(alone.map((one) => one.status)).toEqual(jobs.map(() => 0));
  const files = filesIn(path.join(folder, 'together'));
  expect(files.length).toBeGreaterThan(8 * 8);
  expect(files).toEqual(filesIn(path.join(folder, 'alone')));
  const named = (text: string) => text.replaceAll(path.join(folder, 'alone'), path.join(folder, 'together'));
  expect(together.stdout).toBe(alone.map((one) => named(one.stdout)).join(''));
}, 120_000);

it.each([
  ['squeals 🐦', '🐦', 'U\\+1F426'],
  // As YAML spells it.
  ['"squeals \\U0001F426"', '🐦', 'U\\+1F426'],
])(
  'a job with a character that the font lacks is told at its place and not printed, on a screen it is; all others are: %j',
  (written, shown, code) => {
    const middle = jobs[5] ?? '';
    const file = path.join(shop, 'jobs', `${middle}.yaml`);
    const text = fs.readFileSync(file, 'utf8');
    fs.writeFileSync(file, text.replace(/^complaint: .*$/m, `complaint: ${written}`));
    expect(fs.readFileSync(file, 'utf8')).not.toBe(text);
    const { status, stderr } = build('--out', path.join(folder, 'without'));
    const draft = build(middle, '--draft', '--out', path.join(folder, 'draft'));
    const screen = build(middle, '--format', 'html', '--out', path.join(folder, 'screen'));
    fs.writeFileSync(file, text);
    for (const one of [{ status, stderr }, draft]) {
      expect(one.status).toBe(1);
      expect(one.stderr).toMatch(
        new RegExp(
          `error jobs/${middle}\\.yaml:\\d+:12 paper/no-character[^]*“${shown}” \\(${code}\\)[^]*${middle} is not printed: errors stop paper\\. Mend them, or make a page for a screen`,
        ),
      );
    }
    expect([screen.status, screen.stderr]).toEqual([0, '']);
    expect(fs.readFileSync(path.join(folder, 'screen', middle, 'job.html'), 'utf8')).toContain(`squeals ${shown}`);
    const whole = new Map(filesIn(path.join(folder, 'together')));
    const made = filesIn(path.join(folder, 'without'));
    expect(new Set(made.map(([name]) => name.split(path.sep)[0]))).toEqual(new Set(jobs.filter((one) => one !== middle)));
    for (const [name, content] of made) expect(whole.get(name), name).toBe(content);
  },
  120_000,
);

it('where the shop silences that, it stops that job alone all the same, also in a share', () => {
  const middle = jobs[5] ?? '';
  const [file, settings] = [path.join(shop, 'jobs', `${middle}.yaml`), path.join(shop, 'shop.yaml')];
  const before = [file, settings].map((name) => [name, fs.readFileSync(name, 'utf8')] as const);
  fs.writeFileSync(file, (before[0]?.[1] ?? '').replace(/^complaint: .*$/m, 'complaint: squeals 🐦'));
  fs.appendFileSync(settings, 'rules: { paper/no-character: "off" }\n');
  const all = build('--out', path.join(folder, 'silenced'));
  const alone = build(middle, '--out', path.join(folder, 'silenced-alone'));
  const share = build('--shard', '1/1', '--out', path.join(folder, 'silenced-share'));
  const report = path.join(folder, 'share.json');
  fs.writeFileSync(report, share.stdout);
  const merged = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'merge', report], {
    cwd: shop,
    encoding: 'utf8',
  });
  for (const [name, text] of before) fs.writeFileSync(name, text);
  for (const { status, stderr } of [all, alone, merged])
    expect([status, stderr.trim()]).toEqual([
      1,
      `${middle} is not printed. The font of the paper lacks a character that this job uses: “🐦” (U+1F426) in “Complaint: squeals 🐦”. Write it in other letters.`,
    ]);
  expect(share.status).toBe(0);
  const made = fs.readdirSync(path.join(folder, 'silenced'));
  expect(made).toEqual(jobs.filter((one) => one !== middle));
  expect(fs.readdirSync(path.join(folder, 'silenced-share'))).toEqual(made);
});

it('a character that nobody sees is an error at its place, however it is written', () => {
  const file = path.join(shop, 'jobs', `${jobs[5]}.yaml`);
  const text = fs.readFileSync(file, 'utf8');
  fs.writeFileSync(file, text.replace(/^complaint: .*$/m, 'complaint: "squeals\\e[31m \\u202e"'));
  const screen = build(jobs[5] ?? '', '--format', 'html', '--out', path.join(folder, 'unseen'));
  fs.writeFileSync(file, text);
  expect([screen.status, screen.stderr]).toEqual([
    1,
    expect.stringContaining('“\ufffd” (U+001B), “\ufffd” (U+202E): nobody sees that, and no paper draws it. Delete it.'),
  ]);
});

it('the name of a file may have any letters: on paper they are spelt out', async () => {
  const [file, other] = ['clutch.yaml', 'clutch 日.yaml'].map((name) => path.join(shop, 'procedures', name)) as [string, string];
  const text = fs.readFileSync(file, 'utf8');
  fs.rmSync(file);
  fs.writeFileSync(other, text.replace('remove: starter\n', 'remove: stater\n'));
  const out = path.join(folder, 'spelt');
  const draft = build('2047-clutch', '--draft', '--out', out);
  fs.rmSync(other);
  fs.writeFileSync(file, text);
  expect([draft.status, draft.stderr]).toEqual([0, '']);
  const sheet = fs.readFileSync(path.join(out, '2047-clutch', 'bay-sheet.pdf'));
  const { items } = await (await (await getDocument({ data: new Uint8Array(sheet) }).promise).getPage(1)).getTextContent();
  expect(items.map((item) => ('str' in item ? item.str : '')).join('')).toContain(
    'procedures/clutch U+65E5.yaml:28 reference/unknown-name',
  );
});

it.each([
  ['none may begin', 'constructor() { throw failed(); }'],
  ['none is ready in the end', 'constructor(...args) { super(...args); fails(this); }'],
  ['none is allowed', "constructor() { throw Object.assign(new Error('restricted'), { code: 'ERR_ACCESS_DENIED' }); }"],
  ['one is not', 'constructor(...args) { super(...args); if (n++ === 0) fails(this); }'],
])('where the system lets no more threads begin, the paper is the same: %s', (says, body) => {
  const preload = path.join(folder, 'no-threads.cjs');
  fs.writeFileSync(
    preload,
    `const threads = require('node:worker_threads');
let n = 0;
const failed = () => Object.assign(new Error('Worker initialization failure: EMFILE'), { code: 'ERR_WORKER_INIT_FAILED' });
const fails = (worker) => setImmediate(() => { worker.emit('error', failed()); worker.terminate(); });
threads.Worker = class extends threads.Worker { ${body} };
require('node:module').syncBuiltinESMExports();
`,
  );
  const out = path.join(folder, says.replaceAll(' ', '-'));
  const { status, stderr } = buildUnder(['-r', preload], ['--out', out]);
  expect([status, stderr]).toEqual([0, '']);
  expect(filesIn(out)).toEqual(filesIn(path.join(folder, 'together')));
});
