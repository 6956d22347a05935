// Looking again after a change finds what looking anew finds, whatever was changed and in whatever order.
import path from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkAll } from '../src/compile.js';
import type { Finding } from '../src/findings/finding.js';
import { loadLibrary } from '../src/library/library.js';
import { checkDocuments } from '../src/rules/checker.js';
import { LiveLibrary } from '../src/live-library.js';
import { memoryWorld } from '../src/world/memory.js';
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
    read: (file) => memoryWorld(now).read(file),
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
};

it.each([
  { of: 'a small shop', texts: { ...small, ...more }, times: 150 },
  { of: 'the demo', texts: demoTexts(), times: 25 },
])(
  'any row of edits, additions and deletions in $of',
  ({ texts, times }) => {
    const names = Object.keys(texts);
    const edit = fc.record({
      file: fc.constantFrom(...names),
      how: fc.constantFrom('line', 'line', 'line', 'restore', 'delete', 'rename' as const),
      line: fc.nat(300),
      patience: fc.nat(9),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        const { world, set } = changing(texts);
        const live = new LiveLibrary(world, '/shop', '/shipped', []);
        live.look();
        const now: Record<string, string> = { ...texts };
        for (const { file, how, line, patience } of edits) {
          const lines = (now[file] ?? texts[file] ?? '').split('\n');
          if (how === 'restore') now[file] = texts[file] ?? '';
          else if (how === 'delete') delete now[file];
          else if (how === 'rename') now[file] = lines.join('\n').replace(/^id: (.*)$/m, 'id: $1-other');
          else now[file] = lines.filter((_, index) => index !== line % lines.length).join('\n');
          set(file, now[file] ?? null);
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
      { numRuns: Number(process.env.FUZZ ?? times), seed: Number(process.env.SEED ?? 31) },
    );
  },
  600_000,
);

it('where much has changed, what is asked for is looked at first, and the rest when it is told to go on', () => {
  const { world, set } = changing(demoTexts());
  const live = new LiveLibrary(world, '/shop', '/shipped', []);
  live.look();
  const shop = demoTexts()['/shop/shop.yaml'] ?? '';
  set('/shop/shop.yaml', shop.replace(/^tools:\n/m, 'tools:\n  never-asked-for: { name: never asked for }\n'));
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

it('after one change, only what it touches is looked at', () => {
  const { world, set } = changing(small);
  const live = new LiveLibrary(world, '/shop', '/shipped', []);
  const before = live.look();
  set(
    '/shop/procedures/thermostat-pump.yaml',
    (small['/shop/procedures/thermostat-pump.yaml'] ?? '').replace('  - fit: splash-shield\n', ''),
  );
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
