import type { PlanStep } from '../plan/plan.js';
import { cranking, starting } from './deeds.js';
import type { VerbName } from './verbs.js';

/** What turns the engine over, or has it run: it heats, and pumps up, what belongs to it. */
export const runsEngine: ReadonlySet<VerbName> = new Set<VerbName>(['start', 'crank', 'drive']);

/**
 * Since which step the engine runs after each of some steps, in their order; null where it is off. It is off when the vehicle
 * goes to the ground or cools down, and when it is back from the road (common practice, no source).
 */
export function runningSince(steps: readonly PlanStep[]): (PlanStep | null)[] {
  let running: PlanStep | null = null;
  let moment: PlanStep['moment'] = null;
  return steps.map((step) => {
    if (step.moment !== moment) {
      moment = step.moment;
      if (moment === 'ground' || moment === 'cooled') running = null;
    }
    if (step.verb === 'start' && (running === null || running.conditional)) running = step;
    if (step.verb === 'stop' || step.verb === 'drive') running = null;
    return running;
  });
}

/** What is taken or looked at; where it stands among what is done with the engine running, with the engine running. */
const isLookedAt: ReadonlySet<VerbName> = new Set<VerbName>(['measure', 'test', 'inspect']);

const goesByIt = ({ verb, moment }: PlanStep): boolean =>
  verb === 'run' || verb === 'stop' || (moment === 'running' && isLookedAt.has(verb));

/** The engine, one step at a time: whether it runs, and what waits until it does. */
export class Engine {
  private running = false;
  private everStarted = false;
  private stopped: PlanStep | null = null;
  /** Who has cranked it, and has only looked at something since. */
  private cranked: PlanStep['participant'] | null = null;

  /**
   * Whether a step waits until another document has cranked or started the engine. What a document looks at before it starts
   * the engine itself, or right after it has cranked it, does not.
   * @param comes whether a step that is still to come, in another document, does this
   * @param own whether one of its own document does
   */
  holdsUp(step: PlanStep, comes: (deed: string) => boolean, own: (deed: string) => boolean): boolean {
    if (step.verb === 'start') return comes(cranking);
    if (this.running || !goesByIt(step) || !comes(starting)) return false;
    return !(isLookedAt.has(step.verb) && (this.cranked === step.participant || own(starting)));
  }

  /** @returns where the engine is to run, or to be stopped, and does not run: the step of the same document that stopped it, if one did */
  take(step: PlanStep): { readonly stopped: PlanStep | null } | null {
    const { verb, participant } = step;
    if (verb === 'crank') this.cranked = participant;
    else if (this.cranked === participant && !isLookedAt.has(verb)) this.cranked = null;
    if (verb === 'start') {
      this.running = true;
      this.everStarted = true;
      this.cranked = null;
    }
    if (verb !== 'run' && verb !== 'stop') return null;
    // Another document may have stopped it: the planner puts them in order, and not who writes one of them.
    const stopped = this.stopped?.participant === participant ? this.stopped : null;
    const missed = !this.running && (stopped !== null || !this.everStarted);
    if (verb === 'stop') {
      this.running = false;
      this.stopped = step;
    }
    return missed ? { stopped } : null;
  }
}
