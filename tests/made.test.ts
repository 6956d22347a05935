// Paper that lies in its folder already is not made again: only where it is, to the byte, what would be made.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-made-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const cache = path.join(folder, 'cache');
const shop = path.join(folder, 'shop');
const out = path.join(folder, 'out');
const paper = path.join(out, '3001-pump');
const unix = process.platform !== 'win32';

const run = (args: readonly string[], env: NodeJS.ProcessEnv = {}) => {
  const { stdout, stderr, status } = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), ...args], {
    cwd: shop,
    encoding: 'utf8',
    env: { ...process.env, BAYWRIGHT_CACHE: cache, ...env },
    timeout: 60_000,
  });
  return { stdout, stderr, status };
};
const build = (...args: string[]) => run(['build', ...args, '--out', out]);

/** What a folder holds: of each file its content. */
const contents = (of: string) =>
  Object.fromEntries(
    fs.readdirSync(of, { recursive: true, withFileTypes: true }).flatMap((entry) => {
      const file = path.join(entry.parentPath, entry.name);
      return entry.isFile() ? [[path.relative(of, file), fs.readFileSync(file, 'base64')]] : [];
    }),
  );
/** What is made where nothing is kept. */
const anew = (...args: string[]) => {
  const elsewhere = path.join(folder, 'anew');
  fs.rmSync(elsewhere, { recursive: true, force: true });
  expect(run(['build', ...args, '--out', elsewhere], { BAYWRIGHT_CACHE: 'off' }).status).toBe(0);
  return contents(elsewhere);
};

/** The number of a file on the disk: another when it was made again, as it is made while the old one is still there. */
const idOf = (): number => fs.statSync(path.join(paper, 'tool-list.pdf')).ino;

const replaced = (file: string, from: string, to: string): void => {
  const text = fs.readFileSync(path.join(shop, file), 'utf8');
  expect(text).toContain(from);
  fs.writeFileSync(path.join(shop, file), text.replace(from, to));
};

beforeEach(() => {
  for (const one of [cache, shop, out]) fs.rmSync(one, { recursive: true, force: true });
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
});

it('what lies there already is named as if it had been made, and gets the time of now', () => {
  const first = build('3001-pump');
  expect(first).toMatchObject({ status: 0, stderr: '' });
  const [id, all] = [idOf(), contents(out)];
  const file = path.join(paper, 'bay-sheet.pdf');
  fs.utimesSync(file, new Date(0), new Date(0));
  const before = Date.now() - 5;
  expect(build('3001-pump')).toEqual(first);
  expect(build()).toEqual(first);
  expect([idOf(), contents(out)]).toEqual([id, all]);
  expect(fs.statSync(file).mtimeMs).toBeGreaterThan(before);
  expect(all).toEqual(anew());
});

it('a remark at the end of a document and more room before a value change no paper', () => {
  build();
  const id = idOf();
  fs.appendFileSync(path.join(shop, 'jobs/3001-pump.yaml'), '# Ring before ten.\n');
  replaced('jobs/3001-pump.yaml', 'kind: job\n', 'kind:   job\n');
  expect(build().status).toBe(0);
  expect(idOf()).toBe(id);
  expect(contents(out)).toEqual(anew());
});

const changes: readonly (readonly [string, readonly string[], () => void])[] = [
  ['the order', [], () => replaced('jobs/3001-pump.yaml', 'Loses coolant.', 'Loses water.')],
  ['a price', [], () => replaced('parts/dalby.yaml', 'price: ', 'price: 1')],
  ['what is asked for: workings', ['--workings'], () => undefined],
  ['what is asked for: a tag', ['--after', '3'], () => undefined],
  ['what is asked for: a page for a screen', ['--format', 'both'], () => undefined],
  ['a file, by a letter', [], () => fs.appendFileSync(path.join(paper, 'quote.pdf'), ' ')],
  ['a file, to one that is too large to be read', [], () => fs.truncateSync(path.join(paper, 'quote.pdf'), 40_000_000_000)],
  ['a file, to none', [], () => fs.rmSync(path.join(paper, 'torque-card.pdf'))],
  [
    'a file, to a folder',
    [],
    () => {
      fs.rmSync(path.join(paper, 'job.json'));
      fs.mkdirSync(path.join(paper, 'job.json'));
    },
  ],
  ['the folder, by a tag of an earlier build', [], () => fs.writeFileSync(path.join(paper, 'hand-over-tag-4.pdf'), 'old')],
  ['the folder, to none', [], () => fs.rmSync(paper, { recursive: true })],
  ...(unix
    ? [
        [
          'a file, to a link to the same',
          [],
          () => {
            const file = path.join(paper, 'parts-list.csv');
            fs.renameSync(file, path.join(folder, 'list.csv'));
            fs.symlinkSync(path.join(folder, 'list.csv'), file);
          },
        ] as const,
      ]
    : []),
];

it.each(changes)('changed is %s: all is made', (_, args, change) => {
  expect(build().status).toBe(0);
  const id = idOf();
  change();
  const isGone = !fs.existsSync(paper);
  expect(build(...args)).toMatchObject({ status: 0, stderr: '' });
  if (!isGone) expect(idOf()).not.toBe(id);
  expect(contents(out)).toEqual(anew(...args));
});

it('of one paper that is asked for again the others stay; what somebody put beside it is nobody’s business', () => {
  const whole = build();
  const one = build('--paper', 'quote');
  const [id, all] = [idOf(), contents(out)];
  fs.writeFileSync(path.join(paper, 'photo.jpg'), 'a photo');
  const withPhoto = { ...all, [path.join('3001-pump', 'photo.jpg')]: Buffer.from('a photo').toString('base64') };
  expect(build('--paper', 'quote')).toEqual(one);
  expect(build()).toEqual(whole);
  expect([idOf(), contents(out)]).toEqual([id, withPhoto]);
  // What another question puts in the place of a file is not what the first one made.
  build('--workings');
  expect(contents(out)).not.toEqual(withPhoto);
  expect(build()).toEqual(whole);
  expect(contents(out)).toEqual(withPhoto);
  build('--after', '2');
  expect(build()).toEqual(whole);
  expect(contents(out)).toEqual(withPhoto);
  for (let step = 1; step < 13; step++) build('--after', String(step));
  const [kept = ''] = fs.readdirSync(cache).filter((name) => name.endsWith('.paper'));
  expect(Object.keys(JSON.parse(fs.readFileSync(path.join(cache, kept), 'utf8').split('\n')[1] ?? '').builds)).toHaveLength(8);
});

it('what was kept and does not fit is never believed', () => {
  build();
  const [file, ...more] = fs.readdirSync(cache).filter((name) => name.endsWith('.paper'));
  expect(more).toEqual([]);
  const kept = path.join(cache, file ?? '');
  const [, body = ''] = fs.readFileSync(kept, 'utf8').split('\n');
  const sealed = (text: string) => `${createHash('sha256').update(text).digest('base64')}\n${text}`;
  const quote = path.join(paper, 'quote.pdf');
  fs.writeFileSync(quote, 'forged');
  const withForged = body.replace(/"quote\.pdf":\[[^\]]+\]/, `"quote.pdf":[6,"${createHash('sha256').update('forged').digest('base64')}"]`);
  expect(withForged).not.toBe(body);
  /** By whom it is believed. */
  const isBelieved = (content: string, mode = 0o600): boolean => {
    fs.rmSync(kept, { force: true });
    fs.writeFileSync(kept, content, { mode });
    fs.chmodSync(kept, mode);
    fs.writeFileSync(quote, 'forged');
    expect(build('3001-pump').status).toBe(0);
    return fs.readFileSync(quote, 'utf8') === 'forged';
  };
  // Whoever may write what is kept may as well write the paper: only so is seen that it is asked.
  expect(isBelieved(sealed(withForged))).toBe(true);
  for (const content of [
    `x${sealed(withForged)}`,
    withForged,
    '',
    'null\n',
    sealed('null').slice(1),
    sealed(withForged.replace('"key":"', '"key":"x')),
  ])
    expect(isBelieved(content), content.slice(0, 60)).toBe(false);
  if (unix) expect(isBelieved(sealed(withForged), 0o666)).toBe(false);
  fs.writeFileSync(quote, 'forged');
  expect(run(['build', '--out', out], { BAYWRIGHT_CACHE: 'off' }).status).toBe(0);
  expect(contents(out)).toEqual(anew());
});

const toDemo = () => {
  fs.rmSync(shop, { recursive: true });
  fs.cpSync(path.join(projectFolder, 'examples'), shop, { recursive: true });
  fs.rmSync(path.join(shop, 'out'), { recursive: true, force: true });
};

it('a job of a shop that would be compiled from the same is not compiled', () => {
  const keptOf = () => path.join(cache, fs.readdirSync(cache).find((name) => name.endsWith('.paper')) ?? 'none');
  /** Whether a build compiles the job: it then sees that another version of it was kept. */
  const isCompiled = (...args: string[]): boolean => {
    const [, body = ''] = fs.readFileSync(keptOf(), 'utf8').split('\n');
    const forged = body.replace(/"of":"[^"]+"/, '"of":"another"');
    expect(forged).not.toBe(body);
    fs.writeFileSync(keptOf(), `${createHash('sha256').update(forged).digest('base64')}\n${forged}`);
    const id = idOf();
    expect(build(...args)).toMatchObject({ status: 0, stderr: '' });
    if (idOf() !== id) return true;
    fs.writeFileSync(keptOf(), `${createHash('sha256').update(body).digest('base64')}\n${body}`);
    return false;
  };
  const job = path.join(shop, 'jobs/3001-pump.yaml');
  expect(build()).toMatchObject({ status: 0, stderr: '' });
  expect(isCompiled()).toBe(false);
  fs.utimesSync(job, new Date(), new Date());
  expect(isCompiled()).toBe(false);
  expect([isCompiled('--workings'), isCompiled('--workings'), isCompiled(), isCompiled()]).toEqual([true, false, true, false]);
  expect(isCompiled('--after', '3')).toBe(true);
  expect([isCompiled('3001-pump'), isCompiled()]).toEqual([true, false]);
  // What changes no paper is known the next time.
  fs.appendFileSync(job, '# Ring before ten.\n');
  build();
  expect(isCompiled()).toBe(false);
  for (const [file, from, to] of [
    ['jobs/3001-pump.yaml', 'Loses coolant.', 'Loses water.'],
    ['parts/dalby.yaml', 'price: ', 'price: 1'],
    ['shop.yaml', 'kind: shop', 'kind:  shop'],
  ] as const) {
    replaced(file, from, to);
    expect([isCompiled(), isCompiled()]).toEqual([true, false]);
  }
  // A document that the job does not use.
  fs.writeFileSync(path.join(shop, 'procedures/other.yaml'), 'kind: procedure\nid: other\nname: Other\nsteps:\n  - inspect: leaks\n');
  expect(isCompiled()).toBe(false);
});

it('whatever changes in a shop, its paper is what would be made anew', () => {
  toDemo();
  expect(build().status).toBe(0);
  for (const [file, from, to] of [
    ['procedures/hub-bearing.yaml', 'steps:', '# Nothing that is printed.\nsteps:'],
    ['procedures/hub-bearing.yaml', 'name: ', 'name: All of the '],
    ['shop.yaml', 'name: ', 'name: Garage '],
    ['jobs/2047-clutch.yaml', 'complaint: ', 'complaint: Again. '],
  ] as const) {
    replaced(file, from, to);
    expect(build()).toMatchObject({ status: 0, stderr: '' });
    expect(contents(out), file).toEqual(anew());
  }
});

it('of many jobs those are made that have changed, and all are named in their order', () => {
  toDemo();
  const first = build();
  expect(first).toMatchObject({ status: 0, stderr: '' });
  const ids = () => Object.fromEntries(fs.readdirSync(out).map((job) => [job, fs.statSync(path.join(out, job, 'tool-list.pdf')).ino]));
  const before = ids();
  expect(Object.keys(before).length).toBeGreaterThan(9);
  replaced('jobs/2042-hub-bearing.yaml', '96410 km', '96411 km');
  replaced('jobs/2047-clutch.yaml', 'complaint: ', 'complaint: Again. ');
  expect(build()).toEqual(first);
  const after = ids();
  const made = Object.keys(after).filter((job) => after[job] !== before[job]);
  expect(made).toEqual(['2042-hub-bearing', '2047-clutch']);
  expect(contents(out)).toEqual(anew());
});
