import type { Decimal } from 'decimal.js';
import { D } from '../../quantity/units.js';
import { relax } from './relaxation.js';

/** Something that can be bought: items with how many (pieces, or millilitres of a fluid) and a price. */
export interface Offer {
  readonly id: string;
  readonly price: Decimal;
  readonly contains: ReadonlyMap<string, number>;
}

export interface Cover {
  readonly cost: Decimal;
  /** Offers bought, with how many, by id. */
  readonly buy: readonly { readonly id: string; readonly count: number }[];
  readonly leftovers: ReadonlyMap<string, number>;
}

export type CoverResult = { readonly ok: true; readonly cover: Cover } | { readonly ok: false; readonly missing: readonly string[] };

/** Prices are compared as whole numbers of this many parts of the currency unit. */
const scale = 1_000_000;

interface Single {
  readonly id: string;
  readonly price: number;
  readonly pieces: number;
}

/** Cost and leftovers of covering some pieces of one item by single offers only. */
interface SinglePlan {
  readonly cost: number;
  readonly over: number;
  /** How many of each, by id. */
  readonly picks: ReadonlyMap<string, number>;
}

/** The cheapest way to each number of units of one item, made as far as it was asked for. */
interface Table {
  /** By number of units; infinite where there is no way. */
  readonly cost: number[];
  readonly over: number[];
  /** The offer that is bought last on the way. */
  readonly last: (Single | null)[];
}

/** More units than these are begun with the pack that is cheapest by the unit, as every cheapest way to so many is. */
const mostUnits = 200_000;

/**
 * The cheapest set of offers that covers a demand: an integer optimum. Among equally cheap sets the one with the fewest
 * leftovers, then the smallest ids. Offers of one item are combined by dynamic programming; offers of several items
 * (kits) by branch and bound, with the linear relaxation as the bound.
 * @param demand items with how many, whole numbers ≥ 0
 */
export function cheapestCover(demand: ReadonlyMap<string, number>, offers: readonly Offer[]): CoverResult {
  const wanted = new Map([...demand].filter(([, count]) => count > 0));
  const useful = offers
    .map((offer) => ({ offer, items: [...offer.contains].filter(([item, pieces]) => wanted.has(item) && pieces > 0) }))
    .filter(({ items }) => items.length > 0)
    .sort((a, b) => (a.offer.id < b.offer.id ? -1 : a.offer.id > b.offer.id ? 1 : 0));
  const missing = [...wanted.keys()].filter((item) => !useful.some(({ items }) => items.some(([name]) => name === item)));
  if (missing.length > 0) return { ok: false, missing };

  const solver = new Solver(
    wanted,
    useful.map(({ offer }) => offer),
  );
  const picks = solver.solve();
  if (!picks) return { ok: false, missing: [...wanted.keys()] };
  const byId = new Map(offers.map((offer) => [offer.id, offer]));
  const bought = new Map<string, number>();
  for (const [id, count] of picks) bought.set(id, count);
  const leftovers = new Map<string, number>();
  let cost = new D(0);
  for (const [id, count] of bought) {
    const offer = byId.get(id);
    if (!offer) continue;
    cost = cost.plus(offer.price.times(count));
    for (const [item, pieces] of offer.contains) leftovers.set(item, (leftovers.get(item) ?? 0) + pieces * count);
  }
  for (const [item, count] of wanted) leftovers.set(item, (leftovers.get(item) ?? 0) - count);
  return {
    ok: true,
    cover: {
      cost,
      buy: [...bought].map(([id, count]) => ({ id, count })),
      leftovers: new Map([...leftovers].filter(([, count]) => count > 0)),
    },
  };
}

interface Best {
  cost: number;
  over: number;
  key: string;
  picks: Map<string, number> | null;
}

interface Kit {
  readonly id: string;
  readonly price: number;
  readonly contains: readonly number[];
  /** Pieces in it that nobody wants. */
  readonly unwanted: number;
}

/** Steps of the search in which ties are still told apart; the cost is proved long before. */
const patience = 20_000;

class Solver {
  private readonly items: string[];
  private readonly kits: Kit[] = [];
  private readonly singles: Single[][];
  private readonly tables: Table[] = [];
  private readonly best: Best = { cost: Number.POSITIVE_INFINITY, over: 0, key: '', picks: null };
  private steps = 0;

  constructor(
    private readonly wanted: ReadonlyMap<string, number>,
    offers: readonly Offer[],
  ) {
    this.items = [...wanted.keys()].sort();
    const at = new Map(this.items.map((item, index) => [item, index]));
    this.singles = this.items.map(() => []);
    for (const offer of offers) {
      const price = offer.price.times(scale).round().toNumber();
      const used = [...offer.contains].filter(([item, pieces]) => at.has(item) && pieces > 0);
      const [only] = used;
      if (used.length === 1 && only && offer.contains.size === 1)
        this.singles[at.get(only[0]) ?? 0]?.push({ id: offer.id, price, pieces: only[1] });
      else {
        const contains = this.items.map(() => 0);
        for (const [item, pieces] of used) contains[at.get(item) ?? 0] = pieces;
        this.kits.push({
          id: offer.id,
          price,
          contains,
          unwanted: [...offer.contains].reduce((sum, [item, pieces]) => sum + (at.has(item) ? 0 : pieces), 0),
        });
      }
    }
    this.kits.sort(
      (a, b) =>
        b.contains.filter((n) => n > 0).length - a.contains.filter((n) => n > 0).length || a.price - b.price || (a.id < b.id ? -1 : 1),
    );
  }

  solve(): Map<string, number> | null {
    this.branch(
      this.kits,
      this.items.map((item) => this.wanted.get(item) ?? 0),
      0,
      new Map(),
    );
    return this.best.picks;
  }

  /** Decides how many of one kit are bought, then the rest; a branch that cannot be cheaper is cut. */
  private branch(kits: readonly Kit[], rest: readonly number[], cost: number, picked: ReadonlyMap<string, number>): void {
    this.steps++;
    const useful = kits.filter((kit) => kit.contains.some((pieces, i) => pieces > 0 && (rest[i] ?? 0) > 0));
    const { bound, amounts } = this.bound(rest, useful);
    const floor = cost + bound - 1e-9 * Math.abs(cost + bound);
    if (floor > this.best.cost || (this.steps > patience && floor > this.best.cost - 0.5)) return;
    if (useful.length === 0) {
      this.finish(rest, cost, picked);
      return;
    }
    // The kit that the relaxation is least sure of; of those it leaves whole, the first that it buys.
    const doubt = (index: number) => Math.abs((amounts[index] ?? 0) - Math.round(amounts[index] ?? 0));
    const order = useful.map((_, index) => index).sort((a, b) => doubt(b) - doubt(a) || (amounts[b] ?? 0) - (amounts[a] ?? 0) || a - b);
    const chosen = order[0] ?? 0;
    const kit = useful[chosen];
    if (!kit) return;
    const likely = amounts[chosen] ?? 0;
    const others = useful.filter((one) => one !== kit);
    const most = Math.max(0, ...kit.contains.map((pieces, i) => (pieces > 0 ? Math.ceil(Math.max(0, rest[i] ?? 0) / pieces) : 0)));
    const counts = Array.from({ length: Math.min(most, 1000) + 1 }, (_, count) => count).sort(
      (a, b) => Math.abs(a - likely) - Math.abs(b - likely) || b - a,
    );
    for (const count of counts) {
      const next = count === 0 ? rest : rest.map((need, i) => need - (kit.contains[i] ?? 0) * count);
      this.branch(others, next, cost + kit.price * count, count === 0 ? picked : new Map(picked).set(kit.id, count));
    }
  }

  /**
   * No cover of what remains can be cheaper than this: exact for items that no kit serves any more, the linear
   * relaxation for the others.
   */
  private bound(rest: readonly number[], kits: readonly Kit[]): { readonly bound: number; readonly amounts: readonly number[] } {
    let sum = 0;
    const open: number[] = [];
    rest.forEach((need, i) => {
      if (need <= 0) return;
      if (kits.some((kit) => (kit.contains[i] ?? 0) > 0)) open.push(i);
      else sum += this.cheapestSingles(i, need)?.cost ?? Number.POSITIVE_INFINITY;
    });
    if (open.length === 0 || sum === Number.POSITIVE_INFINITY) return { bound: sum, amounts: [] };
    const columns = [
      ...kits.map((kit) => ({ price: kit.price, contains: open.map((i) => Math.min(kit.contains[i] ?? 0, rest[i] ?? 0)) })),
      ...open.flatMap((i, place) =>
        (this.singles[i] ?? []).map((one) => ({
          price: one.price,
          contains: open.map((_, at) => (at === place ? Math.min(one.pieces, rest[i] ?? 0) : 0)),
        })),
      ),
    ];
    const relaxed = relax(
      open.map((i) => rest[i] ?? 0),
      columns,
    );
    return { bound: sum + relaxed.bound, amounts: relaxed.amounts };
  }

  private finish(rest: readonly number[], cost: number, picked: ReadonlyMap<string, number>): void {
    let total = cost;
    let over = this.kits.reduce((sum, kit) => sum + kit.unwanted * (picked.get(kit.id) ?? 0), 0);
    const picks = new Map(picked);
    for (let i = 0; i < rest.length; i++) {
      const need = rest[i] ?? 0;
      if (need <= 0) {
        over -= need;
        continue;
      }
      const plan = this.cheapestSingles(i, need);
      if (!plan) return;
      total += plan.cost;
      over += plan.over;
      for (const [id, count] of plan.picks) picks.set(id, (picks.get(id) ?? 0) + count);
    }
    if (total > this.best.cost) return;
    const key = [...picks]
      .map(([id, count]) => `${id}×${count}`)
      .sort()
      .join(' ');
    const better = total < this.best.cost || over < this.best.over || (over === this.best.over && key < this.best.key);
    if (!better) return;
    this.best.cost = total;
    this.best.over = over;
    this.best.key = key;
    this.best.picks = picks;
  }

  /** Unbounded knapsack over the single offers of one item; steps of their common divisor keep volumes small. */
  private cheapestSingles(index: number, need: number): SinglePlan | null {
    const singles = this.singles[index] ?? [];
    const [first] = singles;
    if (!first) return null;
    const step = singles.reduce((divisor, one) => greatestDivisor(divisor, one.pieces), 0);
    const units = Math.ceil(need / step);
    const bulk = singles.reduce((best, one) => (one.price * best.pieces < best.price * one.pieces ? one : best), first);
    const size = bulk.pieces / step;
    const whole = Math.max(0, Math.floor((units - mostUnits) / size));
    const begun = units - whole * size > 4 * mostUnits ? whole + 1 : whole;
    const rest = Math.max(0, units - begun * size);
    const { cost, last } = this.tableOf(index, rest, singles, step);
    const way: Single[] = [];
    for (let n = rest, pick = last[n]; n > 0 && pick; pick = last[n]) {
      way.push(pick);
      n = Math.max(0, n - pick.pieces / step);
    }
    const picks = new Map<string, number>(begun > 0 ? [[bulk.id, begun]] : []);
    for (const { id } of way.reverse()) picks.set(id, (picks.get(id) ?? 0) + 1);
    const bought = [...picks].reduce((sum, [id, count]) => sum + count * (singles.find((one) => one.id === id)?.pieces ?? 0), 0);
    return { cost: (cost[rest] ?? Number.POSITIVE_INFINITY) + begun * bulk.price, over: bought - need, picks };
  }

  private tableOf(index: number, units: number, singles: readonly Single[], step: number): Table {
    let table = this.tables[index];
    if (!table) {
      table = { cost: [0], over: [0], last: [null] };
      this.tables[index] = table;
    }
    const { cost, over, last } = table;
    for (let n = cost.length; n <= units; n++) {
      cost[n] = Number.POSITIVE_INFINITY;
      for (const single of singles) {
        const size = single.pieces / step;
        const before = Math.max(0, n - size);
        const price = (cost[before] ?? Number.POSITIVE_INFINITY) + single.price;
        const left = (over[before] ?? 0) + Math.max(0, size - n);
        if (price > (cost[n] ?? 0) || (price === cost[n] && left >= (over[n] ?? 0))) continue;
        cost[n] = price;
        over[n] = left;
        last[n] = single;
      }
    }
    return table;
  }
}

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));
