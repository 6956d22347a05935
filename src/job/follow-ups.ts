import { whereIs } from '../findings/finding.js';
import { once } from '../once.js';
import { inUnit } from '../quantity/quantity.js';
import type { CompiledJob, Joint } from '../schema/generated/compiled-job.js';
import type { Stage } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import { plainNumber, quantityText } from './format.js';
import type { CompiledJoints } from './joints.js';

type FollowUp = CompiledJob['followUps'][number];

/** The unit of a vehicle's distances: that of its odometer, else the one in which the order or a re-torque was written. */
export function distanceUnit({ job }: JobContext, joints: CompiledJoints): 'km' | 'mi' {
  const stages = [...joints.fasteners.values()].flatMap((fastener) => fastener.stages ?? []);
  const distances = stages.flatMap((stage) => (stage.after === 'distance' ? (stage.distance ?? []) : []));
  const written = [job.odometer, job['road-test'], ...distances].find((one) => one !== undefined);
  return written?.unit.symbol === 'mi' ? 'mi' : 'km';
}

/** What a joint is tightened to again at one time: all its stages that are due then. */
interface Round {
  readonly joint: Joint;
  readonly stage: Stage;
  readonly numbers: number[];
}

/** What is still to be tightened again when the job is over, in the order of its joints. */
function roundsAfter({ walk }: JobContext, { joints, fasteners, keys }: CompiledJoints): readonly Round[] {
  const rounds = new Map<string, Round>();
  for (const joint of joints)
    for (const { joint: left, stage: number } of walk.afterTheJob) {
      const stage = fasteners.get(joint.code)?.stages?.[number - 1];
      if (!stage || left.key !== keys.get(joint.code)?.key) continue;
      once(rounds, `${joint.code} ${stage.after} ${stage.distance?.text}`, () => ({ joint, stage, numbers: [] })).numbers.push(number);
    }
  return [...rounds.values()];
}

/**
 * What is due after the job: re-torques, by distance with the odometer at which they fall, and what documents ask for.
 * @param unit of distances
 */
export function compileFollowUps(context: JobContext, joints: CompiledJoints, unit: 'km' | 'mi'): FollowUp[] {
  const { hours, date } = context.job;
  const words = context.words.job;
  const reTorques = roundsAfter(context, joints).map((round) => ({
    what: words.reTorque(round.joint.name, round.numbers.map((number) => round.joint.stages[number - 1]?.value ?? '').join(', ')),
    due: dueOf(context, round, unit),
    joint: round.joint.code,
    boxes: round.joint.count,
  }));
  const asked = context.plan.participants
    .flatMap((one) => one.document['follow-up'] ?? [])
    .map((one) => ({
      what: one.what.charAt(0).toUpperCase() + one.what.slice(1),
      due:
        one.after.unit.symbol === 'h' && hours
          ? words.dueAt(`${plainNumber(inUnit(hours, 'h').plus(inUnit(one.after, 'h')), 0)} h`)
          : one.after.unit.dimension === 'time'
            ? words.dueFrom(quantityText(one.after, context.words), date)
            : words.dueAfter(quantityText(one.after, context.words)),
      joint: null,
      boxes: 1,
    }));
  return [...reTorques, ...asked];
}

/** When a round is due, in words. */
function dueOf(context: JobContext, { joint, stage, numbers }: Round, unit: 'km' | 'mi'): string {
  const { odometer, 'road-test': roadTest } = context.job;
  const { distance } = stage;
  if (!distance) return context.words.after[stage.after ?? ''] ?? '';
  if (!odometer) return context.words.job.dueAfter(quantityText(distance, context.words));
  const out = inUnit(odometer, unit).plus(roadTest ? inUnit(roadTest, unit) : 0);
  const due = context.words.job.dueAt(`${plainNumber(out.plus(inUnit(distance, unit)), 0)} ${unit}`);
  context.working(() => ({
    of: `followUps/${joint.code}/stage-${numbers[0]}/due`,
    formula: 'odometer in + road test + distance',
    inputs: [
      { name: 'odometer in', value: odometer.text, from: whereIs(spanOf(context.job, 'odometer')) },
      { name: 'road test', value: roadTest?.text ?? `0 ${unit}`, from: 'the job order' },
      { name: 'distance', value: distance.text, from: whereIs(spanOf(stage, 'distance')) },
    ],
    result: due,
    rounding: `1 ${unit}`,
  }));
  return due;
}
