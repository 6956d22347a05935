import type { PlanStep } from '../plan/plan.js';
import { type Pair, temporaryPairs } from './verbs.js';

/** One line of the ledger: something taken from the vehicle, or left in it, that must be given back. */
export interface Line {
  readonly pair: Pair;
  readonly object: string;
  readonly kind: 'state' | 'temporary';
  readonly opened: PlanStep;
  /** How many pieces, where that was said. */
  readonly count: number | null;
  /** The profile names what it must be closed before. */
  readonly due: boolean;
  /** Opened again while it was open. */
  again: PlanStep[];
  closed: PlanStep | null;
}

export const lineKey = (pair: Pair, object: string): string => `${pair} ${object}`;

export function newLine(pair: Pair, object: string, opened: PlanStep, count: number | null): Line {
  const { parts, temporaries } = opened.participant.scope;
  return {
    pair,
    object,
    kind: temporaryPairs.has(pair) ? 'temporary' : 'state',
    opened,
    count,
    due: parts.get(object)?.['due-before'] !== undefined || temporaries.get(object)?.['due-before'] !== undefined,
    again: [],
    closed: null,
  };
}
