import { once } from '../once.js';
import type { Charge, Fluid, Step } from '../schema/generated/compiled-job.js';

/** What decides which blanks a step has. */
type Worked = Pick<Step, 'verb' | 'torque' | 'measurements' | 'choice' | 'fluid'>;

/**
 * What is done again keeps its code, and has blanks of its own each time: else the second reading would stand in the place of
 * the first, and a box of the second round would be ticked before anybody comes to it.
 * @returns for each step, by code, how often that has been done by now; only what has been done before
 */
export function timesOf(steps: readonly Worked[], fluids: readonly Fluid[], charges: readonly Charge[]): Record<string, number>[] {
  const done = new Map<string, number>();
  return steps.map((step) => {
    const times: Record<string, number> = {};
    for (const [code, places] of placesOf(step, fluids, charges)) {
      const before = Math.max(0, ...places.map((place) => done.get(place) ?? 0));
      for (const place of places) done.set(place, before + 1);
      if (before > 0) times[code] = before + 1;
    }
    return times;
  });
}

/** The codes that a step works on, each with what its blanks are for: a joint stage by stage, all else as a whole. */
function placesOf(step: Worked, fluids: readonly Fluid[], charges: readonly Charge[]): Map<string, string[]> {
  const places = new Map<string, string[]>();
  const at = (code: string, place = code) => void once(places, code, () => []).push(place);
  for (const { joint, stages } of step.torque) for (const stage of stages) at(joint, `${joint}/${stage}`);
  for (const code of step.measurements) at(code);
  if (step.choice) at(step.choice);
  const { blanks: poured } = fluids.find((one) => one.id === step.fluid) ?? {};
  if (poured) at(step.verb === 'drain' ? poured.recovered : poured.poured);
  const { blanks: weighed } = charges.find((one) => one.id === step.fluid) ?? {};
  if (weighed) at(step.verb === 'drain' ? weighed.recovered : weighed.charged);
  return places;
}
