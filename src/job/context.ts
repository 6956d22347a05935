import type { Finding } from '../findings/finding.js';
import type { JobDocument, ShopDocument, VehicleDocument } from '../library/document.js';
import type { Library } from '../library/library.js';
import { type Scope, spoken } from '../library/scope.js';
import type { Facts } from '../library/variants.js';
import { jointsNamed } from '../ledger/joints.js';
import type { Walk } from '../ledger/walk.js';
import type { Plan, PlanStep } from '../plan/plan.js';
import type { Step, Working } from '../schema/generated/compiled-job.js';
import type { Span } from '../source/source.js';
import type { Words } from '../words/words.js';

/** What the parts of the compiler work on: the plan and where to report. */
export interface JobContext {
  readonly library: Library;
  readonly job: JobDocument;
  readonly shop: ShopDocument;
  readonly vehicle: VehicleDocument;
  /** The words of the language that the paper of this job is in. */
  readonly words: Words;
  readonly plan: Plan;
  readonly walk: Walk;
  /** Outcomes that are known before the job begins. */
  readonly settled: Facts;
  /** What the steps may still wait for: one set of outcomes a branch; a single empty one where nothing depends on any. */
  readonly branches: readonly Facts[];
  /** Number on the sheet of each step. */
  readonly numberOf: (step: PlanStep) => number;
  /** @param about what it is about, where one place may lack several things */
  readonly report: (rule: string, message: string, span: Span, severity?: Finding['severity'], about?: string) => void;
  /** Keeps how a figure comes about; it is made for paper alone. */
  readonly working: (make: () => Working) => void;
  /** Notes names of other documents that decide what is found here, as rules ask for them (`RuleContext.asked`): `all items`. */
  readonly asks: (...names: readonly string[]) => void;
}

export type CompiledStep = Step;

/** What a part, joint or thing is called on paper, in the language of the job. */
export const nameOf = (context: JobContext, scope: Scope, id: string): string => spoken(scope, id, context.words);

/** What is open or tightened, as paper calls it: a joint (`wheel-nuts@front-left-wheel`) with its place, where its group has several. */
export function nameWithPlace(context: JobContext, scope: Scope, object: string): string {
  const [id = object, place] = object.split('@');
  const name = nameOf(context, scope, id);
  return place && jointsNamed(context.plan.scope, id).length > 1 ? `${name}, ${nameOf(context, scope, place)}` : name;
}
