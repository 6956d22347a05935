// Against something outside the project; the source stands beside each check.
import type { Highs } from 'highs';
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { D } from '../../src/quantity/units.js';
import { cheapestCover, type Offer } from '../../src/resolve/parts/cover.js';
import { relax } from '../../src/resolve/parts/relaxation.js';
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

/** The solver as WebAssembly; its types do not say that the module itself is the loader. */
async function loadHighs(): Promise<Highs> {
  const loaded: unknown = (await import('highs')).default;
  if (typeof loaded !== 'function') throw new Error('highs has changed its form');
  return loaded();
}

describe('the cheapest cover on random instances', async () => {
  const highs = await loadHighs();

  /** The same problem as a mixed-integer programme, or a linear one, solved by HiGHS. */
  function byHighs(demand: ReadonlyMap<string, number>, offers: readonly Offer[], kind: 'whole' | 'linear' = 'whole'): number | null {
    const rows = [...demand].map(([item, count]) => {
      const terms = offers.flatMap((offer, index) => (offer.contains.get(item) ? [`${offer.contains.get(item)} x${index}`] : []));
      return terms.length > 0 ? ` c_${item}: ${terms.join(' + ')} >= ${count}` : null;
    });
    if (rows.includes(null)) return null;
    const names = offers.map((_, index) => `x${index}`);
    const model = `Minimize\n obj: ${offers.map((offer, index) => `${offer.price} x${index}`).join(' + ')}\nSubject To\n${rows.join('\n')}\nBounds\n${names.map((name) => ` 0 <= ${name} <= 1000`).join('\n')}\n${kind === 'whole' ? `General\n ${names.join(' ')}\n` : ''}End`;
    const result = highs.solve(model, { mip_rel_gap: 0, mip_abs_gap: 0 });
    return result.Status === 'Optimal' ? result.ObjectiveValue : null;
  }

  it('its linear relaxation costs what an LP solver of the registry finds (highs), and its prices of columns are those of that optimum', () => {
    const problem = fc.record({
      demand: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 14 }),
      alone: fc.array(
        fc.oneof({ arbitrary: fc.integer({ min: 10, max: 900 }), weight: 4 }, { arbitrary: fc.constant(Infinity), weight: 1 }),
        {
          minLength: 14,
          maxLength: 14,
        },
      ),
      columns: fc.array(
        fc.record({
          price: fc.integer({ min: 20, max: 2500 }),
          contains: fc.uniqueArray(fc.tuple(fc.nat(13), fc.integer({ min: 1, max: 5 })), {
            minLength: 1,
            maxLength: 6,
            selector: ([item]) => item,
          }),
        }),
        { maxLength: 12 },
      ),
    });
    // In few problems is a piece of an item worth what it costs alone on the way to the best, and less in the end.
    const andBack = [
      {
        demand: [1, 8, 4],
        alone: [Infinity, 396, 333],
        columns: [
          { price: 2317, contains: [[1, 5] as [number, number], [2, 2] as [number, number]] },
          { price: 1414, contains: [[2, 2] as [number, number], [0, 2] as [number, number]] },
        ],
      },
    ];
    let finite = 0;
    let tooDear = 0;
    fc.assert(
      fc.property(problem, ({ demand, alone, columns: all }) => {
        const columns = all.map(({ price, contains }) => ({ price, contains: contains.filter(([item]) => item < demand.length) }));
        const ours = relax(demand, alone.slice(0, demand.length), columns);
        const offers: Offer[] = [
          ...columns.map(({ price, contains }, n) => ({
            id: `k${n}`,
            price: new D(price),
            contains: new Map(contains.map(([item, count]) => [`i${item}`, count])),
          })),
          ...demand.flatMap((_, n) =>
            alone[n] === Infinity ? [] : [{ id: `s${n}`, price: new D(alone[n] ?? 0), contains: new Map([[`i${n}`, 1]]) }],
          ),
        ];
        const wanted = new Map(demand.map((count, n) => [`i${n}`, count]));
        const theirs = offers.length === 0 ? null : byHighs(wanted, offers, 'linear');
        if (theirs === null) {
          expect(ours.bound).toBe(Infinity);
          return;
        }
        finite++;
        expect(ours.bound).toBeCloseTo(theirs, 4);
        // What it buys, with the rest alone, covers the demand at that cost (strong duality).
        const bought = ours.amounts.reduce((sum, amount, n) => sum + amount * (columns[n]?.price ?? 0), 0);
        const rest = demand.map((count, item) => {
          const got = columns.flatMap(({ contains }, n) =>
            contains.filter(([i]) => i === item).map(([, of]) => of * (ours.amounts[n] ?? 0)),
          );
          return Math.max(0, count - got.reduce((sum, one) => sum + one, 0));
        });
        const alsoAlone = rest.reduce((sum, count, item) => sum + (count > 1e-9 ? count * (alone[item] ?? 0) : 0), 0);
        expect(bought + alsoAlone).toBeCloseTo(theirs, 4);
        // It buys nothing that makes it dearer (complementary slackness).
        for (const [n, amount] of ours.amounts.entries()) expect(amount * (ours.dearer[n] ?? 0)).toBeCloseTo(0, 4);
        tooDear += ours.dearer.filter((one) => one > 1).length;
        // Whoever must buy one of a column pays at least so much more.
        for (const [n, dearer] of ours.dearer.entries()) {
          const left = new Map(wanted);
          for (const [item, count] of columns[n]?.contains ?? []) left.set(`i${item}`, Math.max(0, (left.get(`i${item}`) ?? 0) - count));
          const forced = (columns[n]?.price ?? 0) + (byHighs(left, offers, 'linear') ?? 0);
          expect(forced).toBeGreaterThanOrEqual(ours.bound + dearer - 1e-4);
        }
      }),
      { numRuns: 120, seed: 5, examples: andBack.map((one) => [one]) },
    );
    expect(finite).toBeGreaterThan(40);
    expect(tooDear).toBeGreaterThan(100);
  });

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

  it('stays an optimum for dozens of lines: as cheap as the MIP solver on 30 items with kits near the price of their singles', () => {
    const large = fc.record({
      demand: fc.array(fc.integer({ min: 1, max: 8 }), { minLength: 25, maxLength: 30 }),
      prices: fc.array(fc.integer({ min: 100, max: 6000 }), { minLength: 30, maxLength: 30 }),
      kits: fc.array(
        fc.record({
          items: fc.array(fc.tuple(fc.nat(24), fc.integer({ min: 1, max: 4 })), { minLength: 3, maxLength: 8 }),
          share: fc.integer({ min: 75, max: 105 }),
        }),
        { minLength: 6, maxLength: 10 },
      ),
    });
    fc.assert(
      fc.property(large, ({ demand, prices, kits }) => {
        const wanted = new Map(demand.map((count, index) => [`i${index}`, count]));
        const offers: Offer[] = [
          ...demand.map((_, index) => ({ id: `s${index}`, price: new D(prices[index] ?? 1), contains: new Map([[`i${index}`, 1]]) })),
          ...kits.map((kit, index) => {
            const contains = new Map(kit.items.map(([item, count]) => [`i${item}`, count]));
            const alone = [...contains].reduce((sum, [item, count]) => sum + count * (prices[Number(item.slice(1))] ?? 1), 0);
            return { id: `k${index}`, price: new D(Math.round((alone * kit.share) / 100)), contains };
          }),
        ];
        const ours = cheapestCover(wanted, offers);
        expect(ours.ok && ours.cover.cost.toNumber()).toBeCloseTo(byHighs(wanted, offers) ?? Number.NaN, 3);
      }),
      { numRuns: 15, seed: 11 },
    );
  });

  it('is what trying every combination finds, with the fewest leftovers among the cheapest', () => {
    const small = fc.record({
      demand: fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 3 }),
      offers: fc.array(
        fc.record({ contains: fc.array(fc.nat(3), { minLength: 3, maxLength: 3 }), price: fc.integer({ min: 1, max: 6 }) }),
        { minLength: 1, maxLength: 4 },
      ),
    });
    fc.assert(
      fc.property(small, ({ demand, offers: list }) => {
        const wanted = new Map(demand.map((count, index) => [`i${index}`, count]));
        const offers: Offer[] = list.map((one, index) => ({
          id: `o${index}`,
          price: new D(one.price),
          contains: new Map(one.contains.flatMap((pieces, item) => (pieces > 0 ? [[`i${item}`, pieces] as const] : []))),
        }));
        let best = { cost: Number.POSITIVE_INFINITY, over: 0 };
        const counts: number[] = offers.map(() => 0);
        const visit = (index: number) => {
          if (index < offers.length) {
            for (let count = 0; count <= 4; count++) {
              counts[index] = count;
              visit(index + 1);
            }
            return;
          }
          const got = (item: string) => offers.reduce((sum, offer, at) => sum + (offer.contains.get(item) ?? 0) * (counts[at] ?? 0), 0);
          if ([...wanted].some(([item, count]) => got(item) < count)) return;
          const cost = offers.reduce((sum, offer, at) => sum + offer.price.toNumber() * (counts[at] ?? 0), 0);
          const over = ['i0', 'i1', 'i2'].reduce((sum, item) => sum + got(item) - (wanted.get(item) ?? 0), 0);
          if (cost < best.cost || (cost === best.cost && over < best.over)) best = { cost, over };
        };
        visit(0);
        const ours = cheapestCover(wanted, offers);
        if (best.cost === Number.POSITIVE_INFINITY) expect(ours.ok).toBe(false);
        else if (ours.ok)
          expect([ours.cover.cost.toNumber(), [...ours.cover.leftovers.values()].reduce((sum, one) => sum + one, 0)]).toEqual([
            best.cost,
            best.over,
          ]);
        else expect.fail('no cover found');
      }),
      { numRuns: 150, seed: 5 },
    );
  });
});
