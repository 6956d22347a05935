import type { PlanStep } from '../plan/plan.js';
import type { Part, Temporary } from '../schema/generated/types.js';
import { offPairs, type Pair, temporaryPairs, type Verb } from './verbs.js';

/** What a line of the ledger is about; of those that are open, each has another key. */
export interface LineName {
  readonly key: string;
  readonly pair: Pair;
  readonly object: string;
}

/** One line of the ledger: something taken from the vehicle, or left in it, that must be given back. */
export interface Line extends LineName {
  readonly kind: 'state' | 'temporary';
  /** Its part is off, or open. */
  readonly isOff: boolean;
  readonly opened: PlanStep;
  /** How many pieces, where that was said. */
  readonly count: number | null;
  /** What it is about, as whoever opened it knows it. */
  readonly part: Part | undefined;
  readonly temporary: Temporary | undefined;
  /** Opened again while it was open. */
  again: PlanStep[];
  /** The step that closes it; of several, each after another outcome, the last. */
  closed: PlanStep | null;
  /** The others of those. */
  readonly closedBefore: PlanStep[];
}

export const lineName = (pair: Pair, object: string): LineName => ({ key: `${pair} ${object}`, pair, object });

/** The lines that a verb opens or closes, one for each object. */
export function linesOf({ opens, closes }: Verb, objects: readonly string[]): readonly LineName[] {
  const pair = opens ?? closes;
  return pair ? objects.map((object) => lineName(pair, object)) : noLines;
}

const noLines: readonly LineName[] = [];

export function newLine({ key, pair, object }: LineName, opened: PlanStep, count: number | null): Line {
  const { parts, temporaries } = opened.participant.scope;
  return {
    key,
    pair,
    object,
    kind: temporaryPairs.has(pair) ? 'temporary' : 'state',
    isOff: offPairs.has(pair),
    opened,
    count,
    // Of a joint that is loose, the part that it holds.
    part: parts.get(pair === 'loosen' ? object.slice(object.indexOf('@') + 1) : object),
    temporary: pair === 'place' ? temporaries.get(object) : undefined,
    again: [],
    closed: null,
    closedBefore: [],
  };
}
