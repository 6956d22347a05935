// A broken file hides nothing of the others, and a broken part of a file does not flood.
import { createRequire } from 'node:module';
import { expect, it, vi } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { demoTexts, found, libraryOf } from './helpers/shop.js';

const texts = demoTexts();
const without = (file: string, from: string, to: string): Record<string, string> => ({
  ...texts,
  [file]: (texts[file] ?? '').replace(from, () => to),
});

it('a thousand files with one broken give that one', () => {
  const many: Record<string, string> = { ...texts };
  for (let n = 0; n < 1000; n++) {
    many[`/shop/procedures/copy-${n}.yaml`] =
      `kind: procedure\nid: copy-${n}\nname: Copy ${n}\nfor: pellan-14\nneeds: [vehicle-raised]\nlabour: { look: { time: 0.1 h } }\nsteps:\n  - remove: wheel-speed-sensor\nclose-up:\n  - fit: wheel-speed-sensor\n  - tighten: sensor-screw\n`;
  }
  many['/shop/procedures/copy-500.yaml'] = 'kind: procedure\nid: copy-500\n  name: [broken\n';
  const all = found(libraryOf(many));
  expect(new Set(all.map((one) => one.place.split(':')[0]))).toEqual(new Set(['procedures/copy-500.yaml']));
  expect(all).toHaveLength(1);
}, 120_000);

it('a profile that does not parse is one finding, and what stands on it is not blamed', () => {
  const all = found(libraryOf(without('/shop/vehicles/marn-20.yaml', 'parts:\n', 'parts: [\n')));
  expect(all.filter((one) => one.rule.startsWith('yaml/'))).toHaveLength(1);
  expect(all.length).toBeLessThanOrEqual(4);
});

it('one broken value in a profile is one finding', () => {
  for (const [from, to] of [
    ['stages: [{ torque: 40 N·m }]', 'stages: [{ torque: 40 }]'],
    ['count: 9', 'count: nine'],
    ['capacity: 2.1 L', 'capacity: 2.1 gal'],
    ['mass: 52 kg', 'mass: heavy'],
  ] as const) {
    const all = found(libraryOf(without('/shop/vehicles/marn-20.yaml', from, to)));
    expect(all, to).toHaveLength(1);
  }
});

it('a text of any length is told where it stands, and the rest is read', () => {
  const job = '/shop/jobs/2042-hub-bearing.yaml';
  for (const [key, length] of [
    ['complaint', 5001],
    ['customer', 1_500_000],
  ] as const) {
    const text = (texts[job] ?? '').replace(new RegExp(`^${key}: .*$`, 'm'), `${key}: "${'x'.repeat(length)}"`);
    expect(found(libraryOf({ ...texts, [job]: text }))).toMatchObject([
      { rule: 'schema/out-of-range', place: expect.stringContaining('jobs/2042-hub-bearing.yaml'), message: expect.stringContaining(key) },
    ]);
  }
});

it('each kind of fault of its own file is found beside those of the others', () => {
  const broken = {
    ...texts,
    '/shop/procedures/clutch.yaml': (texts['/shop/procedures/clutch.yaml'] ?? '').replace('- remove: starter', '- remvoe: starter'),
    '/shop/parts/liddel.yaml': (texts['/shop/parts/liddel.yaml'] ?? '').replace('price: 41.00', 'price: 41,00'),
    '/shop/jobs/2051-injectors.yaml': (texts['/shop/jobs/2051-injectors.yaml'] ?? '').replace('"12E4"', '12E4'),
  };
  expect(found(libraryOf(broken)).map((one) => one.rule)).toEqual(
    expect.arrayContaining(['schema/unknown-key', 'quantity/decimal-comma', 'yaml/needs-quotes']),
  );
});

it('no rule asks where anything stands before it has found something: a clean library is read once', () => {
  const yaml: { parseEvents: (...asked: unknown[]) => unknown } = createRequire(import.meta.url)('js-yaml');
  const read = vi.spyOn(yaml, 'parseEvents');
  const library = libraryOf(Object.fromEntries(Object.entries(demoTexts()).filter(([name]) => !name.includes('/jobs/'))));
  const once = read.mock.calls.length;
  expect(once).toBe(library.files.length);
  expect(checkLibrary(library)).toEqual([]);
  expect(read.mock.calls.length).toBe(once);
  // Where something is found, that file alone is read once more.
  const clutch = demoTexts()['/shop/procedures/clutch.yaml']?.replace('  - fit: starter\n', '') ?? '';
  const broken = libraryOf({ ...demoTexts(), '/shop/procedures/clutch.yaml': clutch, '/shop/jobs/2047-clutch.yaml': '' });
  read.mockClear();
  expect(checkLibrary(broken).some(({ rule }) => rule === 'ledger/left-open')).toBe(true);
  expect(read.mock.calls.filter(([text]) => text === clutch)).toHaveLength(1);
  read.mockRestore();
});
