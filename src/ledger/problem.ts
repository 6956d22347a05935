import type { PlanStep } from '../plan/plan.js';
import type { Line } from './ledger.js';
import type { TighteningProblem } from './tightening.js';

/** What is wrong with the order or the balance of a plan. Rules turn each kind into a finding. */
export type Problem =
  | TighteningProblem
  | { readonly kind: 'left-open'; readonly line: Line; readonly gates: readonly PlanStep[] }
  | { readonly kind: 'late'; readonly gate: PlanStep; readonly lines: readonly Line[] }
  | { readonly kind: 'loose-at-gate'; readonly gate: PlanStep; readonly part: string; readonly fitted: PlanStep }
  | { readonly kind: 'interlock'; readonly gate: PlanStep; readonly object: string; readonly closed: PlanStep | null }
  | {
      readonly kind: 'never-opened';
      readonly step: PlanStep;
      readonly object: string;
      /** The line that another step has closed already; null where none was open. */
      readonly before: Line | null;
    }
  | { readonly kind: 'opened-twice'; readonly step: PlanStep; readonly line: Line }
  | { readonly kind: 'covered'; readonly step: PlanStep; readonly object: string; readonly by: readonly string[] }
  | {
      readonly kind: 'tightened-covered';
      readonly step: PlanStep;
      readonly object: string;
      readonly part: string;
      readonly cover: string;
      readonly fitted: PlanStep;
    }
  | ShutIn
  | { readonly kind: 'count'; readonly step: PlanStep; readonly line: Line; readonly expected: number; readonly found: number }
  | { readonly kind: 'not-in-place'; readonly step: PlanStep; readonly temporary: string }
  | { readonly kind: 'not-running'; readonly step: PlanStep; readonly stopped: PlanStep | null };

/** A cover that goes on while what lies behind it is still off. */
export interface ShutIn {
  readonly kind: 'shut-in';
  readonly step: PlanStep;
  readonly object: string;
  readonly line: Line;
}
