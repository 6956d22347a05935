import type { LineName } from '../ledger/ledger.js';
import type { Walk } from '../ledger/walk.js';
import type { Verb, VerbName } from '../ledger/verbs.js';
import type { WorkDocument } from '../library/document.js';
import type { Facts } from '../library/variants.js';
import { asList, type Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { Step, When } from '../schema/generated/types.js';
import type { Cast } from './cast.js';

export type Section = 'preparation' | 'work' | 'close-up' | 'final';

/** The moments of the finals, in the order in which they come. */
export const moments = ['running', 'ground', 'cooled', 'road'] as const;
export type Moment = (typeof moments)[number];

/** A document as it takes part in plans: on a vehicle, with its parameters. */
export interface Participant {
  readonly document: WorkDocument;
  readonly params: Readonly<Record<string, readonly string[]>>;
  readonly scope: Scope;
}

/** A name of a step that stands for nothing on the vehicle; where a verb takes any word, a slip for one that does. */
export interface Unnamed {
  readonly written: string;
  /** What it can only be a slip for, and is read as, so that nothing else is told because of it. The paper has it as written. */
  readonly meant: string | undefined;
}

/** One step of the merged job, its objects resolved. Plans share those that are the same in each. */
export interface PlanStep {
  readonly participant: Participant;
  readonly section: Section;
  readonly moment: Moment | null;
  readonly step: Step;
  readonly verb: VerbName;
  /** What its verb does. */
  readonly does: Verb;
  /** Names, parameters filled in, slips as they are meant. */
  readonly objects: readonly string[];
  /** Names that stand for nothing; none where nobody knows what the vehicle has. */
  readonly unnamed: readonly Unnamed[];
  /** The lines of the ledger that its verb opens or closes, one for each object; none where its verb has no pair. */
  readonly lines: readonly LineName[];
  /** Whether anything can stand in its way: most steps are no gate. */
  readonly gate: boolean;
  /** Conditions on measured outcomes that are not known when the sheet is printed: any of these must hold. */
  readonly conditional: readonly When[] | null;
}

/** The merged steps of a job in the order in which they are worked. */
export class Plan {
  readonly participants: readonly Participant[];
  /** Parts that go back new, by procedures, preparations or the job. */
  readonly renewed: ReadonlySet<string>;
  /** Documents that were needed and not found, or could not be read; the plan is then not walked. */
  readonly incomplete: boolean;
  /** All of its documents are meant for its vehicle. */
  readonly fits: boolean;

  /** @param walk the ledger over these steps, walked to the end */
  constructor(
    private readonly cast: Cast,
    readonly facts: Facts,
    readonly steps: readonly PlanStep[],
    readonly walk: Walk,
  ) {
    this.participants = cast.members.map((one) => one.participant);
    this.renewed = cast.renewed;
    this.incomplete = cast.incomplete;
    this.fits = cast.fits;
  }

  /** The names of all participants together. */
  get scope(): Scope {
    return this.cast.scope;
  }
}

/** An object of a step as the document writes it: perhaps with a slip. */
export const asWritten = ({ unnamed }: PlanStep, object: string): string =>
  unnamed.find(({ meant }) => meant === object)?.written ?? object;

/** Whether a step puts on the old one, whatever else is said of it: for a trial. What is renewed is new. */
export const putsOnOld = ({ verb, step }: PlanStep): boolean => step.new === false && verb !== 'renew';

/** Whether a step fills in what came out before. */
export const poursBack = ({ verb, step }: PlanStep): boolean => verb === 'fill' && step.new === false;

/** Whether what comes out of a circuit is what goes in again, each time. */
export function isPouredBack({ steps }: Pick<Plan, 'steps'>, fluid: string): boolean {
  const fills = steps.filter(({ verb, objects }) => verb === 'fill' && objects.includes(fluid));
  return fills.length > 0 && fills.every(poursBack);
}

/** Whether a part that a step puts on is a new one. */
export const goesOnNew = ({ renewed }: Pick<Plan, 'renewed'>, step: PlanStep, part: string): boolean =>
  !putsOnOld(step) && (step.verb === 'renew' || step.step.new === true || isNewPart({ renewed }, step, part));

/** Whether the profile or the work says of a part that it goes on new. */
export const isNewPart = ({ renewed }: Pick<Plan, 'renewed'>, { participant: { scope } }: PlanStep, part: string): boolean =>
  scope.parts.get(part)?.reuse === 'never' || renewed.has(part) || isItsOwnFastener(scope, part);

const puttingOn: ReadonlySet<VerbName> = new Set<VerbName>(['fit', 'renew', 'close', 'connect']);

/** Something that a step puts on, and whether that is a new one. */
export interface GoingOn {
  readonly object: string;
  readonly isNew: boolean;
}

/**
 * What goes on, by the steps that put it on. What is renewed and then put on goes on once, unless it comes off again between;
 * where it is renewed only after some outcome, what is put on whatever it is counts for itself.
 */
export function goingOnIn(plan: Plan): ReadonlyMap<PlanStep, readonly GoingOn[]> {
  const found = new Map<PlanStep, GoingOn[]>();
  const inHand = new Set<string>();
  for (const step of plan.steps)
    for (const object of step.objects) {
      if (step.does.opens) inHand.delete(object);
      if (!puttingOn.has(step.verb) || (step.verb !== 'renew' && inHand.delete(object))) continue;
      once(found, step, () => []).push({ object, isNew: goesOnNew(plan, step, object) });
      if (step.verb === 'renew' && !step.conditional) inHand.add(object);
    }
  return found;
}

/** Whether a step puts on the old part: what was renewed since it came off is new, though its step does not say so. */
export const goesBackOld = (plan: Plan, step: PlanStep, part: string): boolean =>
  !goesOnNew(plan, step, part) &&
  goingOnIn(plan)
    .get(step)
    ?.some(({ object }) => object === part) === true;

/** Whether a part is screwed in itself and never used again, as a spark plug: one item, at the part and at its thread. */
export function isItsOwnFastener({ parts, fasteners }: Scope, id: string): boolean {
  const part = parts.get(id);
  if (part?.item === undefined) return false;
  return asList(part.fasteners).some((name) => fasteners.get(name)?.reuse === 'never' && fasteners.get(name)?.item === part.item);
}
