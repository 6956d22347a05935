import type { Decimal } from 'decimal.js';
import { circuitsOf } from '../library/scope.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import type { Bled } from '../schema/generated/compiled-job.js';
import type { JobContext } from './context.js';
import { addTo } from './fluid-purchase.js';
import { litres, plainNumber } from './format.js';
import { howMany, tellPerhaps } from './perhaps.js';
import { volumeText } from './shop-unit.js';

export interface CompiledBleeding {
  readonly bled: Bled[];
  /** Litres to buy, by catalogue item. */
  readonly demand: ReadonlyMap<string, Decimal>;
  /** Litres of waste, by waste class. */
  readonly waste: ReadonlyMap<string, Decimal>;
}

/** What bleeding pushes out and takes, of circuits into which nothing else is filled. */
export function compileBleeding(context: JobContext): CompiledBleeding {
  const { plan } = context;
  const bled: Bled[] = [];
  const demand = new Map<string, Decimal>();
  const waste = new Map<string, Decimal>();
  for (const [id, steps] of bleedingOf(context)) {
    const fluid = plan.scope.fluids.get(id);
    const [first] = steps;
    if (!fluid?.bleeding || !first) continue;
    const amount = litres(fluid.bleeding);
    bled.push({
      id,
      name: fluid.name ?? id.replaceAll('-', ' '),
      spec: fluid.spec ?? null,
      amount: volumeText(context, fluid.bleeding),
      steps: steps.map(context.numberOf),
    });
    const { least, most } = howMany(context, steps);
    if (least > 0) {
      addTo(demand, fluid.item, amount);
      addTo(waste, fluid.waste, amount);
    } else if (most > 0 && fluid.item) tellPerhaps(context, first, fluid.item, 'items', 1, `${plainNumber(amount, 2)} L`);
  }
  return { bled, demand, waste };
}

/** The steps that bleed a circuit, by its fluid, where no step fills it. */
function bleedingOf({ plan }: JobContext): ReadonlyMap<string, readonly PlanStep[]> {
  const filled = new Set(plan.steps.flatMap(({ verb, objects }) => (verb === 'fill' ? objects : [])));
  const found = new Map<string, PlanStep[]>();
  for (const step of plan.steps)
    if (step.verb === 'bleed')
      for (const id of new Set(step.objects.flatMap((object) => circuitsOf(plan.scope, object))))
        if (!filled.has(id)) once(found, id, () => []).push(step);
  return found;
}
