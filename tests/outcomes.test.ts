// Steps that wait for an outcome: what is needed whatever it is, what only some outcomes need, and what is open meanwhile.
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { compileJob } from '../src/job/compile-job.js';
import { readDocument } from '../src/library/document.js';
import { index } from '../src/library/library.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { job } from '../src/rules/examples.js';
import type { CompiledJob } from '../src/schema/generated/compiled-job.js';
import { contradictionsIn } from './helpers/consistent.js';
import { compiled, demoTexts, libraryOf } from './helpers/shop.js';

const measuredAs = (...names: readonly string[]): string =>
  `measurements: { ${names.map((name) => `${name}: { name: ${name}, limit: 0.5..0.8 mm, with: dial gauge, outside: A new pump. }`).join(', ')} }\n`;
const found = 'might-find:\n  worn: { says: the pump is worn., at: height, items: { pump: 1 } }\n';
const opening = 'steps:\n  - remove: cover\n  - remove: pump\n  - measure: height\n    id: height\n';

interface Changed {
  /** How the bolts of the pump may be used again. */
  readonly bolts?: string;
  /** What the job order says besides. */
  readonly order?: string;
  /** What might be found. */
  readonly finds?: string;
  readonly measured?: readonly string[];
}

function made(closing: string, { bolts = 'reuse: always', order = '', finds = found, measured = ['height'] }: Changed = {}) {
  const { all } = filesOfExample(job(order, `${measuredAs(...measured)}${finds}${opening}close-up:\n${closing}  - fit: cover\n`));
  const van = 'vehicles/sample-van.yaml';
  all[van] = (all[van] ?? '').replace(/(?<=pump-bolts:.*)reuse: always/, bolts);
  const library = index(
    '/shop',
    Object.entries(all).map(([path, text]) => readDocument({ path, text }, false)),
  );
  const [one] = library.jobs.values();
  const compiled = one && compileJob(library, one);
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
  expect(one.parts.perhaps).toEqual([{ item: 'pump', name: 'coolant pump', count: 1, amount: null, if: 'the pump is worn' }]);
});

it('of several conditions any is enough: the sheet says them all, and each is measured before', () => {
  const any = 'when: [{ height: outside }, { width: outside }]';
  const closing = `  - measure: width\n  - renew: pump\n    ${any}\n  - fit: pump\n  - tighten: pump-bolts\n`;
  const measured = ['height', 'width'];
  const { told, job: one } = made(closing, { measured });
  expect(told).toEqual(['price/perhaps-unsaid']);
  expect(one.steps.flatMap((step) => step.onlyIf ?? [])).toEqual(['height outside its limit or width outside its limit']);
  expect(made(closing, { measured, order: reading('0.9 mm') }).job.parts.demand.map(({ item }) => item)).toContain('pump');
  // Inside in the one, it still may be outside in the other.
  const inside = made(closing, { measured, order: reading('0.6 mm') }).job;
  expect(inside.parts.demand.map(({ item }) => item)).not.toContain('pump');
  expect(inside.steps.flatMap((step) => step.onlyIf ?? [])).toEqual([
    'height outside its limit (before the job: inside its limit) or width outside its limit',
  ]);
  expect(made(closing.replace('  - measure: width\n', ''), { measured }).told).toContain('measurement/not-measured');
  expect(made(closing.replace('{ width: outside }', '{ width: outsid }'), { measured }).told).toContain('variant/unknown-feature');
  const both = closing.replace(any, 'when: [{ height: outside }, { height: inside }]');
  expect(made(both, { measured }).job.parts.demand.map(({ item }) => item)).toContain('pump');
});

it('what goes on only after one outcome is not ordered', () => {
  const { told, job: one } = made('  - fit: pump\n  - tighten: pump-bolts\n  - renew: pump\n    when: { height: outside }\n');
  // A second gasket, of which the quote says nothing.
  expect(told).toEqual(['price/perhaps-unsaid']);
  expect(one.parts.demand.map(({ item, count }) => [item, count])).toEqual([['pump-gasket', 1]]);
});

it('bolts that are never used again: once, in whichever way they are tightened', () => {
  const tightened = (...ways: string[]) =>
    made(`  - fit: pump\n${ways.map((way) => `  - tighten: pump-bolts\n    when: { height: ${way} }\n`).join('')}`, {
      bolts: 'reuse: never, item: pump',
    });
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

const reading = (value: string) => `measured: { height: ${value} }\n`;

it('a reading from before the job settles what waits for it: ordered and charged, or not at all', () => {
  const finds =
    'labour: { all: { time: 0.2 h } }\nmight-find:\n  worn: { says: the pump is worn., at: height, labour: 0.5 h, items: { pump: 1 } }\n';
  const open = made(either, { finds }).job;
  expect(open.quote.found.map(({ what, gross }) => [what, gross])).toEqual([[['the pump is worn'], '114.00']]);
  const outside = made(either, { finds, order: reading('0.9 mm') });
  expect(outside.told.filter((rule) => rule !== 'measurement/outside-limit')).toEqual([]);
  // What the quote said that it would come to is what it comes to.
  expect([outside.job.quote.gross, outside.job.quote.found, outside.job.parts.perhaps]).toEqual(['114.00', [], []]);
  expect(outside.job.parts.demand.map(({ item, count }) => [item, count])).toEqual([
    ['pump', 1],
    ['pump-gasket', 1],
  ]);
  expect(outside.job.labour.operations.map(({ says, billed }) => [says, billed])).toContainEqual(['the pump is worn', '0.5']);
  expect([open.quote.known, outside.job.quote.known]).toEqual([[], ['the pump is worn']]);
  const inside = made(either, { finds, order: reading('0.6 mm') }).job;
  expect([inside.quote.gross, inside.quote.found, inside.parts.perhaps]).toEqual([open.quote.gross, [], []]);
  expect(outside.job.steps.flatMap((step) => step.onlyIf ?? [])).toEqual([
    'height outside its limit (before the job: outside its limit)',
    'height inside its limit (before the job: outside its limit)',
  ]);
  // The sheet has both ways all the same: the reading is taken again.
  for (const one of [outside.job, inside]) expect(one.steps.map(({ verb }) => verb)).toEqual(open.steps.map(({ verb }) => verb));
});

it('a reading in another unit, or one that cannot be read, settles nothing', () => {
  for (const value of ['0.9 bar', 'worn'])
    expect(made(either, { order: reading(value) }).job.quote.found.map(({ what }) => what)).toEqual([['the pump is worn']]);
});

it('what no step takes new that is found is ordered and sublet with the job', () => {
  const finds = 'might-find:\n  worn: { says: the seat is worn., at: height, count: 2, items: { pump: 1 }, sublet: painting }\n';
  const { job: one } = made('  - fit: pump\n  - tighten: pump-bolts\n', { finds, order: reading('0.9 mm') });
  expect(one.parts.demand.map(({ item, count, for: why }) => [item, count, why])).toEqual([
    ['pump-gasket', 1, ['coolant pump']],
    ['pump', 2, ['the seat is worn']],
  ]);
  expect(one.quote.lines.filter((line) => line.label.includes('painting'))).toHaveLength(1);
});

it('of what some outcome needs, what might be found says as many as that', () => {
  const tight = either.replace('- tighten: pump-bolts\n', '- tighten: pump-bolts\n    when: { height: outside }\n');
  const told = (items: string) => {
    const finds = `might-find:\n  worn: { says: the pump is worn., at: height, items: { ${items} } }\n`;
    return made(tight, { finds, bolts: 'reuse: never, item: pump-gasket' }).told.filter((one) => one === 'price/perhaps-unsaid');
  };
  expect(told('pump: 1, pump-gasket: 4')).toEqual([]);
  expect(told('pump: 1, pump-gasket: 3')).toEqual(['price/perhaps-unsaid']);
  expect(told('pump-gasket: 4')).toEqual(['price/perhaps-unsaid']);
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

it('a fluid that might be needed is priced by what is bought for it, from containers or a drum; what is known is bought', () => {
  const clutch = '/shop/procedures/clutch.yaml';
  const text = `${demoTexts()[clutch]?.replace('  - remove: flywheel\n', '  - remove: flywheel\n    id: off\n').trimEnd()}
might-find:
  leak: { says: the clutch line leaks, at: off, count: 2, items: { clutch-fluid: 0.7 L } }
`;
  const catalogue = '/shop/parts/marn.yaml';
  const selling = (offers: string) =>
    (demoTexts()[catalogue] ?? '').replace('\noffers:\n', `\n  clutch-fluid: { name: clutch fluid }\noffers:\n${offers}`);
  const shop = (offers: string, changed = text, order = '') => {
    const job = '/shop/jobs/2047-clutch.yaml';
    return compiled(
      libraryOf({ ...demoTexts(), [clutch]: changed, [catalogue]: selling(offers), [job]: `${demoTexts()[job]}${order}` }),
      '2047-clutch',
    );
  };
  const litre = '  - { number: "CF-1", name: clutch fluid 1 L, contains: { clutch-fluid: 1 L }, price: 9.00 }\n';
  const drum = '  - { number: "CF-9", name: clutch fluid 20 L, contains: { clutch-fluid: 20 L }, price: 100.00, drawn: true }\n';
  const more = ({ quote }: CompiledJob) => Number(quote.found[0]?.gross) - Number(quote.gross);
  // Two cases of 0.7 L: two bottles, or 1.4 of 20 L; and the tax of 20 %.
  expect(more(shop(litre))).toBeCloseTo(2 * 9 * 1.2, 2);
  expect(more(shop(drum))).toBeCloseTo((100 / 20) * 1.4 * 1.2, 2);
  expect(more(shop(litre + drum))).toBeCloseTo((100 / 20) * 1.4 * 1.2, 2);
  expect(shop(litre).parts.perhaps).toEqual([
    { item: 'clutch-fluid', name: 'clutch fluid', count: 2, amount: '0.7 L', if: 'the clutch line leaks' },
  ]);
  const told = (amount: string, offers = litre) => {
    const changed = text.replace('clutch-fluid: 0.7 L', `clutch-fluid: ${amount}`);
    return checkLibrary(libraryOf({ ...demoTexts(), [clutch]: changed, [catalogue]: selling(offers) }))
      .filter(({ severity }) => severity === 'error')
      .map(({ rule, message }) => `${rule}: ${message}`);
  };
  expect([told('0.7 L'), told('50 mL'), told('1'), told('50 g', litre.replace('1 L }', '100 g }'))]).toEqual([[], [], [], []]);
  expect(told('50 g')).toEqual([
    'quantity/wrong-dimension: `clutch-fluid` is sold by volume, and 50 g of it stand here. Write how much of it one case takes, for example `clutch-fluid: 2 L`.',
  ]);
  expect(told('1 L', litre.replace('1 L }', '1 }'))[0]).toMatch(/is sold by the piece, .* Write how many of them one case takes/);
  // A reading from before the job says that it is so.
  const atReading = text.replace('    id: off\n', '').replace('  - measure: [flywheel', '  - id: off\n    measure: [flywheel');
  const known = shop(litre, atReading, 'measured: { flywheel-free-angle: 20 deg }\n');
  expect(known.parts.fluids.map(({ number, count }) => [number, count])).toContainEqual(['CF-1', 2]);
  expect([known.parts.perhaps, known.quote.found]).toEqual([[], []]);
  expect(known.parts.fluidLeftovers).toContainEqual({ name: 'clutch fluid', amount: '0.6 L' });
  // What is weighed is left over in grams.
  const grams = atReading.replace('clutch-fluid: 0.7 L', 'clutch-fluid: 70 g');
  const weighed = shop(litre.replace('1 L }', '100 g }'), grams, 'measured: { flywheel-free-angle: 20 deg }\n');
  expect(weighed.parts.fluids.map(({ number, count }) => [number, count])).toContainEqual(['CF-1', 2]);
  expect(weighed.parts.fluidLeftovers).toContainEqual({ name: 'clutch fluid', amount: '60 g' });
});
