import type { VerbName } from '../ledger/verbs.js';
import type { Plan, PlanStep } from '../plan/plan.js';
import { writtenIn } from '../plan/written.js';
import type { PlanPlace } from './places.js';

/** What takes something apart. */
export const takingApart: readonly VerbName[] = ['remove', 'disconnect', 'open', 'renew'];

/** What lets something out: taking apart and draining. */
export const lettingOut: readonly VerbName[] = [...takingApart, 'drain'];

/** Whether one of the steps does this to that object. */
export const did = (steps: readonly PlanStep[], verb: PlanStep['verb'], object?: string): boolean =>
  steps.some((step) => step.verb === verb && (object === undefined || step.objects.includes(object)));

const isOnBattery = ({ objects, participant }: PlanStep): boolean =>
  objects.some((object) => participant.scope.parts.get(object)?.role === 'battery');

/** Whether a step takes a battery off. */
export const disconnectsBattery = (step: PlanStep): boolean => step.verb === 'disconnect' && isOnBattery(step);

/** Whether a step puts it on again. */
const connectsBattery = (step: PlanStep): boolean => step.verb === 'connect' && isOnBattery(step);

/** Energy that is isolated and is no current of the battery: it feeds no igniter and no relay. */
const otherEnergy = /\b(high-voltage|gas|lpg|cng|fuel|air|hydraulics?|pressure)\b|hochvolt|druckluft|kraftstoff|erdgas/;

/** Whether what is isolated is the system that the battery feeds, or part of it. */
const isSystem = ({ objects }: PlanStep): boolean => !objects.some((object) => otherEnergy.test(object));
const goesOff = (step: PlanStep): boolean => disconnectsBattery(step) || (step.verb === 'isolate' && isSystem(step));

/** Whether a step gives the vehicle its current again. */
export const comesOn = (step: PlanStep): boolean => connectsBattery(step) || (step.verb === 'energise' && isSystem(step));

/** Since which step, by its place in the plan, the battery is off or the system isolated; -1 where it is live. */
export function deadSince({ before }: PlanPlace): number {
  const off = before.findLastIndex(goesOff);
  return off > before.findLastIndex(comesOn) ? off : -1;
}

/** Whether one of the steps before a place does this to that object. Without a list of those steps: it is asked at many places. */
export function didBefore({ plan: { steps }, index }: PlanPlace, verb: PlanStep['verb'], object: string): boolean {
  for (let n = 0; n < index; n++) if (steps[n]?.verb === verb && steps[n]?.objects.includes(object)) return true;
  return false;
}

/** Whether something is open, off, raised or supported at a place. What is only loosened is none of these. */
export const isOpenAt = ({ plan: { steps }, index }: PlanPlace, object: string): boolean => isOpenAfter(steps, object, index);

/** The same after so many of some steps. */
export function isOpenAfter(steps: readonly PlanStep[], object: string, count = steps.length): boolean {
  for (let n = count - 1; n >= 0; n--) {
    const step = steps[n];
    if (!step?.objects.includes(object)) continue;
    const { opens, closes } = step.does;
    const pair = opens ?? closes;
    if (pair !== undefined && pair !== 'loosen') return opens !== undefined;
  }
  return false;
}

/** What is compressed at a place, and not let go. */
export const heldAt = ({ before }: PlanPlace): ReadonlySet<string> => heldAfter(before);

/** The same after some steps. */
export function heldAfter(before: readonly PlanStep[]): ReadonlySet<string> {
  const held = new Set<string>();
  for (const { verb, objects } of before)
    for (const object of objects) {
      if (verb === 'compress') held.add(object);
      if (verb === 'release') held.delete(object);
    }
  return held;
}

/**
 * Springs that were compressed, and let go after something had come off meanwhile: they press against nothing, until that is
 * back. By the names under which they were compressed.
 */
export function slackAfter(before: readonly PlanStep[]): ReadonlySet<string> {
  /** What came off while a spring was compressed. */
  const off = new Map<string, Set<string>>();
  const held = new Set<string>();
  for (const { verb, objects } of before)
    for (const object of objects) {
      if (verb === 'compress') {
        held.add(object);
        off.set(object, new Set());
      } else if (verb === 'release') held.delete(object);
      else if (verb === 'remove') for (const spring of held) off.get(spring)?.add(object);
      else if (verb === 'fit') for (const gone of off.values()) gone.delete(object);
    }
  return new Set([...off].flatMap(([spring, gone]) => (gone.size > 0 && !held.has(spring) ? [spring] : [])));
}

/** How the vehicle stands at a place: the first step that raised what is still up, and the last that lowered anything. */
export function heightAt({ before }: PlanPlace): { readonly up: PlanStep | undefined; readonly lowered: PlanStep | undefined } {
  const raised = new Map<string, PlanStep>();
  let lowered: PlanStep | undefined;
  for (const step of before)
    for (const object of step.objects) {
      if (step.verb === 'raise') raised.set(object, step);
      if (step.verb === 'lower' && raised.delete(object)) lowered = step;
    }
  const [up] = raised.values();
  return { up, lowered };
}

/** Whether a plan is of preparations alone: who needs them answers for what is not in it. */
export const onlyPrepares = ({ participants }: Plan): boolean => participants.every(({ document }) => document.kind === 'preparation');

/** Whether the document of a step renews something in one step: old out, new in. */
export const isRenewed = ({ participant: { document } }: PlanStep, object: string): boolean =>
  writtenIn(document).all.some((step) => step.verb === 'renew' && step.names.includes(object));
