import { once } from '../../once.js';

/** Work that one or more persons do, with time that passes by itself after it. Times in minutes. */
export interface Task {
  readonly id: string;
  /** Hands on it, ≥ 0. */
  readonly active: number;
  /** By itself afterwards (draining, curing); what comes after waits for it, the person does not. ≥ 0 */
  readonly passive: number;
  readonly persons: number;
  /** Active time where fewer persons are there than it asks for (with a jack instead of a second person). */
  readonly alone?: number;
  /** Tasks that must be over before, by id. */
  readonly after: readonly string[];
}

export interface Slot {
  readonly id: string;
  readonly start: number;
  /** When the hands are free again. */
  readonly end: number;
  /** When the unattended time is over too. */
  readonly done: number;
  /** Who works on it, from 1. */
  readonly by: readonly number[];
}

export interface Schedule {
  /** From the first hand on to the last thing done, minutes. */
  readonly length: number;
  readonly slots: readonly Slot[];
  /** Whether no shorter one exists: false where the search was given up. */
  readonly proven: boolean;
}

export interface CriticalPath {
  readonly length: number;
  readonly tasks: ReadonlyMap<string, { readonly earliest: number; readonly latest: number; readonly slack: number }>;
}

/** Tasks in an order in which each comes after those it waits for; null where they wait for each other in a circle. */
export function inOrder(tasks: readonly Task[]): Task[] | null {
  const known = new Map(tasks.map((task) => [task.id, task]));
  const done = new Set<string>();
  const order: Task[] = [];
  while (order.length < tasks.length) {
    const next = tasks.find((task) => !done.has(task.id) && task.after.every((id) => done.has(id) || !known.has(id)));
    if (!next) return null;
    done.add(next.id);
    order.push(next);
  }
  return order;
}

const timeOf = (task: Task, persons: number): number => (task.persons > persons ? (task.alone ?? task.active) : task.active);

/**
 * Earliest and latest starts as if there were any number of persons (critical path method, Kelley and Walker 1959).
 * @param persons how many there are, for tasks with a time of their own when done alone
 * @returns null where tasks wait for each other in a circle
 */
export function criticalPath(tasks: readonly Task[], persons = Number.POSITIVE_INFINITY): CriticalPath | null {
  const order = inOrder(tasks);
  if (!order) return null;
  const long = (task: Task) => timeOf(task, persons) + task.passive;
  const byId = new Map(tasks.map((task) => [task.id, task]));
  const followersOf = new Map<string, Task[]>(tasks.map((task) => [task.id, []]));
  for (const task of tasks) for (const id of task.after) followersOf.get(id)?.push(task);
  const earliest = new Map<string, number>();
  const finish = (id: string) => {
    const task = byId.get(id);
    return task ? (earliest.get(id) ?? 0) + long(task) : 0;
  };
  for (const task of order) earliest.set(task.id, Math.max(0, ...task.after.map(finish)));
  const length = order.reduce((longest, task) => Math.max(longest, finish(task.id)), 0);
  const latest = new Map<string, number>();
  for (const task of [...order].reverse()) {
    const followers = followersOf.get(task.id) ?? [];
    latest.set(task.id, followers.reduce((first, one) => Math.min(first, latest.get(one.id) ?? length), length) - long(task));
  }
  return {
    length,
    tasks: new Map(
      order.map((task) => {
        const [early, late] = [earliest.get(task.id) ?? 0, latest.get(task.id) ?? 0];
        return [task.id, { earliest: early, latest: late, slack: late - early }];
      }),
    ),
  };
}

/** The search is given up after it has looked at this many tasks, again and again, in a tenth of a second; what a job has needs some ten thousand. */
const patience = 3_000_000;
/** More tasks than these are set in a good order, and no better one is searched for. */
const mostSearched = 60;

/**
 * The shortest schedule for a number of persons: branch and bound over the starts in order of time, each task as early
 * as it can. (For such a measure an active schedule is optimal, and every active schedule is found this way.)
 * @param persons 1, 2 or 3
 * @returns null where tasks wait for each other in a circle
 */
export function shortestSchedule(tasks: readonly Task[], persons: number): Schedule | null {
  const order = inOrder(tasks);
  const path = criticalPath(tasks, persons);
  if (!order || !path) return null;
  const figures = figuresOf(order, path, persons);
  if (order.length > mostSearched) return inGoodOrder(order, figures, persons);
  const { length, starts, proven } = new Search(figures, persons).shortest();
  return { length, slots: slotsOf(order, starts, figures, persons), proven };
}

/** Tasks by their places in an order. */
interface Figures {
  readonly active: readonly number[];
  readonly passive: readonly number[];
  /** Persons, as far as there are so many. */
  readonly needed: readonly number[];
  /** Those that must be over before each. */
  readonly before: readonly (readonly number[])[];
  /** From the start of each to the end of all that waits for it. */
  readonly tail: readonly number[];
}

function figuresOf(order: readonly Task[], path: CriticalPath, persons: number): Figures {
  const index = new Map(order.map((task, at) => [task.id, at]));
  return {
    active: order.map((task) => timeOf(task, persons)),
    passive: order.map((task) => task.passive),
    needed: order.map((task) => Math.min(task.persons, persons)),
    before: order.map((task) => [...new Set(task.after)].flatMap((id) => index.get(id) ?? [])),
    tail: order.map((task) => path.length - (path.tasks.get(task.id)?.latest ?? 0)),
  };
}

/** A time by which no task can begin any more: it has begun. */
const begun = -1;

/** The search itself. It looks at hundreds of ways through a job of a few dozen operations, so it goes by plain loops. */
class Search {
  private best = Number.POSITIVE_INFINITY;
  private bestStarts: readonly number[] = [];
  private steps = 0;
  private readonly started: number[];
  /** How many of those that each waits for have not begun, and when the last of the others is over. */
  private readonly waiting: number[];
  private readonly since: number[];
  private readonly after: readonly (readonly number[])[];
  private readonly bits: readonly bigint[];
  /** When what has not begun can begin, on the way that is looked at; of the same set of tasks these are the same in number. */
  private readonly times: number[] = [];
  /** For each set of tasks that have begun, the ways to it that no other one covers. */
  private readonly seen = new Map<bigint, number[][]>();

  constructor(
    private readonly figures: Figures,
    private readonly persons: number,
  ) {
    const { active, before } = figures;
    this.started = active.map(() => begun);
    this.waiting = before.map((those) => those.length);
    this.since = active.map(() => 0);
    this.after = active.map((_, at) => before.flatMap((those, one) => (those.includes(at) ? [one] : [])));
    this.bits = active.map((_, at) => 1n << BigInt(at));
  }

  shortest(): { readonly length: number; readonly starts: readonly number[]; readonly proven: boolean } {
    this.visit(0n, 0, new Array(this.persons).fill(0), 0, 0);
    return { length: this.best, starts: this.bestStarts, proven: this.steps <= patience };
  }

  /**
   * @param mask the tasks that have begun, a bit each
   * @param free when each person is free, the first one first
   * @param now when the last task began: none begins before it
   * @param over when all that has begun is over
   */
  private visit(mask: bigint, count: number, free: readonly number[], now: number, over: number): void {
    const { active, needed, tail } = this.figures;
    const all = active.length;
    this.steps += all;
    if (this.steps > patience) return;
    if (count === all) {
      if (over >= this.best) return;
      this.best = over;
      this.bestStarts = [...this.started];
      return;
    }
    const { times } = this;
    times.length = 0;
    times.push(now, over);
    let hands = 0; // person-minutes, those that are spoken for and those that are still to do
    for (const one of free) {
      const available = Math.max(one, now);
      times.push(available);
      hands += available;
    }
    let bound = over;
    for (let at = 0; at < all; at++) {
      if (this.started[at] !== begun) continue;
      const ready = Math.max(now, this.since[at] ?? 0);
      times.push(ready);
      bound = Math.max(bound, ready + (tail[at] ?? 0));
      hands += (active[at] ?? 0) * (needed[at] ?? 1);
    }
    bound = Math.max(bound, hands / this.persons);
    if (bound >= this.best - 1e-9 || this.isCovered(mask)) return;
    for (const { at, start } of this.candidates(free, now)) {
      const busy = start + (active[at] ?? 0);
      const end = busy + (this.figures.passive[at] ?? 0);
      const { waiting, since } = this;
      const after = this.after[at] ?? [];
      const before = after.map((one) => since[one] ?? 0);
      this.started[at] = start;
      for (const one of after) {
        waiting[one] = (waiting[one] ?? 0) - 1;
        since[one] = Math.max(since[one] ?? 0, end);
      }
      this.visit(mask | (this.bits[at] ?? 0n), count + 1, freeAfter(free, needed[at] ?? 1, start, busy), start, Math.max(over, end));
      this.started[at] = begun;
      for (let n = 0; n < after.length; n++) {
        const one = after[n] ?? 0;
        waiting[one] = (waiting[one] ?? 0) + 1;
        since[one] = before[n] ?? 0;
      }
    }
  }

  /** Whether another way has begun the same tasks, and nothing is later on it; if not, this way is noted. */
  private isCovered(mask: bigint): boolean {
    const others = once(this.seen, mask, () => []);
    for (const other of others) if (isNowhereLater(other, this.times)) return true;
    others.push(this.times.slice());
    return false;
  }

  /** The tasks that may be begun next, the first one first; of those that begin together, that with the longest way to the end. */
  private candidates(free: readonly number[], now: number): { readonly at: number; readonly start: number }[] {
    const { needed, tail } = this.figures;
    const found: { at: number; start: number }[] = [];
    for (let at = 0; at < tail.length; at++) {
      if (this.started[at] !== begun || (this.waiting[at] ?? 0) > 0) continue;
      const persons = needed[at] ?? 1;
      found.push({ at, start: Math.max(now, this.since[at] ?? 0, persons > 0 ? (free[persons - 1] ?? 0) : 0) });
    }
    return found.length < 2 ? found : found.sort((a, b) => a.start - b.start || (tail[b.at] ?? 0) - (tail[a.at] ?? 0));
  }
}

/** Whether no time of one way is later than that of another. */
function isNowhereLater(one: readonly number[], other: readonly number[]): boolean {
  for (let n = 0; n < one.length; n++) if ((one[n] ?? 0) > (other[n] ?? 0)) return false;
  return true;
}

/** When each person is free, where those that are free first are busy from `start` until `busy`; the first one first. */
function freeAfter(free: readonly number[], needed: number, start: number, busy: number): number[] {
  const later = free.map((one, worker) => (worker < needed ? busy : Math.max(one, start)));
  return later.length < 2 ? later : later.sort((a, b) => a - b);
}

/** Each task as soon as it can; of those that can begin at the same time, that with the longest way to the end. */
function inGoodOrder(order: readonly Task[], figures: Figures, persons: number): Schedule {
  const { active, passive, needed, before, tail } = figures;
  const starts: number[] = new Array(order.length).fill(-1);
  const ends: number[] = new Array(order.length).fill(0);
  let free: number[] = new Array(persons).fill(0);
  let now = 0;
  for (let count = 0; count < order.length; count++) {
    let next = -1;
    let start = Number.POSITIVE_INFINITY;
    for (let at = 0; at < order.length; at++) {
      if (starts[at] !== -1 || (before[at] ?? []).some((one) => starts[one] === -1)) continue;
      const count2 = needed[at] ?? 1;
      const ready = (before[at] ?? []).reduce((latest, one) => Math.max(latest, ends[one] ?? 0), now);
      const could = Math.max(ready, count2 > 0 ? (free[count2 - 1] ?? 0) : 0);
      if (could < start || (could === start && (tail[at] ?? 0) > (tail[next] ?? 0))) [next, start] = [at, could];
    }
    const busy = start + (active[next] ?? 0);
    starts[next] = start;
    ends[next] = busy + (passive[next] ?? 0);
    free = freeAfter(free, needed[next] ?? 1, start, busy);
    now = start;
  }
  const length = ends.reduce((latest, end) => Math.max(latest, end), 0);
  return { length, slots: slotsOf(order, starts, figures, persons), proven: false };
}

/** Gives each task the persons that have been free longest. */
function slotsOf(order: readonly Task[], starts: readonly number[], { active, needed }: Figures, persons: number): Slot[] {
  const free: number[] = new Array(persons).fill(0);
  return order
    .map((task, at) => ({ task, at, start: starts[at] ?? 0 }))
    .sort((a, b) => a.start - b.start || a.at - b.at)
    .map(({ task, at, start }) => {
      const end = start + (active[at] ?? 0);
      const by = free
        .map((when, worker) => ({ when, worker }))
        .filter(({ when }) => when <= start + 1e-9)
        .sort((a, b) => a.when - b.when || a.worker - b.worker)
        .slice(0, needed[at] ?? 1)
        .map(({ worker }) => worker);
      for (const worker of by) free[worker] = end;
      return { id: task.id, start, end, done: end + task.passive, by: by.map((worker) => worker + 1).sort((a, b) => a - b) };
    });
}
