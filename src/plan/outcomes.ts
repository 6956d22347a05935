import type { Scope } from '../library/scope.js';
import { combinations, type Facts, measuredOutcomes, askedIn } from '../library/variants.js';
import type { PlanStep } from './plan.js';

/** Where outcomes have more combinations than this, each outcome is looked at, and not each with all others. */
const mostBranches = 32;

/**
 * The outcomes that steps wait for, each combination a branch: a measurement inside or outside its limit, a choice for
 * each of its rows. None where nothing depends on an outcome.
 * @param of whose names those of the outcomes are; asked only where there are any
 * @param settled outcomes that are known already: no branch has another
 */
export function outcomesOf(steps: readonly PlanStep[], of: { readonly scope: Scope }, settled: Facts = {}): Facts[] {
  const asked = new Set<string>();
  for (const { conditional } of steps) for (const name of askedIn(conditional)) asked.add(name);
  if (asked.size === 0) return [];
  const { scope } = of;
  const outcomes = Object.fromEntries(
    [...asked].flatMap((name) => {
      const known = Object.hasOwn(settled, name) ? settled[name] : undefined;
      if (known !== undefined) return [[name, { values: [known] }]];
      if (scope.measurements.has(name)) return [[name, { values: measuredOutcomes }]];
      const choice = scope.choices.get(name);
      return choice ? [[name, { values: choice.table.map((row) => row.gives) }]] : [];
    }),
  );
  const names = Object.keys(outcomes);
  return names.length === 0 ? [] : combinations(outcomes, names, mostBranches);
}
