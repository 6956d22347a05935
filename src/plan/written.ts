import { isVerb, type VerbName } from '../ledger/verbs.js';
import type { WorkDocument } from '../library/document.js';
import { asList, isParameter } from '../library/scope.js';
import { Few, once } from '../once.js';
import type { Step } from '../schema/generated/types.js';
import { type Moment, moments } from './plan.js';

/** A step as a document writes it, whatever the vehicle. */
export interface WrittenStep {
  readonly document: WorkDocument;
  readonly moment: Moment | null;
  readonly step: Step;
  /** Its first verb; null where it has none. */
  readonly verb: VerbName | null;
  /** How many verbs it has: a good step one. */
  readonly verbs: number;
  /** What its verb names, parameters not filled in. */
  readonly names: readonly string[];
  readonly takesParameters: boolean;
}

export interface Written {
  readonly steps: readonly WrittenStep[];
  /** The close-up, then the finals, a chain a moment. */
  readonly chains: readonly (readonly WrittenStep[])[];
  readonly all: readonly WrittenStep[];
}

/** How many chains each document has. */
export const chainsOfEach = 1 + moments.length;

/**
 * Of the documents that were asked for last: who asks for one does so several times, and then for long no more. No more than
 * these: what lives through two rounds of the collector takes memory that nobody has touched yet.
 */
const known = new Few<WorkDocument, Written>(4);

/** The steps that a document writes. */
export const writtenIn = (document: WorkDocument): Written =>
  once(known, document, () => {
    const all: WrittenStep[] = [];
    const list = (steps: readonly Step[] | undefined, moment: Moment | null): readonly WrittenStep[] => {
      const found: WrittenStep[] = [];
      for (const step of steps ?? []) {
        const one = written(document, moment, step);
        found.push(one);
        all.push(one);
      }
      return found;
    };
    const steps = list(document.steps, null);
    const chains = [list(document['close-up'], null)];
    for (const moment of moments) chains.push(list(document.final?.[moment], moment));
    return { steps, chains, all };
  });

function written(document: WorkDocument, moment: Moment | null, step: Step): WrittenStep {
  let verb: VerbName | null = null;
  let verbs = 0;
  for (const key in step)
    if (isVerb(key)) {
      verb ??= key;
      verbs++;
    }
  const names = verb ? eachOnce(asList(step[verb])) : noNames;
  return { document, moment, step, verb, verbs, names, takesParameters: names.some(isParameter) };
}

const noNames: readonly string[] = [];

/** What is named twice in one step is told where it is read, and done once. */
function eachOnce(names: readonly string[]): readonly string[] {
  if (names.length < 2) return names;
  const each = new Set(names);
  return each.size === names.length ? names : [...each];
}
