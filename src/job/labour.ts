import type { Decimal } from 'decimal.js';
import { whereIs } from '../findings/finding.js';
import { mergePlan, wantedOf } from '../plan/merge.js';
import type { Participant } from '../plan/plan.js';
import { inUnit } from '../quantity/quantity.js';
import { D } from '../quantity/units.js';
import { sum } from '../resolve/price/money.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import { quantityText } from './format.js';

interface Operation {
  readonly id: string;
  readonly says: string;
  readonly hours: Decimal;
  readonly factor: Decimal | null;
  readonly reason: string | null;
  readonly unattended: string | null;
  readonly grade: string;
}

export interface CompiledLabour {
  readonly labour: CompiledJob['labour'];
  readonly billed: Decimal;
  readonly saved: Decimal;
  /** Hours billed by grade. */
  readonly byGrade: ReadonlyMap<string, Decimal>;
}

/** Hours of the merged plan: each operation once, however many works need it. */
export function compileLabour(context: JobContext): CompiledLabour {
  const operations = context.plan.participants.flatMap((one) => operationsOf(context, one, true));
  const billedOf = (one: Operation) => one.hours.times(one.factor ?? 1);
  const together = sum(operations.map((one) => one.hours));
  const billed = sum(operations.map(billedOf));
  const alone = context.job.work.map((work) => {
    const wanted = wantedOf(work, context.library);
    const plan = mergePlan(context.library, { work: [wanted], vehicle: context.vehicle, facts: context.plan.facts });
    return { work: wanted.id, hours: sum(plan.participants.flatMap((one) => operationsOf(context, one, false)).map((one) => one.hours)) };
  });
  const apart = sum(alone.map((one) => one.hours));
  const byGrade = new Map<string, Decimal>();
  for (const one of operations) byGrade.set(one.grade, (byGrade.get(one.grade) ?? new D(0)).plus(billedOf(one)));
  for (const access of context.job.access ?? []) {
    if (!operations.some((one) => one.id === access.operation)) {
      context.report(
        'labour/unknown-operation',
        `\`${access.operation}\` is not an operation of this job. There are ${operations.map((one) => `\`${one.id}\``).join(', ')}.`,
        spanOf(access, 'operation'),
      );
    }
  }
  context.working({
    of: 'labour/billed',
    formula: 'sum of the operations, each once, times its factor',
    inputs: operations.map((one) => ({ name: one.id, value: `${one.hours} h${one.factor ? ` × ${one.factor}` : ''}`, from: one.says })),
    result: `${billed} h`,
    rounding: null,
  });
  return {
    billed,
    saved: D.max(apart.minus(together), 0),
    byGrade,
    labour: {
      operations: operations.map((one) => ({
        id: one.id,
        says: one.says,
        hours: one.hours.toString(),
        factor: one.factor?.toString() ?? null,
        reason: one.reason,
        billed: billedOf(one).toString(),
        unattended: one.unattended,
        grade: one.grade,
      })),
      apart: apart.toString(),
      together: together.toString(),
      billed: billed.toString(),
      alone: alone.map((one) => ({ work: one.work, hours: one.hours.toString() })),
    },
  };
}

function operationsOf(context: JobContext, participant: Participant, report: boolean): Operation[] {
  const { document } = participant;
  return Object.entries(document.labour ?? {}).map(([name, operation]) => {
    const id = `${document.id}/${name}`;
    const time = operation.time ?? context.vehicle.times?.[document.id]?.[name];
    if (!time && report) {
      context.report(
        'labour/no-time',
        `Nobody says how long \`${id}\` takes on this vehicle. Add \`times: { ${document.id}: { ${name}: 0.2 h } }\` to ${whereIs(spanOf(context.vehicle)).replace(/:\d+$/, '')}; until then it is not billed.`,
        spanOf(context.job, 'vehicle'),
        'warning',
      );
    }
    const access = context.job.access?.find((one) => one.operation === id);
    return {
      id,
      says: operation.says ?? name,
      hours: time ? inUnit(time, 'h') : new D(0),
      factor: access?.factor ?? null,
      reason: access?.reason ?? null,
      unattended: operation.unattended ? quantityText(operation.unattended) : null,
      grade: operation.grade ?? context.shop.grade ?? Object.keys(context.shop.rates)[0] ?? '',
    };
  });
}
