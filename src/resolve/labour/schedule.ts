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

/** The search is given up after it has looked at this many tasks, again and again; what a job has needs some ten thousand. */
const patience = 8_000_000;
/** More tasks than these are set in a good order, and no better one is searched for. */
const mostSearched = 60;

interface State {
  readonly over: number;
  readonly free: readonly number[];
  readonly now: number;
  readonly ready: readonly number[];
}

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
  const index = new Map(order.map((task, at) => [task.id, at]));
  const active = order.map((task) => timeOf(task, persons));
  const needed = order.map((task) => Math.min(task.persons, persons));
  const before = order.map((task) => task.after.flatMap((id) => index.get(id) ?? []));
  const tail = order.map((task) => path.length - (path.tasks.get(task.id)?.latest ?? 0));
  const all = order.length;

  let best = Number.POSITIVE_INFINITY;
  let bestStarts: number[] = [];
  let steps = 0;
  const starts: number[] = new Array(all).fill(-1);
  const seen = new Map<string, State[]>();

  const visit = (mask: bigint, count: number, free: readonly number[], now: number, ends: readonly number[]): void => {
    steps += all;
    if (steps > patience) return;
    if (count === all) {
      const length = Math.max(0, ...ends);
      if (length < best) {
        best = length;
        bestStarts = [...starts];
      }
      return;
    }
    const ready = order.map((_, at) =>
      starts[at] !== -1 ? -1 : Math.max(now, ...(before[at] ?? []).map((one) => (starts[one] === -1 ? now : (ends[one] ?? 0)))),
    );
    let bound = 0;
    let work = 0; // person-minutes still to do
    for (let at = 0; at < all; at++) {
      if (starts[at] !== -1) {
        bound = Math.max(bound, ends[at] ?? 0);
        continue;
      }
      bound = Math.max(bound, (ready[at] ?? 0) + (tail[at] ?? 0));
      work += (active[at] ?? 0) * (needed[at] ?? 1);
    }
    const available = free.map((one) => Math.max(one, now));
    bound = Math.max(bound, (available.reduce((sum, one) => sum + one, 0) + work) / persons);
    if (bound >= best - 1e-9) return;
    const state: State = { over: Math.max(0, ...ends), free: available, now, ready };
    const key = mask.toString(36);
    const others = seen.get(key) ?? [];
    const covers = (a: State) =>
      a.free.every((one, at) => one <= (state.free[at] ?? 0)) &&
      a.ready.every((one, at) => one <= (state.ready[at] ?? 0)) &&
      a.now <= state.now &&
      a.over <= state.over;
    if (others.some(covers)) return;
    others.push(state);
    seen.set(key, others);

    const candidates = order
      .map((_, at) => at)
      .filter((at) => starts[at] === -1 && (before[at] ?? []).every((one) => starts[one] !== -1))
      .map((at) => {
        const count2 = needed[at] ?? 1;
        const start = Math.max(ready[at] ?? 0, count2 > 0 ? (available[count2 - 1] ?? 0) : 0);
        return { at, start };
      })
      .sort((a, b) => a.start - b.start || (tail[b.at] ?? 0) - (tail[a.at] ?? 0));
    for (const { at, start } of candidates) {
      const busy = start + (active[at] ?? 0);
      const later = available
        .map((one) => Math.max(one, start))
        .map((one, worker) => (worker < (needed[at] ?? 1) ? busy : one))
        .sort((a, b) => a - b);
      starts[at] = start;
      const nextEnds = [...ends];
      nextEnds[at] = busy + (order[at]?.passive ?? 0);
      visit(mask | (1n << BigInt(at)), count + 1, later, start, nextEnds);
      starts[at] = -1;
    }
  };
  if (all > mostSearched) return inGoodOrder(order, { active, needed, before, tail }, persons);
  visit(0n, 0, new Array(persons).fill(0), 0, new Array(all).fill(0));
  return { length: all === 0 ? 0 : best, slots: slotsOf(order, bestStarts, active, needed, persons), proven: steps <= patience };
}

interface Figures {
  readonly active: readonly number[];
  readonly needed: readonly number[];
  /** Tasks that must be over before each, by their places in the order. */
  readonly before: readonly (readonly number[])[];
  /** From the start of each to the end of all that waits for it. */
  readonly tail: readonly number[];
}

/** Each task as soon as it can; of those that can begin at the same time, that with the longest way to the end. */
function inGoodOrder(order: readonly Task[], { active, needed, before, tail }: Figures, persons: number): Schedule {
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
    ends[next] = busy + (order[next]?.passive ?? 0);
    free = free.map((one, worker) => (worker < (needed[next] ?? 1) ? busy : Math.max(one, start))).sort((a, b) => a - b);
    now = start;
  }
  const length = ends.reduce((latest, end) => Math.max(latest, end), 0);
  return { length, slots: slotsOf(order, starts, active, needed, persons), proven: false };
}

/** Gives each task the persons that have been free longest. */
function slotsOf(
  order: readonly Task[],
  starts: readonly number[],
  active: readonly number[],
  needed: readonly number[],
  persons: number,
): Slot[] {
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
