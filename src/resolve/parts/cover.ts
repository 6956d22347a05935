import type { Decimal } from 'decimal.js';
import { once } from '../../once.js';
import { D } from '../../quantity/units.js';
import { type Relaxed, relax } from './relaxation.js';

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
  /** How much cheaper another set might be at most, as a share of the cost: 0 where this is proved to be the cheapest. */
  readonly doubt: number;
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
 * (kits) by branch and bound, with the linear relaxation as the bound. Among hundreds of kits that overlap the search
 * stops after a while, with the best that it found.
 * @param demand items with how many, whole numbers ≥ 0
 */
export function cheapestCover(demand: ReadonlyMap<string, number>, offers: readonly Offer[]): CoverResult {
  const wanted = new Map([...demand].filter(([, count]) => count > 0));
  const useful = cheapestOfEach(offers.filter(({ contains }) => [...contains].some(([item, pieces]) => pieces > 0 && wanted.has(item))));
  const missing = [...wanted.keys()].filter((item) => !useful.some(({ contains }) => (contains.get(item) ?? 0) > 0));
  if (missing.length > 0) return { ok: false, missing };

  const { picks, doubt } = new Solver(wanted, useful).solve();
  if (!picks) return { ok: false, missing: [...wanted.keys()] };
  const named = new Map(useful.map((offer) => [offer.id, offer]));
  const bought = new Map<string, number>();
  for (const [id, count] of picks) bought.set(id, count);
  const leftovers = new Map<string, number>();
  let cost = new D(0);
  for (const [id, count] of bought) {
    const offer = named.get(id);
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
      doubt,
    },
  };
}

const byId = (a: Offer, b: Offer): number => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/** Of offers with the same contents the cheapest, and of those the one with the smallest id; in the order of their ids. */
function cheapestOfEach(offers: readonly Offer[]): Offer[] {
  const best = new Map<string, Offer>();
  for (const offer of [...offers].sort(byId)) {
    const contents = [...offer.contains]
      .map(([item, pieces]) => `${item}×${pieces}`)
      .sort()
      .join(' ');
    const known = best.get(contents);
    if (!known || offer.price.lt(known.price)) best.set(contents, offer);
  }
  return [...best.values()].sort(byId);
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
  /** What of it is wanted, by number of the item. */
  readonly contains: readonly (readonly [item: number, pieces: number])[];
  /** Pieces in it that nobody wants. */
  readonly unwanted: number;
}

/** Steps of the search in which ties are still told apart; the cost is proved long before. */
const patience = 20_000;

/** Numbers computed by relaxations until the search stops, a second or so; and how deep it goes. */
const mostWork = 500_000_000;
const deepest = 1000;

class Solver {
  private readonly items: string[];
  private readonly kits: Kit[] = [];
  private readonly singles: Single[][];
  private readonly tables: Table[] = [];
  /** By item: what so many pieces of it cost without kits. */
  private readonly costs: Map<number, number>[] = [];
  private readonly best: Best = { cost: Number.POSITIVE_INFINITY, over: 0, key: '', picks: null };
  private steps = 0;
  private work = 0;
  private stopped = false;
  /** No cover is cheaper than this. */
  private least = 0;

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
      else
        this.kits.push({
          id: offer.id,
          price,
          contains: used.map(([item, pieces]) => [at.get(item) ?? 0, pieces]),
          unwanted: [...offer.contains].reduce((sum, [item, pieces]) => sum + (at.has(item) ? 0 : pieces), 0),
        });
    }
    this.kits.sort((a, b) => b.contains.length - a.contains.length || a.price - b.price || (a.id < b.id ? -1 : 1));
  }

  solve(): { readonly picks: ReadonlyMap<string, number> | null; readonly doubt: number } {
    const all = this.items.map((item) => this.wanted.get(item) ?? 0);
    // Without kits, where that can be done: something to be better than.
    this.finish(all, 0, new Map());
    this.branch(this.kits, all, 0, new Map());
    const { picks, cost } = this.best;
    return { picks, doubt: this.stopped && cost > 0 ? Math.max(0, 1 - this.least / cost) : 0 };
  }

  /** Decides how many of one kit are bought, then the rest; a branch that cannot be cheaper is cut. */
  private branch(kits: readonly Kit[], rest: readonly number[], cost: number, picked: ReadonlyMap<string, number>, depth = 0): void {
    if (this.best.picks && (this.work > mostWork || depth > deepest)) {
      this.stopped = true;
      return;
    }
    this.steps++;
    const serving = kits.filter((kit) => kit.contains.some(([i]) => (rest[i] ?? 0) > 0));
    const { bound, amounts, dearer, work } = this.bound(rest, serving);
    this.work += work;
    if (this.steps === 1) this.least = bound;
    const floor = cost + bound - 1e-9 * Math.abs(cost + bound);
    if (floor > this.best.cost || (this.steps > patience && floor > this.best.cost - 0.5)) return;
    // What would make every cover dearer than the best that is known is in none.
    const slack = this.best.cost - floor;
    const useful = serving.map((_, index) => index).filter((index) => (dearer[index] ?? 0) <= slack);
    if (useful.length === 0) {
      this.finish(rest, cost, picked);
      return;
    }
    // The kit that the relaxation is least sure of; of those it leaves whole, the first that it buys.
    const doubt = (index: number) => Math.abs((amounts[index] ?? 0) - Math.round(amounts[index] ?? 0));
    const order = useful.toSorted((a, b) => doubt(b) - doubt(a) || (amounts[b] ?? 0) - (amounts[a] ?? 0) || a - b);
    const chosen = order[0] ?? 0;
    const kit = serving[chosen];
    if (!kit) return;
    const likely = amounts[chosen] ?? 0;
    const others = useful.flatMap((index) => (index === chosen ? [] : (serving[index] ?? [])));
    const most = Math.max(0, ...kit.contains.map(([i, pieces]) => Math.ceil((rest[i] ?? 0) / pieces)));
    const counts = Array.from({ length: Math.min(most, 1000) + 1 }, (_, count) => count).sort(
      (a, b) => Math.abs(a - likely) - Math.abs(b - likely) || b - a,
    );
    for (const count of counts) {
      const next = [...rest];
      for (const [i, pieces] of kit.contains) next[i] = (next[i] ?? 0) - pieces * count;
      this.branch(others, next, cost + kit.price * count, count === 0 ? picked : new Map(picked).set(kit.id, count), depth + 1);
    }
  }

  /**
   * No cover of what remains can be cheaper than this: exact for items that no kit serves any more, the linear
   * relaxation for the others.
   */
  private bound(rest: readonly number[], kits: readonly Kit[]): Relaxed {
    /** Items that kits serve, and their places among those. */
    const open: number[] = [];
    const places = new Map<number, number>();
    for (const kit of kits)
      for (const [i] of kit.contains) {
        if ((rest[i] ?? 0) <= 0 || places.has(i)) continue;
        places.set(i, open.length);
        open.push(i);
      }
    let sum = 0;
    for (let i = 0; i < rest.length; i++) if ((rest[i] ?? 0) > 0 && !places.has(i)) sum += this.costOfSingles(i, rest[i] ?? 0);
    if (open.length === 0 || sum === Number.POSITIVE_INFINITY) return { bound: sum, amounts: [], dearer: [], work: 0 };
    const wanted = (i: number, pieces: number): number => Math.min(pieces, rest[i] ?? 0);
    const relaxed = relax(
      open.map((i) => rest[i] ?? 0),
      open.map((i) => Math.min(...(this.singles[i] ?? []).map((one) => one.price / wanted(i, one.pieces)))),
      kits.map(({ price, contains }) => ({
        price,
        contains: contains.flatMap(([i, pieces]) => (places.has(i) ? [[places.get(i) ?? 0, wanted(i, pieces)] as const] : [])),
      })),
    );
    return { ...relaxed, bound: sum + relaxed.bound };
  }

  /** What so many pieces of an item cost without kits; the same is asked in thousands of steps. */
  private costOfSingles(index: number, need: number): number {
    let known = this.costs[index];
    if (!known) {
      known = new Map();
      this.costs[index] = known;
    }
    return once(known, need, () => this.cheapestSingles(index, need)?.cost ?? Number.POSITIVE_INFINITY);
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
