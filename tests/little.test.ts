// Of what is printed, small things: how exactly it says what is poured, as a jug shows hundredths of a litre and a measuring
// cylinder millilitres (common practice, no source), and one full stop at the end of a sentence.
import { expect, it } from 'vitest';
import { baySheet } from '../src/layout/bay-sheet.js';
import { fluidsSheet } from '../src/layout/fluids-sheet.js';
import { quotePaper } from '../src/layout/quote.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, demoWith } from './helpers/shop.js';

const gearbox = (capacity: string, gives: string, ...more: readonly (readonly [string, string, string])[]) =>
  compiled(
    demoWith(
      ['/shop/vehicles/marn-20.yaml', 'capacity: 2.1 L', `capacity: ${capacity}`],
      ['/shop/vehicles/marn-20.yaml', 'gives: 1.9 ±0.1 L', `gives: ${gives}`],
      ...more,
    ),
    '2047-clutch',
  );

it.each([
  ['2.1 L', '1.95 L', '1.95 L', '0.15 L'],
  ['0.8 L', '0.75 L', '0.75 L', '0.05 L'],
  ['0.14 L', '0.125 L', '0.125 L', '0.015 L'],
  ['260 mL', '247 mL', '0.247 L', '0.013 L'],
])('of %s in which %s come out, so much goes in again wherever it is said', (capacity, gives, poured, residue) => {
  const job = gearbox(capacity, gives);
  const sheet = wordsOn(baySheet(job, measure));
  expect(sheet).toContain(`gearbox oil KM-75W: ${poured}; out ${poured}.`);
  expect(sheet).toContain(`${poured} expected through gearbox drain plug. ${residue} stay in.`);
  expect(sheet).toContain(`${poured} KM-75W Pour what came out`);
  expect(wordsOn(fluidsSheet(job, measure))).toContain(poured);
});

it('little is said as exactly in the unit of the shop', () => {
  // A gallon is 3.785411784 L: NIST HB 44, appendix C.
  const job = gearbox('0.14 L', '0.125 L', ['/shop/shop.yaml', 'kind: shop\n', 'kind: shop\nvolume-unit: US gal\n']);
  expect(wordsOn(baySheet(job, measure))).toContain('0.033 US gal (0.125 L) KM-75W');
});

it('what ends with a full stop has one alone within a sentence of the quote', () => {
  const job = compiled(
    demoWith([
      '/shop/jobs/2047-clutch.yaml',
      'kind: job\n',
      'kind: job\nnot-wanted: [New wipers., A wash]\ndiscounts: [{ says: Old customer., rate: 5 %, on: labour }]\n',
    ]),
    '2047-clutch',
  );
  const words = wordsOn(quotePaper(job, measure));
  expect(words).toContain('not included: New wipers; A wash. ');
  expect(words).toContain('Old customer (5 %)');
});

it('what a locking nut runs with is in the unit of the shop first', () => {
  // 1 lbf·ft is 1.3558179483314004 N·m: NIST SP 811 (2008), appendix B.8.
  const locking = (unit: string) =>
    wordsOn(
      baySheet(
        compiled(
          demoWith(
            ['/shop/shop.yaml', 'torque-unit: N·m', `torque-unit: ${unit}`],
            [
              '/shop/vehicles/marn-20.yaml',
              'threads: as supplied, sequence: star',
              'threads: as supplied, prevailing: { torque: 1.5 N·m, counts: included }, sequence: star',
            ],
          ),
          '2047-clutch',
        ),
        measure,
      ),
    );
  expect(locking('lbf·ft')).toContain('runs with 1.11 lbf·ft (1.5 N·m)');
  expect(locking('N·m')).toContain('runs with 1.5 N·m');
});

it('what is changed several times says so on page one, with what comes out each time', () => {
  const words = wordsOn(baySheet(compiled(demoWith(), '2043-gearbox-fluid'), measure));
  expect(words).toContain('13.6 L in 4 changes; each time 3.4 L out, and as much in.');
});
