// Against something outside the project; the source stands beside each check.
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { D } from '../../src/quantity/units.js';
import fc from 'fast-check';
import { sellingPrice } from '../../src/resolve/price/markup.js';
import { digitsOf, roundMoney } from '../../src/resolve/price/money.js';
import { totalsOf } from '../../src/resolve/price/totals.js';
import { compiled, csv, demoWith, projectFolder } from '../helpers/shop.js';

describe('EN 16931', () => {
  interface Example {
    path: string;
    cur: string;
    lines: { net: string; pct: string; cat: string }[];
    docac: { ind: string; amt: string; pct: string; cat: string }[];
    tot: Record<string, string>;
    tax: { total: string; sub: unknown[] }[];
  }
  const examples: Example[] = JSON.parse(fs.readFileSync(path.join(projectFolder, 'tests/reference/en16931_examples.json'), 'utf8'));
  it.each(examples.map((example) => [example.path, example] as const))('%s', (_path, example) => {
    const key = (one: { cat: string; pct: string }) => `${one.cat} ${Number(one.pct)}`;
    const charge = (one: { ind: string; amt: string }) => (one.ind === 'true' || one.ind === '1' ? new D(one.amt) : new D(one.amt).neg());
    const lines = [
      ...example.lines.map((line) => ({ amount: new D(line.net), tax: key(line) })),
      ...example.docac.map((one) => ({ amount: charge(one), tax: key(one) })),
    ];
    const rates = new Map([...example.lines, ...example.docac].map((one) => [key(one), new D(Number(one.pct) || 0)]));
    const totals = totalsOf(lines, rates, example.cur);
    expect(totals.net.toFixed(2)).toBe(new D(example.tot.TaxExclusiveAmount ?? 0).toFixed(2));
    expect(totals.gross.toFixed(2)).toBe(new D(example.tot.TaxInclusiveAmount ?? 0).toFixed(2));
  });
  it('rounds half away from zero: 365.125 to 365.13, and its mirror', () => {
    expect(roundMoney(new D('365.125'), 'NOK').toFixed(2)).toBe('365.13');
    expect(roundMoney(new D('-365.125'), 'NOK').toFixed(2)).toBe('-365.13');
  });
  it('minor units as in ISO 4217 (tests/reference/iso4217_minor_units.csv), not as in Intl', () => {
    for (const row of csv('iso4217_minor_units.csv'))
      expect(digitsOf(row.currency ?? ''), row.currency ?? '').toBe(Number(row.iso4217_minor_units));
  });
});

describe('totals equal the sum of what is printed, always', () => {
  const categories = ['full', 'reduced', 'none'];
  const line = fc.record({ amount: fc.integer({ min: -500_000, max: 5_000_000 }), tax: fc.constantFrom(...categories) });
  const rate = fc.integer({ min: 0, max: 3000 }).map((n) => new D(n).div(100));
  it('for any lines, rates, further taxes and currencies of 0, 2 and 3 decimals', () => {
    fc.assert(
      fc.property(
        fc.array(line, { maxLength: 30 }),
        fc.array(rate, { minLength: 3, maxLength: 3 }),
        fc.option(rate),
        fc.boolean(),
        fc.constantFrom('EUR', 'JPY', 'KWD'),
        (list, rates, second, compound, currency) => {
          const digits = digitsOf(currency);
          const lines = list.map((one) => ({ amount: new D(one.amount).div(new D(10).pow(digits)), tax: one.tax }));
          const further = second ? [{ category: 'second', rate: second, on: ['full', 'reduced'], compound }] : [];
          const totals = totalsOf(lines, new Map(categories.map((name, index) => [name, rates[index] ?? new D(0)])), currency, further);
          const printed = (amount: InstanceType<typeof D>) => new D(amount.toFixed(digits));
          const net = lines.reduce((sum, one) => sum.plus(printed(one.amount)), new D(0));
          expect(printed(totals.net).eq(net)).toBe(true);
          expect(printed(totals.gross).eq(totals.taxes.reduce((sum, tax) => sum.plus(printed(tax.tax)), net))).toBe(true);
          for (const tax of totals.taxes) expect(tax.tax.decimalPlaces()).toBeLessThanOrEqual(digits);
        },
      ),
    );
  });
  it('a second tax on top of the first, and one beside it (worked by hand)', () => {
    const lines = [{ amount: new D(100), tax: 'federal' }];
    const rates = new Map([['federal', new D(5)]]);
    const second = (compound: boolean) =>
      totalsOf(lines, rates, 'CAD', [{ category: 'provincial', rate: new D('9.975'), on: ['federal'], compound }]).gross.toFixed(2);
    expect([second(false), second(true)]).toEqual(['114.98', '115.47']);
  });
  it('selling prices by band, inclusive at the upper end', () => {
    const bands = [
      { upTo: new D(10), markup: new D(60) },
      { upTo: new D(100), markup: new D(35) },
      { upTo: null, markup: new D(20) },
    ];
    expect(['10.00', '10.01', '100.00', '250.00'].map((cost) => sellingPrice(new D(cost), bands, 'EUR').toFixed(2))).toEqual([
      '16.00',
      '13.51',
      '135.00',
      '300.00',
    ]);
  });
  it.each(['EUR', 'JPY', 'KWD'])('in the compiled demo jobs, in %s', (currency) => {
    const library = demoWith(['/shop/shop.yaml', 'currency: EUR', `currency: ${currency}`]);
    for (const id of library.jobs.keys()) {
      const { quote } = compiled(library, id);
      const sum = (amounts: readonly string[]) => amounts.reduce((total, one) => total.plus(one), new D(0));
      expect(sum(quote.lines.map((one) => one.amount)).eq(quote.net), id).toBe(true);
      expect(
        sum(quote.taxes.map((one) => one.amount))
          .plus(quote.net)
          .eq(quote.gross),
        id,
      ).toBe(true);
    }
  });
  it('discounts and fees are lines like others', () => {
    const library = demoWith(
      [
        '/shop/jobs/2045-front-brakes.yaml',
        'road-test:',
        'discounts:\n  - { says: Fleet discount, rate: 5 %, on: all }\n  - { says: Goodwill, amount: 10.00, on: parts }\nroad-test:',
      ],
      ['/shop/shop.yaml', 'authority:', 'fees: { environment: { says: Environment charge, amount: 4.50 } }\nauthority:'],
    );
    const { quote } = compiled(library, '2045-front-brakes');
    const amounts = Object.fromEntries(quote.lines.map((one) => [one.label, one.amount]));
    expect(amounts).toMatchObject({ 'Environment charge': '4.50', Goodwill: '-10.00' });
    // 5 % of all lines above it: 156.00 + 134.10 + 3.90 + 4.50 = 298.50, so 14.93 (half up).
    expect(amounts['Fleet discount (5 %)']).toBe('-14.93');
  });
});
