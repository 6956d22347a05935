// Parts that readings choose, of which each has its own: shims of valves, shells of bearings.
import { describe, expect, it } from 'vitest';
import { baySheet } from '../src/layout/bay-sheet.js';
import { partsList } from '../src/layout/parts-list.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { rule } from '../src/rules/parts/count-chosen.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, found, libraryWith } from './helpers/shop.js';

const base = Object.fromEntries(Object.entries(filesOfExample(rule.good).all).map(([name, text]) => [`/shop/${name}`, text]));
const order = '/shop/jobs/example-job.yaml';
const work = '/shop/procedures/example.yaml';
const parts = '/shop/parts/sample.yaml';
const expects = 'expect: { shim: shim-thin }\n';

const shopWith = (...changes: Parameters<typeof libraryWith>[1]) => libraryWith(base, changes);
const demandOf = (library: ReturnType<typeof libraryWith>) =>
  compiled(library, 'example-job').parts.demand.map(({ item, count }) => `${count} ${item}`);

describe('each reading chooses its own', () => {
  it('before it is measured, as many of what is expected', () => {
    const job = compiled(shopWith(), 'example-job');
    expect(job.choices.map(({ expected }) => expected)).toEqual([['shim-thin', 'shim-thin', 'shim-thin', 'shim-thin']]);
    expect(demandOf(shopWith())).toEqual(['4 shim-thin']);
    expect(job.parts.demand.map(({ choice }) => choice)).toEqual(['C-01']);
    // The others are held beside them.
    expect(job.parts.buy.map(({ number, count, hold }) => [number, count, hold])).toEqual([['P-8', 4, ['P-9']]]);
  });

  it('when it is read, of each as many as are right', () => {
    const library = shopWith([order, expects, 'measured: { gaps: [0.11 mm, 0.25 mm, 0.2 mm, 0.15 mm] }\n']);
    expect(found(library)).toEqual([]);
    expect(demandOf(library)).toEqual(['3 shim-thin', '1 shim-thick']);
    const job = compiled(library, 'example-job');
    expect(job.choices[0]?.expected).toEqual(['shim-thin', 'shim-thick', 'shim-thin', 'shim-thin']);
    expect(job.measurements[0]?.verdict).toBe('each passes 0.1 to 0.3 mm');
    expect(job.parts.buy.flatMap(({ hold }) => hold)).toEqual([]);
    const text = wordsOn(baySheet(job, measure));
    expect(text).toContain('thin shim (expected at 1, 3, 4)');
    expect(text).toContain('thick shim (expected at 2)');
  });

  it('a pack that is called as what is in it says on the list how many that are', () => {
    const packs = shopWith([parts, 'contains: { shim-thin: 1 }', 'contains: { shim-thin: 4 }']);
    expect(wordsOn(partsList(compiled(packs, 'example-job'), measure))).toMatch(/P-8 1 4 × thin shim 2\.00/);
    expect(wordsOn(partsList(compiled(shopWith(), 'example-job'), measure))).toMatch(/P-8 4 thin shim 8\.00/);
  });

  it('what is within its limit may stay: nothing is ordered for it, and the sheet says so', () => {
    const stays = [work, 'gives: shim-thick', 'gives: none'] as const;
    const library = shopWith(stays, [order, expects, 'measured: { gaps: [0.11 mm, 0.25 mm, 0.22 mm, 0.15 mm] }\n']);
    expect(found(library)).toEqual([]);
    expect(demandOf(library)).toEqual(['2 shim-thin']);
    const job = compiled(library, 'example-job');
    expect(job.parts.buy.flatMap(({ hold }) => hold)).toEqual([]);
    const text = wordsOn(baySheet(job, measure));
    expect(text).toContain('what is in stays (expected at 2, 3)');
    expect(text).toContain('thin shim (expected at 1, 4)');
    // Nothing new is expected before it is measured.
    expect(demandOf(shopWith(stays, [order, expects, 'expect: { shim: none }\n']))).toEqual([]);
  });

  it('several go to each reading', () => {
    const library = shopWith([work, 'count: 4', 'count: 8'], [order, expects, 'measured: { gaps: [0.11 mm, 0.25 mm, 0.2 mm, 0.15 mm] }\n']);
    expect(found(library)).toEqual([]);
    expect(demandOf(library)).toEqual(['6 shim-thin', '2 shim-thick']);
  });

  it('a reading that the table does not have, and one that gives another than is expected', () => {
    const rulesWith = (to: string) => found(shopWith([order, expects, to])).map(({ rule, message }) => `${rule}: ${message}`);
    expect(rulesWith('measured: { gaps: [0.11 mm, 0.25 mm, 0.3 mm, 0.35 mm] }\n')).toContainEqual(
      expect.stringMatching(/^measurement\/outside-table: 0\.35 mm lies outside the table of `shim`/),
    );
    expect(rulesWith(`${expects}measured: { gaps: [0.11 mm, 0.12 mm, 0.25 mm, 0.15 mm] }\n`)).toEqual([
      expect.stringMatching(/^measurement\/expects-another: 0\.25 mm gives `shim-thick`/),
    ]);
    const out = compiled(shopWith([order, expects, 'measured: { gaps: [0.09 mm, 0.25 mm, 0.3 mm, 0.35 mm] }\n']), 'example-job');
    expect(out.measurements[0]?.verdict).toBe('0.09 mm, 0.35 mm FAILS 0.1 to 0.3 mm');
  });

  it('where one reading of several counts, one is chosen', () => {
    const library = shopWith(
      [work, 'takes: each', 'takes: max'],
      [work, ', count: 4', ''],
      [order, expects, 'measured: { gaps: [0.11 mm, 0.25 mm, 0.2 mm, 0.15 mm] }\n'],
    );
    expect(found(library)).toEqual([]);
    expect(demandOf(library)).toEqual(['1 shim-thick']);
    expect(compiled(library, 'example-job').choices[0]?.expected).toEqual(['shim-thick']);
  });
});
