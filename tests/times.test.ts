// What a job does again has blanks of its own each time: no second reading stands in the place of the first, and no box of a
// later round is ticked before anybody comes to it.
import path from 'node:path';
import { expect, it } from 'vitest';
import { openFaces } from '../src/emit/pdf/fonts.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import { fluidsSheet } from '../src/layout/fluids-sheet.js';
import { type Element, marksOf, type Paper, type Piece } from '../src/layout/page.js';
import { recorded } from '../src/layout/recorded.js';
import { readFonts } from '../src/world/fonts.js';
import { compiled, demoTexts, demoWith, found, libraryOf, projectFolder } from './helpers/shop.js';

const { measure } = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));

const elementsIn = (pieces: readonly Piece[]): Element[] =>
  pieces.flatMap((piece) => (piece.kind === 'element' ? [piece, ...elementsIn(piece.children)] : []));
const keysIn = (pieces: readonly Piece[]): string[] => elementsIn(pieces).flatMap(({ field }) => (field ? [field.key] : []));
const stepsOf = (paper: Paper): Element[] => elementsIn(paper.pages.flatMap((page) => page.pieces)).filter((one) => one.look === 'step');
/** The blanks at the end of the sheet. */
const keptOn = (paper: Paper): string[] => keysIn(paper.pages.at(-1)?.pieces ?? []);

it('no two steps of a demo job share a box or a blank', () => {
  const library = libraryOf(demoTexts());
  for (const id of library.jobs.keys()) {
    const keys = stepsOf(baySheet(compiled(library, id), measure)).flatMap((step) => keysIn(step.children));
    expect(keys.length, id).toBeGreaterThan(10);
    expect(
      keys.filter((key, n) => keys.indexOf(key) < n),
      id,
    ).toEqual([]);
  }
});

it('four partial changes of a fluid: each its litres out, its litres in and its torque; all of them kept', () => {
  const job = compiled(libraryOf(demoTexts()), '2043-gearbox-fluid');
  const sheet = baySheet(job, measure);
  const keys = stepsOf(sheet).flatMap((step) => keysIn(step.children));
  const litres = ['F-01', 'F-02', 'F-01.2', 'F-02.2', 'F-01.3', 'F-02.3', 'F-01.4', 'F-02.4'];
  expect(keys.filter((key) => key.startsWith('F-'))).toEqual(litres);
  expect(keys.filter((key) => key.startsWith('T-01'))).toEqual(['T-01/1/1', 'T-01.2/1/1', 'T-01.3/1/1', 'T-01.4/1/1']);
  expect(keptOn(sheet)).toEqual(expect.arrayContaining(litres));
  expect(keysIn(fluidsSheet(job, measure).pages[0]?.pieces ?? [])).toEqual(expect.arrayContaining(litres));
  const third = job.steps.filter((step) => step.verb === 'fill')[2];
  expect(third?.times).toEqual({ 'F-02': 3 });
  const words = marksOf(stepsOf(sheet)[(third?.n ?? 1) - 1]?.children ?? []).flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));
  expect(words.join(' ')).toMatch(/F-02\.3 poured .*less F-01\.3:/);
});

it('a stage that comes later in the job is no second time', () => {
  const job = compiled(libraryOf(demoTexts()), '2042-hub-bearing');
  const stages = job.steps.flatMap((step) => step.torque.flatMap((one) => one.stages.map((stage) => `${one.joint}/${stage}`)));
  expect(new Set(job.steps.flatMap((step) => step.torque.map((one) => one.joint))).size).toBeLessThan(
    job.steps.flatMap((step) => step.torque).length,
  );
  expect(new Set(stages).size).toBe(stages.length);
  expect(job.steps.every((step) => Object.keys(step.times).length === 0)).toBe(true);
});

it('a measurement before and after: both readings go back to paper', () => {
  const twice = demoWith([
    '/shop/procedures/front-brakes.yaml',
    '  - measure: brake-fluid-water\n',
    '  - measure: brake-fluid-water\n  - measure: brake-fluid-water\n',
  ]);
  const job = compiled(twice, '2045-front-brakes');
  const code = job.measurements.find((one) => one.id === 'brake-fluid-water')?.code ?? '';
  const again = `${code}.2`;
  const sheet = baySheet(job, measure);
  expect(keptOn(sheet)).toEqual(expect.arrayContaining([code, again]));
  const filled = recorded(sheet, { ticks: {}, values: { [code]: '3.4', [again]: '0.4' } }, measure);
  const readings = stepsOf(filled).flatMap((step) =>
    elementsIn(step.children)
      .filter((one) => one.field?.key.startsWith(code))
      .map((one) => marksOf(one.children).flatMap((mark) => (mark.kind === 'text' && /^\d\.\d$/.test(mark.text) ? [mark.text] : []))),
  );
  expect(readings).toEqual([['3.4'], ['0.4']]);
});

it('a code of a measurement is none of a joint, a fluid or a choice', () => {
  const profile = '/shop/vehicles/tarrock-35.yaml';
  const line = (library: ReturnType<typeof libraryOf>) => found(library).map(({ rule, line }) => `${rule}: ${line}`);
  for (const letter of ['A', 'C', 'F', 'H', 'K', 'T'])
    expect(line(demoWith([profile, 'code: C-01', 'code: C-01'], [profile, 'code: M-04', `code: ${letter}-04`]))[0]).toMatch(
      new RegExp(`^schema/wrong-form: .*code: ${letter}-04`),
    );
  expect(line(demoWith([profile, 'code: C-01', 'code: M-01']))[0]).toMatch(/^schema\/wrong-form: code: M-01/);
});
