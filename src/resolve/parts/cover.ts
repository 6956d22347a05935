import type { Decimal } from 'decimal.js';
import { D } from '../../quantity/units.js';

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
  readonly picks: readonly Single[];
}

/**
 * The cheapest set of offers that covers a demand: an integer optimum. Among equally cheap sets the one with the fewest
 * leftovers, then the smallest ids. Offers of one item are combined by dynamic programming; offers of several items
 * (kits) by branch and bound, with the cost of what remains as the bound.
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

class Solver {
  private readonly items: string[];
  private readonly kits: { id: string; price: number; contains: number[] }[];
  private readonly singles: Single[][];
  private readonly tables: (SinglePlan | null)[][] = [];
  /** For each item, the least that one piece can cost as a share of any offer: a bound where no single exists. */
  private readonly share: number[];
  private readonly best: Best = { cost: Number.POSITIVE_INFINITY, over: 0, key: '', picks: null };

  constructor(
    private readonly wanted: ReadonlyMap<string, number>,
    offers: readonly Offer[],
  ) {
    this.items = [...wanted.keys()].sort();
    const at = new Map(this.items.map((item, index) => [item, index]));
    this.kits = [];
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
        this.kits.push({ id: offer.id, price, contains });
      }
    }
    this.kits.sort(
      (a, b) =>
        b.contains.filter((n) => n > 0).length - a.contains.filter((n) => n > 0).length || a.price - b.price || (a.id < b.id ? -1 : 1),
    );
    this.share = this.items.map((item, index) => {
      const alone = Math.min(...(this.singles[index] ?? []).map((one) => one.price / one.pieces), Number.POSITIVE_INFINITY);
      const inKit = Math.min(
        ...this.kits.filter((kit) => (kit.contains[index] ?? 0) > 0).map((kit) => this.fairShare(kit, index)),
        Number.POSITIVE_INFINITY,
      );
      return Math.min(alone, inKit) * (this.wanted.has(item) ? 1 : 0);
    });
  }

  /** A kit's price, spread over what it can serve: never more than the item really costs in it. */
  private fairShare(kit: { price: number; contains: number[] }, _index: number): number {
    const served = this.items.reduce((sum, item, i) => sum + Math.min(kit.contains[i] ?? 0, this.wanted.get(item) ?? 0), 0);
    return served > 0 ? kit.price / served : Number.POSITIVE_INFINITY;
  }

  solve(): Map<string, number> | null {
    const rest = this.items.map((item) => this.wanted.get(item) ?? 0);
    this.branch(0, rest, 0, new Map());
    return this.best.picks;
  }

  private branch(index: number, rest: number[], cost: number, picked: Map<string, number>): void {
    if (cost + this.bound(rest, index) > this.best.cost) return;
    const kit = this.kits[index];
    if (!kit) {
      this.finish(rest, cost, picked);
      return;
    }
    const most = Math.max(0, ...kit.contains.map((pieces, i) => (pieces > 0 ? Math.ceil(Math.max(0, rest[i] ?? 0) / pieces) : 0)));
    for (let count = Math.min(most, 1000); count >= 0; count--) {
      const next = count === 0 ? rest : rest.map((need, i) => need - (kit.contains[i] ?? 0) * count);
      const chosen = count === 0 ? picked : new Map(picked).set(kit.id, count);
      this.branch(index + 1, next, cost + kit.price * count, chosen);
    }
  }

  /** No cover of what remains can be cheaper than this. */
  private bound(rest: readonly number[], from: number): number {
    let sum = 0;
    rest.forEach((need, i) => {
      if (need <= 0) return;
      const later = this.kits.slice(from).some((kit) => (kit.contains[i] ?? 0) > 0);
      if (later) sum += (this.share[i] ?? 0) * need;
      else sum += this.cheapestSingles(i, need)?.cost ?? Number.POSITIVE_INFINITY;
    });
    return sum - 1e-6 * Math.abs(sum);
  }

  private finish(rest: readonly number[], cost: number, picked: ReadonlyMap<string, number>): void {
    let total = cost;
    let over = 0;
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
      for (const pick of plan.picks) picks.set(pick.id, (picks.get(pick.id) ?? 0) + 1);
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
    if (singles.length === 0) return null;
    const step = singles.reduce((divisor, one) => greatestDivisor(divisor, one.pieces), 0);
    const units = Math.ceil(need / step);
    let table = this.tables[index];
    if (!table) {
      table = [{ cost: 0, over: 0, picks: [] }];
      this.tables[index] = table;
    }
    for (let n = table.length; n <= units; n++) {
      let best: SinglePlan | null = null;
      for (const single of singles) {
        const size = single.pieces / step;
        const before = table[Math.max(0, n - size)];
        if (!before) continue;
        const plan: SinglePlan = {
          cost: before.cost + single.price,
          over: before.over + Math.max(0, size - n),
          picks: [...before.picks, single],
        };
        if (!best || plan.cost < best.cost || (plan.cost === best.cost && plan.over < best.over)) best = plan;
      }
      table[n] = best;
    }
    const plan = table[units] ?? null;
    return plan && { ...plan, over: plan.over * step + (units * step - need) };
  }
}

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));
