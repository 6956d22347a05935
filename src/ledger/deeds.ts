import type { PlanStep } from '../plan/plan.js';
import { jointsNamed } from './joints.js';
import type { LineName } from './ledger.js';

export const closing = ({ key }: LineName): string => `close ${key}`;
export const tightening = (part: string): string => `tighten ${part}`;
export const starting = 'start';
/** Cranked without injection, so that there is oil before there is load: an engine that has started needs it no more. */
export const cranking = 'crank';

/** What a step does that others may wait for. */
export function deedsOf(step: PlanStep): string[] {
  if (step.verb === 'start') return [starting];
  if (step.verb === 'crank') return [cranking];
  if (step.verb === 'tighten')
    return step.objects.flatMap((object) =>
      jointsNamed(step.participant.scope, object).flatMap((joint) => [tightening(joint.part), closing(joint.line)]),
    );
  return step.does.closes ? step.lines.map(closing) : [];
}
