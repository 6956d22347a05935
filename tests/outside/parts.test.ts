// Against something outside the project; the source stands beside each check.
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { D } from '../../src/quantity/units.js';
import { cheapestCover, type Offer } from '../../src/resolve/parts/cover.js';
import { projectFolder } from '../helpers/shop.js';

it('cover instances: the optimum that brute force and two solvers found (tests/reference/cover_instances.json)', () => {
  const instances: {
    name: string;
    brute: number | null;
    highs: number;
    instance?: { items: { name: string; cost: number; provides: Record<string, number> }[]; demand: Record<string, number> };
  }[] = JSON.parse(fs.readFileSync(path.join(projectFolder, 'tests/reference/cover_instances.json'), 'utf8'));
  expect(instances.filter((one) => one.instance)).not.toHaveLength(0);
  for (const { name, highs, instance } of instances) {
    if (!instance) continue;
    const result = cheapestCover(
      new Map(Object.entries(instance.demand)),
      instance.items.map((item) => ({ id: item.name, price: new D(item.cost), contains: new Map(Object.entries(item.provides)) })),
    );
    expect(result.ok && result.cover.cost.toNumber(), name).toBeCloseTo(highs, 4);
  }
});

describe('the cheapest cover on random instances', async () => {
  const { default: highsLoader } = await import('highs');
  const highs = await highsLoader();

  /** The same problem as a mixed-integer programme, solved by HiGHS. */
  function byHighs(demand: ReadonlyMap<string, number>, offers: readonly Offer[]): number | null {
    const rows = [...demand].map(([item, count]) => {
      const terms = offers.flatMap((offer, index) => (offer.contains.get(item) ? [`${offer.contains.get(item)} x${index}`] : []));
      return terms.length > 0 ? ` c_${item}: ${terms.join(' + ')} >= ${count}` : null;
    });
    if (rows.includes(null)) return null;
    const names = offers.map((_, index) => `x${index}`);
    const model = `Minimize\n obj: ${offers.map((offer, index) => `${offer.price} x${index}`).join(' + ')}\nSubject To\n${rows.join('\n')}\nBounds\n${names.map((name) => ` 0 <= ${name} <= 1000`).join('\n')}\nGeneral\n ${names.join(' ')}\nEnd`;
    const result = highs.solve(model, { mip_rel_gap: 0, mip_abs_gap: 0 });
    return result.Status === 'Optimal' ? result.ObjectiveValue : null;
  }

  const instance = fc.record({
    demand: fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 1, maxLength: 12 }),
    singles: fc.array(
      fc.record({ item: fc.nat(11), pieces: fc.constantFrom(1, 1, 2, 4, 5, 10), price: fc.integer({ min: 50, max: 9000 }) }),
      { minLength: 4, maxLength: 24 },
    ),
    kits: fc.array(
      fc.record({
        items: fc.array(fc.tuple(fc.nat(11), fc.integer({ min: 1, max: 4 })), { minLength: 2, maxLength: 6 }),
        price: fc.integer({ min: 500, max: 20_000 }),
      }),
      { maxLength: 6 },
    ),
  });

  it('is as cheap as what a MIP solver of the registry finds (highs)', () => {
    fc.assert(
      fc.property(instance, ({ demand, singles, kits }) => {
        const wanted = new Map(demand.map((count, index) => [`i${index}`, count]));
        const offers: Offer[] = [
          ...singles.map((one, index) => ({
            id: `s${String(index).padStart(2, '0')}`,
            price: new D(one.price),
            contains: new Map([[`i${one.item}`, one.pieces]]),
          })),
          ...kits.map((one, index) => ({
            id: `k${index}`,
            price: new D(one.price),
            contains: new Map(one.items.map(([item, count]) => [`i${item}`, count])),
          })),
        ];
        const ours = cheapestCover(wanted, offers);
        const theirs = byHighs(wanted, offers);
        if (theirs === null) expect(ours.ok).toBe(false);
        else expect(ours.ok && ours.cover.cost.toNumber()).toBeCloseTo(theirs, 3);
      }),
      { numRuns: 80, seed: 7 },
    );
  });
});
