import { inUnit, numberIn, nominalOf } from '../../quantity/quantity.js';
import { convert, unitOf } from '../../quantity/units.js';
import { likelySlip, loadRatio, proofTorque, thresholds } from '../../resolve/torque/plausibility.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/cannot-hold',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A torque that the bolt cannot hold, or that is near it: an estimate from thread and property class.',
  why: 'It is how lbf·ft written for lbf·in, or a slipped decimal, tears a bolt out of the engine.',
  mend: "Look the value and its unit up again. The maker's figure stands; if it is right, correct thread or class.",
  bad: fastener('count: 2, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 89 lbf·ft }]'),
  good: fastener('count: 2, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 89 lbf·in }]'),
  check(context, tell) {
    for (const { id, group } of context.fasteners) {
      const assumed = group.class ? group : { ...group, class: '12.9' };
      const ratio = loadRatio(assumed);
      const limit = proofTorque(assumed.thread, assumed.class);
      if (ratio === null || limit === null || ratio <= (group.class ? thresholds.high : thresholds.cannotHold)) continue;
      const highest = (group.stages ?? [])
        .flatMap((one) =>
          one.torque
            ? [{ torque: one.torque, span: spanOf(one, 'torque') }]
            : one.ladder
              ? [{ torque: one.ladder.to, span: spanOf(one.ladder, 'to') }]
              : [],
        )
        .sort((a, b) => numberIn(b.torque, 'N·m') - numberIn(a.torque, 'N·m'))[0];
      if (!highest) continue;
      const { torque, span } = highest;
      const other = likelySlip(torque.unit.symbol, ratio, (symbol) =>
        convert(unitOf('N·m').factor, unitOf(symbol), torque.unit).toNumber(),
      );
      const value = nominalOf(torque).toString();
      const hint = other
        ? ` Did you mean ${value} ${other} (${convert(nominalOf(torque), unitOf(other), unitOf('N·m')).toDecimalPlaces(1)} N·m)?`
        : ' Look the value and its unit up again.';
      const written = torque.unit.symbol === 'N·m' ? torque.text : `${torque.text} (${inUnit(torque, 'N·m').toDecimalPlaces(1)} N·m)`;
      const bolt = `${group.thread} of class ${group.class ?? 'even 12.9'}`;
      const severe = ratio > thresholds.cannotHold;
      tell({
        span,
        severity: severe ? ('error' as const) : ('warning' as const),
        message: `${written} is ${ratio.toFixed(1)} times what loads ${bolt} to its proof load (about ${limit.toFixed(1)} N·m, an estimate)${severe ? '; the bolt cannot hold it' : ''}.${hint} The maker's figure for \`${id}\` stands.`,
      });
    }
  },
};
