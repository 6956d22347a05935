import type { CompiledJob } from '../schema/generated/compiled-job.js';
import type { Source } from '../schema/generated/types.js';
import type { JobContext } from './context.js';

type Cited = CompiledJob['cited'][number];

/** Where something says that it comes from. */
export const sourceOf = ({ source }: { readonly source?: Source }): Cited['source'] | null =>
  source
    ? { document: source.document, section: source.section ?? null, edition: source.edition ?? null, checked: source.checked ?? null }
    : null;

/** The figures of a job, besides those of joints, that come from elsewhere than the document they stand in: by name or code. */
export function citedIn(
  { plan: { scope } }: JobContext,
  used: {
    readonly fluids: readonly { readonly id: string; readonly name: string }[];
    readonly charges: readonly { readonly id: string; readonly name: string }[];
    readonly measurements: ReadonlyMap<string, string>;
    readonly choices: ReadonlyMap<string, string>;
  },
): Cited[] {
  const cited: Cited[] = [];
  const cite = (what: string, thing: { readonly source?: Source } | undefined): void => {
    const source = thing && sourceOf(thing);
    if (source) cited.push({ what, source });
  };
  for (const { id, name } of used.fluids) cite(name, scope.fluids.get(id));
  for (const { id, name } of used.charges) cite(name, scope.charges.get(id));
  for (const [id, code] of used.measurements) cite(code, scope.measurements.get(id));
  for (const [id, code] of used.choices) cite(code, scope.choices.get(id));
  return cited;
}
