import type { WorkDocument } from '../library/document.js';
import { type Facts, holds } from '../library/variants.js';
import { isWhole } from '../library/written.js';
import { once } from '../once.js';
import type { Plan, PlanStep } from '../plan/plan.js';
import type { Amount } from '../quantity/quantity.js';
import type { MightFind, PartsDocument } from '../schema/generated/types.js';
import { isDamaged, spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';

/** Whether a step is done after these outcomes. */
export const isDone = (step: PlanStep, outcomes: Facts): boolean => holds(step.conditional ?? undefined, outcomes) === true;

/** Whether a step waits for an outcome, and is done after each that is still open: it is what was found that makes it so. */
export const isSettled = ({ branches }: JobContext, step: PlanStep): boolean =>
  step.conditional !== null && branches.every((outcomes) => isDone(step, outcomes));

/** How many of some steps are done: after every outcome, and at the most. */
export function howMany({ branches }: JobContext, steps: readonly PlanStep[]): { readonly least: number; readonly most: number } {
  const counts = branches.map((outcomes) => steps.filter((step) => isDone(step, outcomes)).length);
  return { least: Math.min(...counts), most: Math.max(...counts) };
}

/** What the documents of a plan say might be needed, and how many of it at the most. */
interface Foretold {
  readonly items: ReadonlyMap<string, number>;
  readonly sublet: ReadonlyMap<string, number>;
}

const known = new WeakMap<Plan, Foretold>();

const foretold = (plan: Plan): Foretold =>
  once(known, plan, () => {
    const items = new Map<string, number>();
    const sublet = new Map<string, number>();
    for (const { document } of plan.participants)
      for (const find of Object.values(document['might-find'] ?? {})) {
        for (const [item, amount] of Object.entries(find.items ?? {}))
          items.set(item, (items.get(item) ?? 0) + ('pieces' in amount ? amount.pieces * (find.count ?? 1) : Number.POSITIVE_INFINITY));
        if (find.sublet !== undefined) sublet.set(find.sublet, Number.POSITIVE_INFINITY);
      }
    return { items, sublet };
  });

/** What a document says might be found could not be read, wholly or in one of its entries: it may say this too. */
const isUnread = (document: WorkDocument): boolean =>
  !isWhole(document, 'might-find') || Object.values(document['might-find'] ?? {}).some(isDamaged);

/**
 * What is needed only after some outcomes is on no quote but as what might be found; where no document says so, that is told.
 * @param what a catalogue item, or work that is sublet
 * @param key how a might-find takes it
 * @param pieces how many of it are needed at the most
 * @param amount how much of it, where pieces are not counted
 */
export function tellPerhaps(
  context: JobContext,
  step: PlanStep,
  what: string,
  key: 'items' | 'sublet',
  pieces = 1,
  amount = String(pieces),
): void {
  const told = foretold(context.plan)[key].get(what);
  if (told !== undefined && told >= pieces) return;
  if (told === undefined && context.plan.participants.some(({ document }) => isUnread(document))) return;
  const message =
    told !== undefined
      ? `After some outcomes ${pieces} of \`${what}\` are needed, and what \`might-find:\` says of it has ${told}: that is what the quote tells the customer. Write \`items: { ${what}: ${pieces} }\` there, or correct what the steps take.`
      : `\`${what}\` is needed here only after some outcomes, and the quote says nothing of it. Write \`might-find:\` in this document, with \`${key === 'items' ? `items: { ${what}: ${amount} }` : `sublet: ${what}`}\` and the step \`at:\` which it shows.`;
  context.report('price/perhaps-unsaid', message, spanOf(step.step, step.verb), 'warning', what);
}

/** Something that might be found, and the step at which it shows. */
export interface Find {
  readonly id: string;
  readonly thing: MightFind;
  readonly at: PlanStep;
  /** Readings from before the job say that it is: it is part of the job, and ordered and charged with it. */
  readonly known: boolean;
}

/** What might be found in this job, without what readings from before it rule out. */
const findsIn = ({ plan, settled }: JobContext): Find[] =>
  plan.participants.flatMap((participant) =>
    Object.entries(participant.document['might-find'] ?? {}).flatMap(([id, thing]): Find[] => {
      const at = plan.steps.find((step) => step.participant === participant && step.step.id === thing.at);
      const shows = at && showsAt(at, settled);
      return at && shows !== false ? [{ id, thing, at, known: shows === true }] : [];
    }),
  );

/** Whether what shows at a step does, as far as outcomes are known: at one that waits for them, or that measures. */
function showsAt(step: PlanStep, settled: Facts): boolean | 'unknown' {
  if (step.conditional) return holds(step.conditional, settled);
  const outcomes =
    step.verb === 'measure' ? step.objects.map((object) => (Object.hasOwn(settled, object) ? settled[object] : undefined)) : [];
  if (outcomes.includes('outside')) return true;
  return outcomes.length > 0 && outcomes.every((one) => one === 'inside') ? false : 'unknown';
}

/** What is known to be found. */
export const foundIn = (context: JobContext): Find[] => findsIn(context).filter((one) => one.known);

/** What may be found or not. */
export const openFinds = (context: JobContext): Find[] => findsIn(context).filter((one) => !one.known);

/** What might be found, as it stands within a sentence. */
export const findWords = ({ says }: MightFind): string => says.replace(/[.\s]+$/, '');

const measures = {
  pieces: ['by the piece', 'how many of them', '2'],
  volume: ['by volume', 'how much of it', '2 L'],
  mass: ['by mass', 'how much of it', '50 g'],
} as const;

/** An amount of what is sold otherwise: grams of what comes in litres. Pieces of a fluid are its containers. */
export function tellOtherMeasure(context: JobContext, offers: PartsDocument['offers']): void {
  for (const { thing } of findsIn(context))
    for (const [item, amount] of Object.entries(thing.items ?? {})) {
      if ('pieces' in amount) continue;
      const sold = new Set(
        offers.flatMap(({ contains }) => (Object.hasOwn(contains, item) && contains[item] ? measureOf(contains[item]) : [])),
      );
      const [first] = sold;
      if (first === undefined || sold.has(measureOf(amount))) continue;
      const [by, howMuch, example] = measures[first];
      context.report(
        'quantity/wrong-dimension',
        `\`${item}\` is sold ${by}, and ${amount.quantity.text} of it stand here. Write ${howMuch} one case takes, for example \`${item}: ${example}\`.`,
        spanOf(thing.items ?? thing, item),
        'error',
        item,
      );
    }
}

const measureOf = (amount: Amount): keyof typeof measures =>
  'pieces' in amount ? 'pieces' : amount.quantity.unit.dimension === 'mass' ? 'mass' : 'volume';
