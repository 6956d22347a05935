// Against something outside the project; the source stands beside each check.
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { D } from '../../src/quantity/units.js';
import { digitsOf, roundMoney } from '../../src/resolve/price/money.js';
import { totalsOf } from '../../src/resolve/price/totals.js';
import { csv, projectFolder } from '../helpers/shop.js';

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
