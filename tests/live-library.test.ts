// Looking again after a change finds what looking anew finds, whatever was changed and in whatever order.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkChanged, checkFresh } from '../src/cli/fresh.js';
import { listingOf, recall } from '../src/cli/kept.js';
import { knownLive, openKnown } from '../src/cli/known-files.js';
import { checkForJobs } from '../src/cli/shop.js';
import { checkAll, checkFor, compileForPaper } from '../src/compile.js';
import type { Finding } from '../src/findings/finding.js';
import { loadLibrary } from '../src/library/library.js';
import { Checker, checkDocuments } from '../src/rules/checker.js';
import { LiveLibrary } from '../src/live-library.js';
import { memoryWorld } from '../src/world/memory.js';
import { realWorld } from '../src/world/real.js';
import type { World } from '../src/world/world.js';
import { demoTexts, libraryOf, projectFolder, textsOf } from './helpers/shop.js';

const small: Record<string, string> = {
  ...textsOf(path.join(projectFolder, 'tests/fixtures/corner-garage'), '/shop'),
  ...textsOf(path.join(projectFolder, 'procedures'), '/shipped'),
};
const told = (findings: readonly Finding[]): string[] =>
  findings.map(
    (one) =>
      `${one.severity} ${one.rule} ${one.span.file.path} ${one.span.start}-${one.span.end} ${one.message} ${(one.related ?? []).map((other) => other.message).join()}`,
  );

/** A world whose files change. */
function changing(texts: Record<string, string>): { world: World; set: (file: string, text: string | null) => void } {
  const now = { ...texts };
  const world: World = {
    ...memoryWorld({}),
    files: (...args) => memoryWorld(now).files(...args),
    read: (...args) => memoryWorld(now).read(...args),
    kindOf: (file) => memoryWorld(now).kindOf(file),
  };
  return {
    world,
    set(file, text) {
      if (text === null) delete now[file];
      else now[file] = text;
    },
  };
}

const more: Record<string, string> = {
  '/shop/procedures/second.yaml':
    'kind: procedure\nid: second\nname: Second\nneeds: [vehicle-raised]\nlabour: { x: { time: 1 h } }\nsteps:\n  - remove: splash-shield\nclose-up:\n  - fit: splash-shield\n  - tighten: splash-shield\n',
  '/shop/jobs/second.yaml': 'kind: job\nid: second\ndate: "2026-11-25"\nvehicle: dalby-18\nplate: "X 1"\nwork: [second, thermostat-pump]\n',
  '/shop/parts/more.yaml':
    'kind: parts\nid: more\nfor: dalby-18\nitems:\n  thermostat-seal: { name: seal }\n  tap: { name: tap }\noffers: []\n',
};

/** Edits of some of the files: lines deleted, keys misspelt, letters in the wrong order, ids changed, files broken, deleted and put back. */
const edits = (names: readonly string[], most: number) =>
  fc.array(
    fc.record({
      file: fc.constantFrom(...names),
      how: fc.constantFrom(
        'line',
        'line',
        'line',
        'restore',
        'restore',
        'delete',
        'rename',
        'break',
        'misspell',
        'slip',
        'slip',
        'slip' as const,
      ),
      line: fc.nat(300),
      patience: fc.nat(9),
    }),
    { minLength: 1, maxLength: most },
  );
type Edit = ReturnType<typeof edits> extends fc.Arbitrary<(infer E)[]> ? E : never;

/** The text of a file after an edit; null where it is deleted. */
function edited(now: Record<string, string>, texts: Readonly<Record<string, string>>, { file, how, line }: Edit): string | null {
  const lines = (now[file] ?? texts[file] ?? '').split('\n');
  if (how === 'delete') delete now[file];
  else if (how === 'restore') now[file] = texts[file] ?? '';
  else if (how === 'rename') now[file] = lines.join('\n').replace(/^id: (.*)$/m, 'id: $1-other');
  else if (how === 'break') now[file] = `"${lines.join('\n')}`;
  else if (how === 'slip') {
    const words = [...lines.join('\n').matchAll(/\b[a-z][a-z0-9-]{3,}\b/g)];
    const { 0: word = '', index = 0 } = words[(line * 7) % Math.max(1, words.length)] ?? {};
    const text = lines.join('\n');
    now[file] = `${text.slice(0, index)}${word.slice(0, -2)}${word.at(-1) ?? ''}${word.at(-2) ?? ''}${text.slice(index + word.length)}`;
  } else if (how === 'misspell')
    now[file] = lines.map((one, index) => (index === line % lines.length ? one.replace(/(\w)(\w*:)/, '$1x$2') : one)).join('\n');
  else now[file] = lines.filter((_, index) => index !== line % lines.length).join('\n');
  return now[file] ?? null;
}

const seed = Number(process.env.SEED ?? 31);

it.each([
  { of: 'a small shop', texts: { ...small, ...more }, times: 150 },
  { of: 'the demo', texts: demoTexts(), times: 25 },
])(
  'any row of edits, additions and deletions in $of',
  ({ texts, times }) => {
    fc.assert(
      fc.property(edits(Object.keys(texts), 6), (all) => {
        const { world, set } = changing(texts);
        const live = new LiveLibrary(world, '/shop', '/shipped', '/shop/out');
        live.look();
        const now: Record<string, string> = { ...texts };
        for (const edit of all) {
          const was = Object.hasOwn(now, edit.file);
          set(edit.file, edited(now, texts, edit));
          live.happened({ path: edit.file, moved: was !== Object.hasOwn(now, edit.file) });
          const { patience } = edit;
          // Who is impatient hears a part, and goes on, perhaps not to the end, before the next look.
          let left = patience;
          const enough = () => left-- <= 0;
          if (patience < 6) live.look({ first: ({ card }) => card?.kind === 'vehicle', enough });
          left = patience;
          if (patience < 3) live.goOn(enough);
          const again = live.look();
          const anew = checkAll(loadLibrary(world, '/shop', '/shipped'));
          expect(told(again.findings)).toEqual(told(anew.findings));
          expect(again.allowed.length).toBe(anew.allowed.length);
          expect(again.done).toBe(true);
        }
      }),
      { numRuns: Number(process.env.FUZZ ?? times), seed },
    );
  },
  600_000,
);

/** Versions of files that change what is missed in one another: items, offers, and the vehicles that catalogues are for. */
const versions: readonly (readonly [file: string, texts: readonly (string | null)[]])[] = [
  [
    '/shop/parts/dalby.yaml',
    [
      (text: string) => text,
      (text: string) => text.replace('for: dalby-18', 'for: dalby-81'),
      (text: string) => text.replace(/^.*number: "12".*\n/m, ''),
      (text: string) => text.replace(/^.*number: "12".*\n/m, '').replace(/^ {2}thermostat: .*\n/m, ''),
      (text: string) => text.replace('contains: { thermostat: 1', 'contains: { thermostta: 1'),
    ].map((change) => change(small['/shop/parts/dalby.yaml'] ?? '')),
  ],
  [
    '/shop/parts/van.yaml',
    [
      null,
      ...['van-1', 'van-2'].flatMap((vehicle) =>
        ['tap', 'thermostat', 'thermostta'].flatMap((item) => [
          `kind: parts\nid: van\nfor: ${vehicle}\nitems: { ${item}: { name: x } }\noffers: []\n`,
          `kind: parts\nid: van\nfor: ${vehicle}\nitems: { ${item}: { name: x } }\noffers:\n  - { number: "V1", contains: { ${item}: 1 }, price: 1 }\n`,
        ]),
      ),
    ],
  ],
  ['/shop/vehicles/van.yaml', [null, 'kind: vehicle\nid: van-1\nname: Van\n', 'kind: vehicle\nid: van-2\nname: Van\n']],
  [
    '/shop/vehicles/dalby-18.yaml',
    ['thermostat', 'tap', 'thermostta'].map((item) =>
      (small['/shop/vehicles/dalby-18.yaml'] ?? '').replace('item: thermostat,', `item: ${item},`),
    ),
  ],
];

it('any row of changes by which items, offers and vehicles of catalogues come and go', () => {
  const change = fc.constantFrom(...versions).chain(([file, texts]) => fc.constantFrom(...texts).map((text) => ({ file, text })));
  fc.assert(
    fc.property(fc.array(change, { minLength: 2, maxLength: 12 }), (all) => {
      const { world, set } = changing(small);
      const live = new LiveLibrary(world, '/shop', '/shipped', '/shop/out');
      live.look();
      const now = new Set(Object.keys(small));
      for (const { file, text } of all) {
        const was = now.has(file);
        set(file, text);
        if (text === null) now.delete(file);
        else now.add(file);
        live.happened({ path: file, moved: was !== now.has(file) });
        expect(told(live.look().findings)).toEqual(told(checkAll(loadLibrary(world, '/shop', '/shipped')).findings));
      }
    }),
    { numRuns: Number(process.env.FUZZ ?? 60), seed },
  );
}, 600_000);

describe('a check after another', () => {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-known-'));
  const root = path.join(place, 'shop');
  const around = { folder: root, alone: false };
  const { BAYWRIGHT_CACHE: before } = process.env;
  const { stamp } = realWorld;
  beforeAll(() => {
    process.env.BAYWRIGHT_CACHE = path.join(place, 'cache');
    // The time that `set` gives a file, long ago, so that size and time decide.
    realWorld.stamp = (file) => {
      const found = stamp(file);
      return found && { size: found.size, time: fs.statSync(file).mtimeMs };
    };
  });
  afterAll(() => {
    realWorld.stamp = stamp;
    fs.rmSync(place, { recursive: true, force: true });
    if (before === undefined) delete process.env.BAYWRIGHT_CACHE;
    else process.env.BAYWRIGHT_CACHE = before;
  });
  const set = (name: string, text: string | null, time: number) => {
    const file = path.join(root, name.slice('/shop/'.length));
    if (text === null) fs.rmSync(file, { force: true });
    else {
      fs.mkdirSync(path.dirname(file), { recursive: true });
      fs.writeFileSync(file, text);
      fs.utimesSync(file, time, time);
    }
  };
  const texts = (id: string): string => small[`/shipped/${id}.yaml`] ?? '';
  const shop = (texts: Readonly<Record<string, string>>): void => {
    fs.rmSync(place, { recursive: true, force: true });
    for (const [name, text] of Object.entries(texts)) if (name.startsWith('/shop/')) set(name, text, 1);
  };
  let round = 0;
  /** What is told of a job when it is built, after what earlier runs knew, and with everything looked at anew. */
  const sameForJob = (): void => {
    const opened = openKnown(root, listingOf({ folder: root, alone: false }));
    const jobs = [...opened.library.jobs.values()];
    const job = jobs[round++ % jobs.length];
    if (!job) return;
    const anew = loadLibrary(realWorld, root, path.join(projectFolder, 'procedures'), [`${root}/out`]);
    const same = anew.jobs.get(job.id);
    const findings = compileForPaper(opened.library, job, checkForJobs(opened, [job])(job), forPaper).findings;
    expect(told(findings)).toEqual(
      told(same ? compileForPaper(anew, same, checkFor(anew, [same], new Checker())(same), forPaper).findings : []),
    );
  };
  const same = (): void => {
    sameForJob();
    const live = new LiveLibrary(realWorld, root, path.join(projectFolder, 'procedures'), `${root}/out`, { known: knownLive(root) }).look();
    const [changed, fresh] = [checkChanged(root, listingOf(around)), checkFresh(around)];
    const library = loadLibrary(realWorld, root, path.join(projectFolder, 'procedures'), [`${root}/out`]);
    const anew = {
      findings: checkAll(library).findings,
      files: library.files.flatMap(({ file, shipped }) => (shipped ? [] : [file.path])),
    };
    expect(told(fresh.findings)).toEqual(told(anew.findings));
    expect(told(live.findings)).toEqual(told(anew.findings));
    expect(told(changed.findings)).toEqual(told(anew.findings));
    expect(changed.files).toEqual(anew.files);
    expect(told(recall(root, listingOf(around))?.findings ?? [])).toEqual(told(anew.findings));
  };

  it.each([
    { of: 'a small shop', texts: { ...small, ...more }, times: 40 },
    { of: 'the demo', texts: demoTexts(), times: 8 },
  ])(
    'finds what looking at everything anew finds, after any row of edits in $of',
    ({ texts, times }) => {
      const names = Object.keys(texts).filter((name) => name.startsWith('/shop/'));
      fc.assert(
        fc.property(fc.array(edits(names, 3), { minLength: 1, maxLength: 4 }), (rounds) => {
          shop(texts);
          same();
          const now: Record<string, string> = { ...texts };
          for (const [n, round] of rounds.entries()) {
            for (const edit of round) set(edit.file, edited(now, texts, edit), n + 2);
            same();
          }
        }),
        { numRuns: Number(process.env.FUZZ ?? times), seed },
      );
    },
    600_000,
  );

  it('what is known of the shipped documents since the tool was built holds in any library, also one without a shop', () => {
    const alone = 'kind: procedure\nid: alone\nname: Alone\nneeds: [wheels-off: [front-left-wheel]]\nsteps:\n  - inspect: hub\n';
    const raised = texts('vehicle-raised').replace('- lower: vehicle', '- check: level');
    const off = texts('wheels-off').replace(/^params:.*$/m, 'params: { corners: { says: corners } }');
    const broken = texts('coolant-drained').replace('steps:', 'stepz:');
    const libraries: readonly Readonly<Record<string, string>>[] = [
      { '/shop/one.yaml': 'kind: preparation\nid: one\nname: One\nsteps:\n  - inspect: leaks\n' },
      { '/shop/one.yaml': alone },
      { '/shop/one.yaml': alone, '/shop/raised.yaml': raised },
      { '/shop/one.yaml': alone, '/shop/off.yaml': off },
      { '/shop/raised.yaml': raised, '/shop/drained.yaml': broken },
      { '/shop/shop.yaml': `${demoTexts()['/shop/shop.yaml']}`.replace(/^locale: .*$/m, 'locale: de-DE'), '/shop/one.yaml': alone },
    ];
    for (const library of libraries) {
      expect(Object.values(library).join('')).not.toContain('undefined');
      shop(library);
      same();
    }
    // What one has changed in the package is read as it is.
    shop({ '/shop/one.yaml': alone });
    const file = path.join(projectFolder, 'procedures/wheels-off.yaml');
    const text = fs.readFileSync(file, 'utf8');
    const { read } = realWorld;
    realWorld.read = (name, within) =>
      name === file ? { ok: true, text: text.replace('- remove: $', '- remowe: $') } : read(name, within);
    try {
      expect(told(checkFresh(around).findings).join()).toContain('remowe');
    } finally {
      realWorld.read = read;
    }
  });

  it('opens only what has changed and what that asks for', () => {
    shop(demoTexts());
    same();
    const name = 'procedures/hub-bearing.yaml';
    set(`/shop/${name}`, `${demoTexts()[`/shop/${name}`]}# changed\n`, 2);
    const opened: string[] = [];
    const { read } = realWorld;
    realWorld.read = (file, within) => {
      opened.push(path.relative(root, file));
      return read(file, within);
    };
    try {
      checkChanged(root, listingOf(around));
    } finally {
      realWorld.read = read;
    }
    expect(opened).toContain(name);
    expect(opened).toContain('vehicles/pellan-14.yaml');
    expect(opened).not.toContain('procedures/clutch.yaml');
    expect(opened).not.toContain('vehicles/tarrock-35.yaml');
  });

  it('what was kept and is cut off, altered or of another tool is made anew', () => {
    const name = '/shop/procedures/hub-bearing.yaml';
    const text = demoTexts()[name] ?? '';
    shop(demoTexts());
    same();
    const folder = path.join(place, 'cache');
    const [kept = ''] = fs.readdirSync(folder).filter((one) => one.endsWith('.files'));
    const file = path.join(folder, kept);
    const whole = fs.readFileSync(file, 'utf8');
    for (const spoilt of [
      '',
      '\n',
      whole.slice(0, whole.length / 2),
      whole.replace('"card":{', '"card":{"x":1,'),
      whole.replace(/"names":\[/, '"names":["work clutch",'),
      whole.slice(whole.indexOf('\n') + 1),
      JSON.stringify({ files: [] }),
    ]) {
      expect(spoilt).not.toBe(whole);
      fs.writeFileSync(file, spoilt);
      set(name, text.replace('- tighten: disc-screw', '- tigthen: disc-screw'), 3);
      same();
      expect(fs.readFileSync(file, 'utf8')).not.toBe(spoilt);
      set(name, text, 4);
      same();
    }
  });
});

it('where much has changed, what is asked for is looked at first, and the rest when it is told to go on', () => {
  const { world, set } = changing(demoTexts());
  const live = new LiveLibrary(world, '/shop', '/shipped', '/shop/out');
  live.look();
  const shop = demoTexts()['/shop/shop.yaml'] ?? '';
  set('/shop/shop.yaml', shop.replace(/^tools:\n/m, 'tools:\n  never-asked-for: { name: never asked for }\n'));
  live.happened({ path: '/shop/shop.yaml', moved: false });
  expect(live.look({ first: ({ card }) => card?.kind === 'shop', enough: () => true }).done).toBe(false);
  const forOne = () => {
    let looked = 0;
    return () => looked++ > 0;
  };
  let turns = 0;
  while (!live.goOn(forOne())) turns++;
  expect(turns).toBeGreaterThan(20);
  const last = live.look({ first: () => false, enough: () => true });
  expect(last.done).toBe(true);
  expect(told(last.findings)).toEqual(told(checkAll(loadLibrary(world, '/shop', '/shipped')).findings));
});

it('where a procedure leaves the vehicle to the jobs, it depends on them, and on whether there is such a vehicle', () => {
  const texts = { ...small, ...more };
  const { world, set } = changing(texts);
  const live = new LiveLibrary(world, '/shop', '/shipped', '/shop/out');
  const [vehicle, jobFile] = ['/shop/vehicles/dalby-18.yaml', '/shop/jobs/second.yaml'];
  const steps: readonly (readonly [string, (text: string) => string | null])[] = [
    [vehicle, (text) => text.replace('id: dalby-18', 'id: dalby-19')],
    [vehicle, (text) => text],
    [jobFile, () => null],
    [jobFile, (text) => text.replace('vehicle: dalby-18', 'vehicle: dalby-19')],
    [vehicle, (text) => text.replace('id: dalby-18', 'id: dalby-19')],
    [vehicle, () => null],
    [jobFile, (text) => text],
    [vehicle, (text) => text],
  ];
  live.look();
  for (const [file, change] of steps) {
    set(file, change(texts[file] ?? ''));
    live.happened({ path: file, moved: true });
    expect(told(live.look().findings)).toEqual(told(checkAll(loadLibrary(world, '/shop', '/shipped')).findings));
  }
});

const forPaper = { draft: false, drawn: true };

it('after one change, only what it touches is looked at', () => {
  const { world, set } = changing(small);
  const live = new LiveLibrary(world, '/shop', '/shipped', '/shop/out');
  const before = live.look();
  set(
    '/shop/procedures/thermostat-pump.yaml',
    (small['/shop/procedures/thermostat-pump.yaml'] ?? '').replace('  - fit: splash-shield\n', ''),
  );
  live.happened({ path: '/shop/procedures/thermostat-pump.yaml', moved: false });
  const after = live.look();
  expect(after.findings.map((one) => one.rule)).toContain('ledger/left-open');
  for (const file of after.library.files) {
    const same = before.library.files.includes(file);
    expect(same, file.file.path).toBe(file.file.path !== 'procedures/thermostat-pump.yaml');
  }
});

it('shares together find what the whole finds', () => {
  const library = libraryOf({ ...demoTexts(), '/shop/procedures/broken.yaml': 'kind: procedure\nid: broken\nsteps: [\n' });
  const texts = demoTexts();
  const damaged = libraryOf({
    ...texts,
    '/shop/procedures/clutch.yaml': (texts['/shop/procedures/clutch.yaml'] ?? '').replace('  - remove: starter\n', ''),
    '/shop/vehicles/marn-20.yaml': (texts['/shop/vehicles/marn-20.yaml'] ?? '').replace('class: "10.9"', 'class: "4.6"'),
  });
  for (const one of [library, damaged]) {
    const whole = checkDocuments(one);
    for (const of of [1, 2, 3, 7, 100]) {
      const parts = Array.from({ length: of }, (_, n) => checkDocuments(one, { index: n + 1, of })).flat();
      expect(told(parts).sort()).toEqual(told(whole).sort());
    }
  }
});
