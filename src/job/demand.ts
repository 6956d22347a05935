import type { PlanStep } from '../plan/plan.js';
import { spanOf } from '../schema/origin.js';
import type { Span } from '../source/source.js';
import { type JobContext, nameOf } from './context.js';
import type { CompiledJoints } from './joints.js';

export interface Demand {
  readonly item: string;
  count: number;
  readonly for: string[];
  /** The choice that decides which item it really is. */
  readonly choice: string | null;
  /** Where it is asked for. */
  readonly place: () => Span;
}

/** What the steps put in new and what the joints do not take again, by item; and what becomes waste. */
export function gatherDemand(context: JobContext, joints: CompiledJoints, names: ReadonlyMap<string, string>) {
  const demand = new Map<string, Demand>();
  const byStep = new Map<PlanStep, { item: string; name: string; count: number }[]>();
  const waste = new Map<string, number>();
  const byItem = new Map(
    [...context.plan.scope.choices].flatMap(([id, choice]) => (choice.item ? [[choice.item, { id, choice }] as const] : [])),
  );
  const want = (step: PlanStep, item: string, count: number, reason: string, place: () => Span) => {
    if (step.conditional) return;
    const chosen = byItem.get(item);
    const resolved = chosen ? (context.job.expect?.[chosen.id] ?? item) : item;
    const line = demand.get(resolved) ?? {
      item: resolved,
      count: 0,
      for: [],
      choice: chosen ? (chosen.choice.code ?? chosen.id) : null,
      place,
    };
    line.count += count;
    if (!line.for.includes(reason)) line.for.push(reason);
    demand.set(resolved, line);
    byStep.set(step, [
      ...(byStep.get(step) ?? []),
      { item: resolved, name: names.get(resolved) ?? nameOf(context, step.participant.scope, resolved), count },
    ]);
  };
  const counted = new Set<string>();
  for (const step of context.plan.steps) {
    const goesOn = step.verb === 'fit' || step.verb === 'renew' || step.verb === 'close' || step.verb === 'connect';
    for (const object of goesOn ? step.objects : []) {
      const part = step.participant.scope.parts.get(object);
      if (!part) continue;
      const fresh = step.verb === 'renew' || step.step.new === true || part.reuse === 'never' || context.plan.renewed.has(object);
      if (fresh) {
        if (part.item) want(step, part.item, part.count ?? 1, nameOf(context, step.participant.scope, object), () => spanOf(part, 'item'));
        else if (Object.keys(part.seals ?? {}).length === 0)
          context.report(
            'parts/no-item',
            `\`${object}\` goes on new, but its part in the vehicle profile names no \`item:\` to order. Write its name in the parts catalogue there.`,
            spanOf(step.step, step.verb),
          );
        if (part.waste) waste.set(part.waste, (waste.get(part.waste) ?? 0) + (part.count ?? 1));
      }
      for (const [item, count] of Object.entries(part.seals ?? {}))
        want(step, item, count, nameOf(context, step.participant.scope, object), () => spanOf(part.seals ?? part, item));
    }
    for (const { joint } of joints.byStep.get(step) ?? []) {
      const fastener = joints.fasteners.get(joint);
      if (fastener?.reuse !== 'never' || counted.has(joint)) continue;
      counted.add(joint);
      if (fastener.item) want(step, fastener.item, fastener.count ?? 1, fastener.name ?? joint, () => spanOf(fastener, 'item'));
    }
  }
  return { demand: [...demand.values()], byStep, waste };
}
