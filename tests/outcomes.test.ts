// Steps that wait for an outcome: what is needed whatever it is, what only some outcomes need, and what is open meanwhile.
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { compileJob } from '../src/job/compile-job.js';
import { readDocument } from '../src/library/document.js';
import { index } from '../src/library/library.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { job } from '../src/rules/examples.js';
import { contradictionsIn } from './helpers/consistent.js';

const measured = 'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: A new pump. } }\n';
const found = 'might-find:\n  worn: { says: the pump is worn., at: height, items: { pump: 1 } }\n';
const opening = 'steps:\n  - remove: cover\n  - remove: pump\n  - measure: height\n    id: height\n';

/** @param bolts how the bolts of the pump may be used again */
function made(closing: string, bolts = 'reuse: always') {
  const { all } = filesOfExample(job('', `${measured}${found}${opening}close-up:\n${closing}  - fit: cover\n`));
  const van = 'vehicles/sample-van.yaml';
  all[van] = (all[van] ?? '').replace(/(?<=pump-bolts:.*)reuse: always/, bolts);
  const library = index(
    '/shop',
    Object.entries(all).map(([path, text]) => readDocument({ path, text }, false)),
  );
  const [order] = library.jobs.values();
  const compiled = order && compileJob(library, order);
  if (!compiled) throw new Error('it does not compile');
  expect(contradictionsIn(compiled).filter((one) => !one.includes('are ordered'))).toEqual([]);
  return { told: checkLibrary(library).map((one) => one.rule), job: compiled };
}

const either =
  '  - fit: pump\n    new: true\n    when: { height: outside }\n  - fit: pump\n    when: { height: inside }\n  - tighten: pump-bolts\n';

it('what goes on after every outcome is ordered once; what only one needs is not, and stands at its step', () => {
  const { told, job: one } = made(either);
  expect(told).toEqual([]);
  expect(one.parts.demand.map(({ item, count, for: why }) => [item, count, why])).toEqual([['pump-gasket', 1, ['coolant pump']]]);
  expect(one.steps.filter((step) => step.verb === 'fit').map((step) => step.parts.map((part) => part.item))).toEqual([
    ['pump', 'pump-gasket'],
    ['pump-gasket'],
    [],
  ]);
  expect(one.quote.found.map(({ what }) => what)).toEqual([['the pump is worn']]);
  expect(one.parts.perhaps).toEqual([{ item: 'pump', name: 'coolant pump', count: 1, if: 'the pump is worn' }]);
});

it('what goes on only after one outcome is not ordered', () => {
  const { told, job: one } = made('  - fit: pump\n  - tighten: pump-bolts\n  - renew: pump\n    when: { height: outside }\n');
  // A second gasket, of which the quote says nothing.
  expect(told).toEqual(['price/perhaps-unsaid']);
  expect(one.parts.demand.map(({ item, count }) => [item, count])).toEqual([['pump-gasket', 1]]);
});

it('bolts that are never used again: once, in whichever way they are tightened', () => {
  const tightened = (...ways: string[]) =>
    made(
      `  - fit: pump\n${ways.map((way) => `  - tighten: pump-bolts\n    when: { height: ${way} }\n`).join('')}`,
      'reuse: never, item: pump',
    );
  const both = tightened('outside', 'inside');
  expect(both.told).toEqual([]);
  expect(both.job.parts.demand.map(({ item, count }) => [item, count])).toEqual([
    ['pump-gasket', 1],
    ['pump', 4],
  ]);
  expect(both.job.steps.flatMap((step) => (step.verb === 'tighten' ? [step.parts.map((part) => part.count)] : []))).toEqual([[4], [4]]);
});

it('a fluid that is changed only after one outcome is not bought, nor is its waste; what is changed after each is bought once', () => {
  const change = (way: string) =>
    ['open: tap', 'drain: coolant', 'close: tap', 'fill: coolant'].map((step) => `  - ${step}\n    when: { height: ${way} }\n`).join('');
  const closing = (ways: string[]) => `  - fit: pump\n  - tighten: pump-bolts\n${ways.map(change).join('')}`;
  const one = made(closing(['outside']));
  expect(one.told.filter((rule) => rule.startsWith('price/'))).toEqual(['price/perhaps-unsaid']);
  expect([one.job.parts.fluids, one.job.waste, one.job.quote.lines.map((line) => line.label)]).toEqual([[], [], ['Labour 0.2 h', 'Parts']]);
  expect(one.job.fluids.map(({ pour, rounds }) => [pour, rounds])).toEqual([['5', 1]]);
  const each = made(closing(['outside', 'inside']));
  expect(each.told.filter((rule) => rule.startsWith('price/'))).toEqual([]);
  expect(each.job.parts.fluids.map(({ number, count }) => [number, count])).toEqual([['P-3', 1]]);
  expect(each.job.waste.map(({ amount }) => amount)).toEqual(['5']);
  expect(each.job.fluids.map(({ pour, rounds }) => [pour, rounds])).toEqual([['5', 1]]);
  expect(each.job.steps.filter((step) => step.verb === 'fill').map((step) => step.times)).toEqual([{}, { 'F-02': 2 }]);
});

it('sublet work after one outcome is on the quote only as what might be found', () => {
  const send = (...ways: string[]) =>
    made(
      `  - fit: pump\n  - tighten: pump-bolts\n${ways.map((way) => `  - send: cover\n    for: painting\n    when: { height: ${way} }\n`).join('')}`,
    );
  expect(send('outside').told).toContain('price/perhaps-unsaid');
  expect(send('outside', 'inside').told).not.toContain('price/perhaps-unsaid');
  const lines = (made: ReturnType<typeof send>) => made.job.quote.lines.filter((line) => line.label.includes('painting')).length;
  expect([lines(send('outside')), lines(send('outside', 'inside'))]).toEqual([0, 1]);
});

it('a line that is closed by one of two steps may be open until the last of them', () => {
  const { job: one } = made(either);
  const [first, second] = one.steps.filter((step) => step.verb === 'fit' && step.objects[0]?.id === 'pump');
  const opened = one.steps.find((step) => step.verb === 'remove' && step.objects[0]?.id === 'pump');
  expect([first?.onlyIf, second?.onlyIf].every((words) => typeof words === 'string')).toBe(true);
  for (const step of [first, second]) expect(step?.closes).toEqual([{ name: 'coolant pump', partner: opened?.n }]);
  expect(one.ledger.lines.find((line) => line.name === 'coolant pump')?.closed).toBe(second?.n);
  expect(opened?.opens).toEqual([{ name: 'coolant pump', partner: second?.n }]);
  expect([first?.openAfter, second?.openAfter]).toEqual([2, 1]);
  expect(one.ledger).toMatchObject({ opened: 2, closed: 2 });
});
