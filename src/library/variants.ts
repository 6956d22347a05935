import type { Fastener, When } from '../schema/generated/types.js';
import { keepOrigin } from '../schema/origin.js';
import { asList } from './scope.js';

/** Which value each feature has; a feature that is not known is absent. */
export type Facts = Readonly<Record<string, string>>;

/** yes, no, or unknown because a feature that is asked for is not known. */
export function holds(when: When | undefined, facts: Facts): boolean | 'unknown' {
  if (when === undefined) return true;
  let answer: boolean | 'unknown' = true;
  for (const [feature, wanted] of Object.entries(when)) {
    const value = Object.hasOwn(facts, feature) ? facts[feature] : undefined;
    if (value === undefined) answer = answer === false ? false : 'unknown';
    else if (!asList(wanted).includes(value)) return false;
  }
  return answer;
}

/** Every combination of the values of some features, at most `most` of them. */
export function combinations(
  features: Readonly<Record<string, { readonly values: readonly string[] }>>,
  names: Iterable<string>,
  most = 256,
): Facts[] {
  let all: Facts[] = [{}];
  for (const name of names) {
    const feature = Object.hasOwn(features, name) ? features[name] : undefined;
    if (!feature) continue;
    all = all.flatMap((facts) => feature.values.map((value) => ({ ...facts, [name]: value }))).slice(0, most);
  }
  return all;
}

/** The group as it is on a vehicle with these facts: its own values, and over them those of the one variant that holds. */
export function fastenerFor(group: Fastener, facts: Facts): Fastener {
  const variant = group.variants?.find((one) => holds(one.when, facts) === true);
  if (!variant) return group;
  const { when: _when, ...values } = variant;
  return keepOrigin(group, { ...group, ...values });
}
