import { oneOf } from '../../findings/suggest.js';
import type { WorkDocument } from '../../library/document.js';
import { isFor, neededId, vehiclesSaid } from '../../library/card.js';
import { workDocument } from '../../library/library.js';
import { inEachWay } from '../../plan/merge.js';
import { spanOf } from '../../schema/origin.js';
import type { RuleContext } from '../context.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/other-vehicle',
  severity: 'error',
  finds: 'Work on a vehicle that it is not written for.',
  why: 'Where parts are called the same, torques, steps and quantities may be others.',
  mend: 'Take what is written for this vehicle; or, once somebody has compared them, add the vehicle to its `for:`.',
  bad: {
    'vehicles/other-van.yaml': 'kind: vehicle\nid: other-van\nname: Other van\nsource: { document: Other book }\n',
    ...job('', 'steps:\n  - inspect: leaks\n'),
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: other-van\nplate: "AB 12"\nwork: [example] # <-\n',
  },
  good: job('', 'steps:\n  - inspect: leaks\n'),
  check(context, tell) {
    const { library } = context;
    for (const work of context.works)
      for (const [index, need] of (work.needs ?? []).entries()) {
        const id = neededId(need);
        for (const { id: vehicle } of context.vehiclesFor(work)) {
          const other = meantForAnother(context, id, vehicle);
          if (!other) continue;
          const what = other.id === id ? `\`${id}\`` : `\`${id}\` needs \`${other.id}\`, which`;
          tell({
            span: typeof need === 'string' ? spanOf(work.needs ?? work, index) : spanOf(need, id, 'key'),
            message: `${what} is written for ${vehiclesIn(other)}, and this is done on \`${vehicle}\`. ${mend(vehicle)}`,
          });
          break;
        }
      }
    for (const { work, vehicle } of context.jobs.flatMap(inEachWay))
      for (const [index, one] of work.entries()) {
        const document = workDocument(library, neededId(one));
        if (document && library.vehicles.has(vehicle) && isForOthers(context, document, vehicle))
          tell({
            span: spanOf(work, index),
            message: `\`${document.id}\` is written for ${vehiclesIn(document)}, and this job is on \`${vehicle}\`. ${mend(vehicle)}`,
          });
      }
  },
};

const vehiclesIn = (document: WorkDocument): string => oneOf(vehiclesSaid(document) ?? []);

const mend = (vehicle: string): string =>
  `Take what is written for that vehicle; or, once somebody has compared the two, add \`${vehicle}\` to its \`for:\`.`;

/** Whether a document says other vehicles. Where it says one that nobody knows, that is told, and may be what is meant. */
const isForOthers = (context: RuleContext, document: WorkDocument, vehicle: string): boolean =>
  !isFor(document, vehicle) && (vehiclesSaid(document) ?? []).every((id) => context.isShared('vehicles', id));

/** What is needed, or what that needs in turn, and is meant for other vehicles. What says its vehicles answers for its own needs. */
function meantForAnother(context: RuleContext, id: string, vehicle: string, seen = new Set<string>()): WorkDocument | null {
  const { library } = context;
  const document = seen.has(id) ? undefined : workDocument(library, id);
  seen.add(id);
  if (!document) return null;
  if (document.for !== undefined) return isForOthers(context, document, vehicle) ? document : null;
  for (const need of document.needs ?? []) {
    const found = meantForAnother(context, neededId(need), vehicle, seen);
    if (found) return found;
  }
  return null;
}
