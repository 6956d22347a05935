import type { Fastener, StepWhen, When } from '../schema/generated/types.js';
import { keepOrigin } from '../schema/origin.js';
import { asList } from './scope.js';

/** How a measurement may end that a step waits for. */
export const measuredOutcomes: readonly string[] = ['inside', 'outside'];

/** Which value each feature has; a feature that is not known is absent. */
export type Facts = Readonly<Record<string, string>>;

/** The ways in which a condition can hold: of a list any, else the one. */
export const waysOf = (when: StepWhen): readonly When[] => (isList(when) ? when : [when]);

const isList = (when: StepWhen): when is readonly When[] => Array.isArray(when);

/** The features and outcomes that a condition asks for; none where there is no condition. */
export const askedIn = (when: StepWhen | null | undefined): readonly string[] =>
  when ? waysOf(when).flatMap((way) => Object.keys(way)) : noNames;

const noNames: readonly string[] = [];

/** yes, no, or unknown because a feature that is asked for is not known. */
export function holds(when: StepWhen | undefined, facts: Facts): boolean | 'unknown' {
  if (when === undefined) return true;
  if (!isList(when)) return holdsIn(when, facts);
  const answers = when.map((way) => holdsIn(way, facts));
  return answers.includes(true) || (answers.includes('unknown') && 'unknown');
}

function holdsIn(when: When, facts: Facts): boolean | 'unknown' {
  let answer: boolean | 'unknown' = true;
  for (const [feature, wanted] of Object.entries(when)) {
    const value = Object.hasOwn(facts, feature) ? facts[feature] : undefined;
    if (value === undefined) answer = answer === false ? false : 'unknown';
    else if (!asList(wanted).includes(value)) return false;
  }
  return answer;
}

interface Choice {
  readonly name: string;
  readonly values: readonly string[];
}

/** Every combination of the values of some features; where these are more than `most`, those that tell most. */
export function combinations(
  features: Readonly<Record<string, { readonly values: readonly string[] }>>,
  names: Iterable<string>,
  most = 256,
): Facts[] {
  const choices = [...names].flatMap((name): Choice[] => {
    const feature = Object.hasOwn(features, name) ? features[name] : undefined;
    return feature ? [{ name, values: feature.values }] : [];
  });
  if (choices.reduce((count, { values }) => count * values.length, 1) > most) return first(most, telling(choices));
  let all: Facts[] = [{}];
  for (const { name, values } of choices) all = all.flatMap((facts) => values.map((value) => ({ ...facts, [name]: value })));
  return all;
}

/** Every value once, in as few combinations as that takes; then each value alone among the first of all others; then every two. */
function* telling(choices: readonly Choice[]): Iterable<Facts> {
  const rows = Math.max(...choices.map(({ values }) => values.length));
  const row = (n: number): Facts => Object.fromEntries(choices.map(({ name, values }) => [name, values[n % values.length] ?? '']));
  for (let n = 0; n < rows; n++) yield row(n);
  const usual = row(0);
  const others = choices.flatMap(({ name, values }) => values.slice(1).map((value) => ({ name, value })));
  for (const { name, value } of others) yield { ...usual, [name]: value };
  for (const [n, one] of others.entries())
    for (const other of others.slice(n + 1))
      if (other.name !== one.name) yield { ...usual, [one.name]: one.value, [other.name]: other.value };
}

function first<T>(most: number, all: Iterable<T>): T[] {
  const taken: T[] = [];
  for (const one of all) {
    if (taken.length === most) break;
    taken.push(one);
  }
  return taken;
}

/** The group as it is on a vehicle with these facts: its own values, and over them those of the one variant that holds. */
export const fastenerFor = (group: Fastener, facts: Facts): Fastener => (group.variants ? withVariant(group, facts) : group);

function withVariant(group: Fastener, facts: Facts): Fastener {
  const variant = group.variants?.find((one) => holds(one.when, facts) === true);
  if (!variant) return group;
  const { when: _when, ...values } = variant;
  return keepOrigin(group, { ...group, ...values });
}
