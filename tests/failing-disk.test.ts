// A disk that fails once, at any point, or somebody who saves files then: what is printed is right or not printed at all,
// and the next run is as if nothing had been.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

/** One in so many points, at which the disk fails; `EVERY=1` takes all of them. */
const every = Number(process.env.EVERY ?? 12);

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-failing-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const shop = path.join(folder, 'shop');
const cache = path.join(folder, 'cache');
const out = path.join(folder, 'out');
const counted = path.join(folder, 'count');
const inShop = (name: string) => path.join(shop, name);

interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

interface Fails {
  /** The folder that is asked for. */
  readonly within: string;
  /** At which time; 0 for never. */
  readonly at: number;
  /** What the system says. */
  readonly code?: string;
  /** A folder with files that are saved into that folder then instead. */
  readonly saved?: string;
}

function run(args: readonly string[], fails?: Fails): Ran {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [
      ...(fails ? ['-r', path.join(projectFolder, 'tests/helpers/failing-disk.cjs')] : []),
      path.join(projectFolder, 'bin/baywright.js'),
      ...args,
    ],
    {
      cwd: shop,
      encoding: 'utf8',
      timeout: 60_000,
      env: {
        ...process.env,
        BAYWRIGHT_CACHE: cache,
        ...(fails && {
          FAILS_WITHIN: fails.within,
          FAILS_AT: String(fails.at),
          FAILS_WITH: fails.code,
          FAILS_COUNT: counted,
          SAVED: fails.within,
          SAVED_FROM: fails.saved,
        }),
      },
    },
  );
  return { status, stdout, stderr };
}

/** All files below a folder with their contents. */
const contents = (of: string): Record<string, string> =>
  Object.fromEntries(
    (fs.existsSync(of) ? fs.readdirSync(of, { recursive: true, withFileTypes: true }) : [])
      .filter((entry) => entry.isFile())
      .map((entry) => path.join(entry.parentPath, entry.name))
      .sort()
      .map((file) => [path.relative(of, file), fs.readFileSync(file, 'base64')]),
  );
const isAside = (name: string): boolean => name.split(path.sep).some((part) => part.startsWith('.'));
const lasting = (all: Record<string, string>) => Object.fromEntries(Object.entries(all).filter(([name]) => !isAside(name)));

const put = (from: string, to: string): void => {
  fs.rmSync(to, { recursive: true, force: true });
  if (fs.existsSync(from)) fs.cpSync(from, to, { recursive: true });
};
const mend = (name: string, from: string | RegExp, to: string): void => {
  const text = fs.readFileSync(inShop(name), 'utf8');
  const other = text.replace(from, to);
  expect(other).not.toBe(text);
  fs.writeFileSync(inShop(name), other);
};

put(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop);
run(['check']);
const [shopBefore, cacheBefore, outBefore, builtBefore] = ['shop', 'cache', 'out', 'built'].map((name) =>
  path.join(folder, `${name}-before`),
) as [string, string, string, string];
run(['build', '--out', out]);
put(shop, shopBefore);
put(out, outBefore);
put(cache, builtBefore);
// By their times alone files are known that have lain there for a while.
await new Promise((resolve) => setTimeout(resolve, 2100));
fs.rmSync(cache, { recursive: true, force: true });
run(['check']);
put(cache, cacheBefore);

const nothingKept = () => fs.rmSync(cache, { recursive: true, force: true });
const allKept = () => put(cacheBefore, cache);
/** The same steps, and another text. */
const oneChanged = () => {
  put(cacheBefore, cache);
  fs.copyFileSync(path.join(shopBefore, 'procedures/thermostat-pump.yaml'), inShop('procedures/thermostat-pump.yaml'));
  fs.appendFileSync(inShop('procedures/thermostat-pump.yaml'), '# again\n');
};

interface Case {
  readonly says: string;
  readonly args: readonly string[];
  /** Where the disk fails. */
  readonly within: string;
  /** What all must be as before each run; may be called again and again. */
  readonly prepare: () => void;
  /** Where all is the old or the new, and nothing else. */
  readonly writes?: string;
  /** Nothing that fails there is worth a word. */
  readonly mustNotMatter?: true;
}

const build = ['build', '--out', out];
const cases: readonly Case[] = [
  { says: 'a check that knows nothing', args: ['check'], within: shop, prepare: nothingKept },
  { says: 'a check that keeps nothing', args: ['check', '--no-cache'], within: shop, prepare: nothingKept },
  { says: 'a check of what has not changed', args: ['check'], within: shop, prepare: allKept },
  { says: 'a check of one change', args: ['check'], within: shop, prepare: oneChanged },
  ...[nothingKept, oneChanged].map(
    (prepare): Case => ({
      says: `what comes with the tool, at a check, ${prepare.name}`,
      args: ['check'],
      within: path.join(projectFolder, 'procedures'),
      prepare,
    }),
  ),
  ...[nothingKept, allKept, oneChanged].map(
    (kept): Case => ({
      says: `a build, ${kept.name}`,
      args: build,
      within: shop,
      prepare() {
        kept();
        put(outBefore, out);
      },
      writes: out,
    }),
  ),
  {
    says: 'paper in the place of older paper',
    args: build,
    within: out,
    prepare() {
      oneChanged();
      put(outBefore, out);
      put(path.join(shopBefore, 'jobs'), inShop('jobs'));
      mend('jobs/3001-pump.yaml', /^complaint: .*$/m, 'complaint: Another one.');
    },
    writes: out,
  },
  {
    says: 'the first paper',
    args: build,
    within: out,
    prepare() {
      put(path.join(shopBefore, 'jobs'), inShop('jobs'));
      fs.rmSync(out, { recursive: true, force: true });
    },
    writes: out,
  },
  ...[out, cache].map(
    (within): Case => ({
      says: `paper that lies there already, ${within === out ? 'of which not all can be read' : 'of which nobody may know'}`,
      args: build,
      within,
      prepare() {
        put(builtBefore, cache);
        put(shopBefore, shop);
        put(outBefore, out);
      },
      writes: out,
    }),
  ),
  { says: 'what is kept of a check', args: ['check'], within: cache, prepare: nothingKept, mustNotMatter: true },
  { says: 'what was kept of a check', args: ['check'], within: cache, prepare: oneChanged, mustNotMatter: true },
  { says: 'what was kept, for a build', args: build, within: cache, prepare: allKept, mustNotMatter: true },
  {
    says: 'what is mended',
    args: ['check', '--fix'],
    within: shop,
    prepare() {
      oneChanged();
      mend('procedures/thermostat-pump.yaml', 'fit: upper-hose', 'fit: uper-hose');
    },
    writes: shop,
  },
  {
    says: 'a new document',
    args: ['new', 'procedure', 'another'],
    within: shop,
    prepare() {
      put(path.join(shopBefore, 'procedures'), inShop('procedures'));
    },
    writes: shop,
  },
  {
    says: 'a baseline',
    args: ['check', '--write-baseline', path.join(out, 'known.json')],
    within: out,
    prepare() {
      fs.rmSync(out, { recursive: true, force: true });
      fs.mkdirSync(out);
      fs.rmSync(inShop('procedures/another.yaml'), { force: true });
      put(path.join(shopBefore, 'procedures'), inShop('procedures'));
      run(['check', '--write-baseline', path.join(out, 'known.json')]);
      fs.appendFileSync(inShop('procedures/thermostat-pump.yaml'), '  - remove: splash-shield\n');
    },
    writes: out,
  },
];

/** What the system says, in turn. */
const codes = ['EIO', 'EMFILE', 'ENOSPC'] as const;

it.each(cases)('$says', ({ args, within, prepare, writes, mustNotMatter }) => {
  const state = () => (writes === undefined ? {} : contents(writes));
  prepare();
  const before = state();
  const good = run(args, { within, at: 0 });
  const total = Number(fs.readFileSync(counted, 'utf8'));
  const after = state();
  expect(good.stderr).not.toMatch(/inside the tool/);
  expect(total).toBeGreaterThan(4);
  for (let at = 1 + (total % every); at <= total; at += every) {
    const code = codes[Math.floor(at / every) % codes.length] ?? 'EIO';
    const where = `${args.join(' ')}: ${code} at ${at} of ${total}`;
    prepare();
    const failed = run(args, { within, at, code });
    const told = `${failed.stdout}${failed.stderr}`;
    expect(told, where).not.toMatch(/inside the tool|\n\s+at /);
    const now = lasting(state());
    if (mustNotMatter || failed.status === good.status)
      expect([failed.status, failed.stdout, now], where).toEqual([good.status, good.stdout, after]);
    else {
      expect([1, 2], where).toContain(failed.status);
      expect(told, where).toMatch(/cannot|could not|is no library|does not exist|Nothing could be mended/);
      expect([before, after], where).toContainEqual(now);
    }
    if (/untouched|as it was before/.test(failed.stderr)) expect(now, where).toEqual(before);
    // A file that is there already is not made again.
    if (args[0] === 'new') continue;
    const next = run(args);
    expect([next.status, next.stdout, state()], where).toEqual([good.status, good.stdout, after]);
  }
});

type Change = readonly [name: string, from: string | RegExp, to: string];

const otherTorque: Change = ['vehicles/dalby-18.yaml', /torque: 18 ft-lb/g, 'torque: 19 ft-lb'];
const otherPrice: Change = ['parts/dalby.yaml', 'price: 84.00', 'price: 184.00'];
const otherWords: Change = ['jobs/3001-pump.yaml', /^complaint: .*$/m, 'complaint: Another one.'];
/** What somebody saves. */
const savings: readonly { readonly says: string; readonly changes: readonly Change[] }[] = [
  { says: 'a mistake', changes: [['procedures/thermostat-pump.yaml', 'fit: upper-hose', 'fit: uper-hose']] },
  { says: 'as many letters', changes: [otherTorque] },
  { says: 'more letters', changes: [otherPrice] },
  { says: 'the shop', changes: [['shop.yaml', /^name: .*$/m, 'name: Another garage']] },
  { says: 'several files', changes: [otherTorque, otherPrice, otherWords] },
];
const runs = [nothingKept, allKept].flatMap((kept) => [['check'], build].map((args) => ({ kept, args })));

it.each(runs.flatMap((one) => (one.args === build ? savings : savings.slice(-1)).map((saving) => ({ ...one, ...saving }))))(
  'saved while a run is under way, $kept.name: $args.0, $says',
  ({ kept, args, changes }) => {
    const others = path.join(folder, 'others');
    fs.rmSync(others, { recursive: true, force: true });
    for (const [name, from, to] of changes) {
      const before = fs.readFileSync(path.join(shopBefore, name), 'utf8');
      const text = before.replace(from, to);
      expect(text).not.toBe(before);
      fs.mkdirSync(path.dirname(path.join(others, name)), { recursive: true });
      fs.writeFileSync(path.join(others, name), text);
    }
    const prepare = () => {
      put(shopBefore, shop);
      kept();
      fs.rmSync(out, { recursive: true, force: true });
    };
    const result = ({ status, stdout, stderr }: Ran) => ({ status, stdout, stderr, files: lasting(contents(out)) });
    prepare();
    const old = result(run(args, { within: shop, at: 0 }));
    const total = Number(fs.readFileSync(counted, 'utf8'));
    prepare();
    fs.cpSync(others, shop, { recursive: true });
    const fresh = result(run(args));
    if (args === build) expect(fresh).not.toEqual(old);
    for (let at = 1 + (total % every); at <= total; at += every) {
      const where = `${args.join(' ')}: saved at ${at} of ${total}`;
      prepare();
      const now = result(run(args, { within: shop, at, saved: others }));
      if (!/was changed while this run looked at it/.test(now.stderr)) expect([old, fresh], where).toContainEqual(now);
      else expect([now.status, now.files], where).toEqual([2, {}]);
      // What cannot be printed leaves what was printed before.
      expect(result(run(args)), where).toEqual(fresh.status === 0 ? fresh : { ...fresh, files: now.files });
    }
  },
);
