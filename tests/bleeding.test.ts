// What bleeding takes is bought, charged and waste, where nothing else of it is filled in.
import { expect, it } from 'vitest';
import { papersOf } from '../src/emit/outputs.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { procedure } from '../src/rules/examples.js';
import { rule } from '../src/rules/fluid/unknown-drain.js';
import { compiled, found, libraryWith } from './helpers/shop.js';
import { measure, wordsOn } from './helpers/paper.js';

const base = Object.fromEntries(Object.entries(filesOfExample(rule.good).all).map(([name, text]) => [`/shop/${name}`, text]));
const van = '/shop/vehicles/sample-van.yaml';
const work = '/shop/procedures/example.yaml';
const shopWith = (steps: string, ...changes: Parameters<typeof libraryWith>[1]) =>
  libraryWith({ ...base, [work]: procedure(`labour: { all: { time: 0.2 h } }\n${steps}`) }, [
    [
      van,
      'fluids:\n',
      'fluids:\n  brake-fluid: { name: brake fluid, spec: DOT 4, item: coolant-ready, capacity: 0.8 L, bleeding: 0.3 L, waste: antifreeze }\n',
    ],
    [van, 'parts:\n', 'parts:\n  hose: { name: brake hose, circuit: brake-fluid }\n'],
    ...changes,
  ]);
const bleed = (what: string, more = '') => `  - bleed: ${what}\n    until: no bubbles\n${more}`;
const words = (library: ReturnType<typeof libraryWith>): string =>
  Array.from(papersOf(compiled(library, 'example-job'), measure, { format: 'pdf', workings: false, after: null }), ({ paper }) =>
    wordsOn(paper),
  ).join(' ');

it('stands at the step, on the first page, the fluids sheet, the parts list and the quote', () => {
  const library = shopWith(`steps:\n${bleed('brake-fluid')}`);
  expect(found(library)).toEqual([]);
  const job = compiled(library, 'example-job');
  expect(job.bled).toEqual([{ id: 'brake-fluid', name: 'brake fluid', spec: 'DOT 4', amount: '0.3 L', steps: [1] }]);
  expect([job.quote.lines.map(({ id }) => id), job.waste.map(({ amount }) => amount)]).toEqual([['labour', 'fluids'], ['0.3']]);
  const paper = words(library);
  expect(paper).toContain('brake fluid DOT 4: 0.3 L for bleeding.');
  expect(paper.split('Bleeding takes 0.3 L of DOT 4.')).toHaveLength(3);
});

it('is that of the part that is bled, once for several steps', () => {
  const library = shopWith(`steps:\n${bleed('hose')}${bleed('brake-fluid')}`);
  expect(compiled(library, 'example-job').bled.map(({ id, steps }) => [id, steps])).toEqual([['brake-fluid', [1, 2]]]);
  expect(compiled(library, 'example-job').waste.map(({ amount }) => amount)).toEqual(['0.3']);
});

it('is nothing besides what is filled in', () => {
  const library = shopWith(`steps:\n  - fill: brake-fluid\n${bleed('brake-fluid')}`);
  expect(compiled(library, 'example-job').bled).toEqual([]);
  expect(compiled(library, 'example-job').fluids).toHaveLength(1);
});

it('after some reading alone it is foretold, and not charged', () => {
  const library = shopWith(
    `might-find: { wet: { says: there is water in it, at: look, items: { coolant-ready: 0.3 L } } }\nsteps:\n  - { measure: water, id: look }\n${bleed('brake-fluid', '    when: { water: outside }\n')}`,
    [
      van,
      'parts:\n',
      'measurements: { water: { code: M-01, name: water in it, limit: max 3 %, with: tester, outside: Renew it. } }\nparts:\n',
    ],
  );
  expect(found(library)).toEqual([]);
  const job = compiled(library, 'example-job');
  expect([job.quote.lines.map(({ id }) => id), job.waste, job.quote.found.length]).toEqual([['labour'], [], 1]);
});

it('is in the unit of the shop’s bottles first', () => {
  const library = shopWith(`steps:\n${bleed('brake-fluid')}`, ['/shop/shop.yaml', 'kind: shop\n', 'kind: shop\nvolume-unit: US qt\n']);
  // A quart is 0.946352946 L: NIST HB 44, appendix C.
  expect(compiled(library, 'example-job').bled[0]?.amount).toBe('0.32 US qt (0.3 L)');
});
