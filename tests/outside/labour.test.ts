// Against something outside the project; the source stands beside each check.
import fs from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { criticalPath, shortestSchedule, type Task } from '../../src/resolve/labour/schedule.js';
import { projectFolder } from '../helpers/shop.js';

interface Network {
  published_duration: number | null;
  computed_duration: number;
  table: Record<string, { dur: number; pred: string[]; ES: number; LS: number; slack: number }>;
  optimal_makespan: { one_worker: number; two_workers: number; three_workers: number };
}
const networks: Record<string, Network> = JSON.parse(
  fs.readFileSync(path.join(projectFolder, 'tests/reference/cpm_networks.json'), 'utf8'),
);

describe.each(Object.entries(networks))('network %s', (_name, network) => {
  const tasks: Task[] = Object.entries(network.table).map(([id, one]) => ({
    id,
    active: one.dur,
    passive: 0,
    persons: 1,
    after: one.pred,
  }));
  it('starts and slack as published', () => {
    const path_ = criticalPath(tasks);
    expect(path_?.length).toBe(network.published_duration ?? network.computed_duration);
    for (const [id, one] of Object.entries(network.table))
      expect(path_?.tasks.get(id), id).toEqual({ earliest: one.ES, latest: one.LS, slack: one.slack });
  });
  it('durations for one, two and three workers as two solvers found them', () => {
    const { one_worker, two_workers, three_workers } = network.optimal_makespan;
    expect([1, 2, 3].map((persons) => shortestSchedule(tasks, persons)?.length)).toEqual([one_worker, two_workers, three_workers]);
  });
});

const task = fc.record({
  active: fc.integer({ min: 1, max: 40 }),
  passive: fc.constantFrom(0, 0, 0, 15, 30),
  persons: fc.constantFrom(1, 1, 1, 2),
  links: fc.array(fc.nat(20), { maxLength: 3 }),
});
const networksOf = (minLength: number, maxLength: number) =>
  fc.array(task, { minLength, maxLength }).map((list) =>
    list.map(
      (one, index): Task => ({
        id: `t${index}`,
        active: one.active,
        passive: one.passive,
        persons: one.persons,
        after: index === 0 ? [] : [...new Set(one.links.map((link) => `t${link % index}`))],
      }),
    ),
  );
const networkOf = networksOf(1, 7);

describe('any schedule', () => {
  it('is never under the critical path nor over the sum, keeps every order, and nobody does two things at once', () => {
    fc.assert(
      fc.property(networkOf, fc.constantFrom(1, 2), (tasks, persons) => {
        expect(sound(tasks, persons).proven).toBe(true);
      }),
    );
  });
  it('of more operations than are searched through, too, and says that a shorter one may exist', () => {
    fc.assert(
      fc.property(networksOf(61, 300), fc.constantFrom(1, 2, 3), (tasks, persons) => {
        expect(sound(tasks, persons).proven).toBe(false);
      }),
      { numRuns: 30 },
    );
  });
  it('is as short as the best of all orders tried one by one', () => {
    fc.assert(
      fc.property(
        networkOf.filter((tasks) => tasks.length <= 6),
        fc.constantFrom(1, 2),
        (tasks, persons) => {
          expect(shortestSchedule(tasks, persons)?.length).toBe(byAllOrders(tasks, persons));
        },
      ),
      { numRuns: 60 },
    );
  });
});

/** The schedule, with what is true of every one of them checked. */
function sound(tasks: readonly Task[], persons: number) {
  const schedule = shortestSchedule(tasks, persons);
  const least = criticalPath(tasks, persons)?.length ?? 0;
  const sum = tasks.reduce((total, one) => total + one.active + one.passive, 0);
  if (!schedule) throw new Error('no schedule');
  expect(schedule.length).toBeGreaterThanOrEqual(least);
  expect(schedule.length).toBeLessThanOrEqual(sum);
  const slots = new Map(schedule.slots.map((slot) => [slot.id, slot]));
  for (const one of tasks) {
    const slot = slots.get(one.id);
    expect(slot?.by.length).toBe(Math.min(one.persons, persons));
    for (const id of one.after) expect(slot?.start).toBeGreaterThanOrEqual(slots.get(id)?.done ?? 0);
    for (const other of schedule.slots) {
      if (other.id === one.id || !slot || other.end <= slot.start || slot.end <= other.start) continue;
      expect(other.by.some((who) => slot.by.includes(who))).toBe(false);
    }
  }
  return schedule;
}

/** Second witness: every order, each task at the first minute at which hands and predecessors allow. */
function byAllOrders(tasks: readonly Task[], persons: number): number {
  let best = Number.POSITIVE_INFINITY;
  const place = (left: readonly Task[], placed: readonly { task: Task; start: number }[]) => {
    if (left.length === 0) {
      best = Math.min(best, Math.max(...placed.map(({ task: one, start }) => start + one.active + one.passive)));
      return;
    }
    for (const next of left) {
      if (next.after.some((id) => left.some((one) => one.id === id))) continue;
      let start = Math.max(
        0,
        ...placed.filter(({ task: one }) => next.after.includes(one.id)).map(({ task: one, start: at }) => at + one.active + one.passive),
      );
      const need = Math.min(next.persons, persons);
      const busyAt = (minute: number) =>
        placed.reduce(
          (sum, { task: one, start: at }) => sum + (at <= minute && minute < at + one.active ? Math.min(one.persons, persons) : 0),
          0,
        );
      while (Array.from({ length: next.active }, (_, minute) => busyAt(start + minute)).some((busy) => busy + need > persons)) start++;
      place(
        left.filter((one) => one !== next),
        [...placed, { task: next, start }],
      );
    }
  };
  place(tasks, []);
  return best;
}
