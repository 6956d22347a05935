import { stepSpan } from '../context.js';
import { openThePack } from '../examples.js';
import { lacksReadings, proofIn } from '../proof-dead.js';
import { lettingOut } from '../steps.js';
import type { PlanStep } from '../../plan/plan.js';
import type { Rule } from '../rule.js';

/** The links of the chain that the steps before lack, in their order. */
function missingLinks(before: readonly PlanStep[]): string[] {
  const isolated = before.findIndex((step) => step.verb === 'isolate');
  const waited = before.findIndex((step, index) => index > isolated && step.verb === 'wait');
  const proved = before.findIndex((step, index) => index >= waited && proofIn(step) !== undefined);
  const proof = before[proved];
  const locked = before.findIndex((step, index) => index > isolated && step.verb === 'lock');
  const off = before.findIndex((step) => step.verb === 'switch-off' && step.objects.includes('ignition'));
  return [
    off < 0 || (isolated >= 0 && off > isolated) ? '`switch-off: ignition`' : null,
    isolated < 0 ? '`isolate:`' : null,
    locked < 0 || (proof && locked > proved)
      ? `\`lock:\`${locked < 0 ? '' : ' before the proof,'} so that nobody switches it on again`
      : null,
    waited < 0 ? '`wait:` with the time of the vehicle profile' : null,
    proof ? null : '`measure:` that proves it dead (a limit in V)',
    proof && !proof.step['second-person'] ? '`second-person:` at the proof' : null,
    proof && !proof.step.wear?.includes('insulating-gloves') ? '`wear: [insulating-gloves]` at the proof' : null,
  ].filter((link) => link !== null);
}

export const rule: Rule = {
  name: 'hazard/high-voltage',
  severity: 'error',
  finds:
    'High-voltage work without the whole chain: ignition off, isolate, lock, wait, prove dead with a second person and insulating gloves.',
  why: 'A chain with one link missing is no chain; four hundred volts forgive nothing.',
  mend: 'Add the steps that the finding names, before the step, in this order.',
  bad: openThePack('  - lock: service-plug\n', 'remove: pack').replace('  - unlock: service-plug\n', ''),
  good: openThePack(),
  check(context, tell) {
    for (const place of context.placesOf(lettingOut)) {
      const { planned } = place;
      if (!place.dangers.some(({ source }) => source.hazard === 'high-voltage') || lacksReadings(planned.participant.scope)) continue;
      const missing = missingLinks(place.before);
      if (missing.length > 0)
        tell({
          span: stepSpan(planned),
          message: `High voltage is opened here, and before it is missing: ${missing.join('; ')}. Only then is it dead. The maker’s information and local law come first.`,
        });
    }
  },
};
