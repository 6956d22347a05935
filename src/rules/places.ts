import { type GroupAtJoint, jointsOfStep } from '../ledger/joints.js';
import type { VerbName } from '../ledger/verbs.js';
import { once } from '../once.js';
import type { Plan, PlanStep } from '../plan/plan.js';
import { type Danger, dangersOf } from './dangers.js';

/** A step of a plan, with all that is done before and after it. */
export class PlanPlace {
  private madeJoints: readonly GroupAtJoint[] | undefined;
  private madeDangers: readonly Danger[] | undefined;

  constructor(
    readonly plan: Plan,
    readonly planned: PlanStep,
    /** Its place in the plan, from 0. */
    readonly index: number,
  ) {}

  get before(): readonly PlanStep[] {
    return this.plan.steps.slice(0, this.index);
  }

  get after(): readonly PlanStep[] {
    return this.plan.steps.slice(this.index + 1);
  }

  /** The joints that it works on, each with its group in this variant. */
  get joints(): readonly GroupAtJoint[] {
    this.madeJoints ??= jointsOfStep(this.planned, this.plan.facts);
    return this.madeJoints;
  }

  /** What it opens that can hurt. */
  get dangers(): readonly Danger[] {
    this.madeDangers ??= dangersOf(this);
    return this.madeDangers;
  }
}

/** Every step of some plans, in the order of work. */
export function placesIn(plans: readonly { readonly plan: Plan }[]): PlanPlace[] {
  const places: PlanPlace[] = [];
  for (const { plan } of plans) {
    let index = 0;
    for (const planned of plan.steps) places.push(new PlanPlace(plan, planned, index++));
  }
  return places;
}

/** Of what was found at places, the first of each kind in each plan: what is told once, where it begins. */
export function firstOfEach<T extends { readonly place: PlanPlace; readonly kind: string }>(found: readonly T[]): T[] {
  const byPlan = new Map<Plan, Map<string, T>>();
  for (const one of found) {
    const first = once(byPlan, one.place.plan, () => new Map<string, T>());
    const known = first.get(one.kind);
    if (known === undefined || one.place.index < known.place.index) first.set(one.kind, one);
  }
  return [...byPlan.values()].flatMap((first) => [...first.values()]);
}

/** Something that is found at an object of a step. */
export interface FoundAt {
  readonly place: PlanPlace;
  readonly object: string;
  readonly kind: string;
}

/**
 * What is found at the objects of some steps, the first of each kind in each plan.
 * @param at whether something is found at an object; where there are several kinds of it, which
 */
export function firstFound(
  places: readonly PlanPlace[],
  at: (place: PlanPlace, object: string) => boolean | readonly string[],
): readonly FoundAt[] {
  const found: FoundAt[] = [];
  for (const place of places)
    for (const object of place.planned.objects) {
      const kinds = at(place, object);
      if (kinds === true) found.push({ place, object, kind: '' });
      else if (kinds) for (const kind of kinds) found.push({ place, object, kind });
    }
  return found.length === 0 ? found : firstOfEach(found);
}

/** Those of each verb. */
export function byVerb(places: readonly PlanPlace[]): Map<VerbName | readonly VerbName[], PlanPlace[]> {
  const found = new Map<VerbName | readonly VerbName[], PlanPlace[]>();
  for (const place of places) {
    const known = found.get(place.planned.verb);
    if (known) known.push(place);
    else found.set(place.planned.verb, [place]);
  }
  return found;
}
