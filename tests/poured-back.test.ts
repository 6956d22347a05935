// What comes out may be what goes in again: fuel, or the oil of a machine that is only opened.
import { expect, it } from 'vitest';
import { papersOf } from '../src/emit/outputs.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { rule } from '../src/rules/fluid/unknown-drain.js';
import { compiled, found, libraryWith } from './helpers/shop.js';
import { measure, wordsOn } from './helpers/paper.js';

const base = Object.fromEntries(Object.entries(filesOfExample(rule.good).all).map(([name, text]) => [`/shop/${name}`, text]));
const van = '/shop/vehicles/sample-van.yaml';
const work = '/shop/procedures/example.yaml';
const back = [work, '  - fill: coolant\n', '  - fill: coolant\n    new: false\n'] as const;
const job = (...changes: Parameters<typeof libraryWith>[1]) => compiled(libraryWith(base, changes), 'example-job');
const charged = (one: ReturnType<typeof job>) => one.quote.lines.map(({ id }) => id);
const texts = (one: ReturnType<typeof job>): string =>
  Array.from(papersOf(one, measure, { format: 'pdf', workings: false, after: null }), ({ paper }) => wordsOn(paper)).join('\n');

it('is neither bought nor waste, and both sheets say so', () => {
  const fresh = job();
  const again = job(back);
  expect([charged(fresh), fresh.waste.length]).toEqual([['labour', 'fluids'], 1]);
  expect([charged(again), again.parts.fluids, again.waste]).toEqual([['labour'], [], []]);
  expect([fresh.fluids[0]?.pouredBack, again.fluids[0]?.pouredBack, again.fluids[0]?.pour]).toEqual([false, true, fresh.fluids[0]?.pour]);
  expect(texts(again)).toContain('What came out goes in again, out of a clean vessel');
  expect(texts(again)).toContain('out, and the same in again');
  expect(texts(fresh)).not.toContain('goes in again');
});

it('is found nothing wrong with', () => {
  const told = (...changes: Parameters<typeof libraryWith>[1]) =>
    found(libraryWith(base, changes)).map(({ rule, place }) => `${rule} ${place}`);
  expect(told(back)).toEqual(told());
});

it('after some reading new fluid goes in: what that takes is foretold, and not charged', () => {
  const either = [
    work,
    '  - fill: coolant\n',
    '  - { fill: coolant, when: { water: outside } }\n  - { fill: coolant, new: false, when: { water: inside } }\n',
  ] as const;
  const reading = [
    [
      work,
      'steps:\n',
      'might-find: { dirty: { says: it is dirty, at: look, items: { coolant-ready: 5 L } } }\nsteps:\n  - { measure: water, id: look }\n',
    ],
    [
      van,
      'parts:\n',
      'measurements: { water: { code: M-01, name: water in it, limit: max 3 %, with: tester, outside: Renew it. } }\nparts:\n',
    ],
  ] as const;
  const one = job(either, ...reading);
  expect(found(libraryWith(base, [either, ...reading]))).toEqual([]);
  expect([charged(one), one.waste, one.fluids[0]?.pouredBack, one.fluids[0]?.rounds]).toEqual([['labour'], [], false, 1]);
  expect(one.quote.found).toHaveLength(1);
  expect(one.steps.filter(({ verb }) => verb === 'fill').map(({ pouredBack }) => pouredBack)).toEqual([false, true]);
});
