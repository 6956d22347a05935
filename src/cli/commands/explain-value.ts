import { nearest, thereAre } from '../../findings/suggest.js';
import { compileJob } from '../../job/compile-job.js';
import { requireShop } from '../../library/library.js';
import type { CompiledJob, Working } from '../../schema/generated/compiled-job.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import { jobsNamed } from '../jobs.js';
import { absolute } from '../root.js';
import { openLibrary } from '../shop.js';

/**
 * How one number of a job came about. The path is that of `job.json`, `/` between the keys; a list is entered by its
 * number from 0, or by the code or id of its entry: `joints/T-09/stages/1/setting`.
 * @param path null, or an empty one, lists what can be explained
 */
export function explainValue(name: string, path: string | null, write: (text: string) => void): number {
  const { library, wasKept, keep } = openLibrary(realWorld.kindOf(absolute(name)) === 'file' ? name : undefined);
  // What a check has found is worth more than what is known after reading alone.
  if (!wasKept) keep({ library, names: [], looks: new Map() });
  requireShop(library);
  const job = jobsNamed(library, [name])[0];
  const compiled = job && compileJob(library, job);
  if (!compiled) throw new CannotRun(`${name} cannot be compiled; \`baywright check\` says why.`);
  const wanted = (path ?? '').replace(/^\/|\/$/g, '').replaceAll('.', '/');
  if (wanted === '') {
    const width = Math.max(...compiled.workings.map((one) => one.of.length));
    write(`${compiled.workings.map((one) => `${one.of.padEnd(width)}  ${one.result}`).join('\n')}\n`);
    return 0;
  }
  const working = compiled.workings.find((one) => one.of === wanted);
  if (working) write(textOf(working));
  else write(`${wanted} = ${valueAt(compiled, wanted)}\nIt is copied from the files or counted; there is no working to show.\n`);
  return 0;
}

const textOf = (working: Working): string => {
  const width = Math.max(...working.inputs.map((input) => input.name.length), 0);
  const inputs = working.inputs.map((input) => `  ${input.name.padEnd(width)}  ${input.value}  (${input.from})\n`).join('');
  return `${working.of} = ${working.result}\n\nFormula:  ${working.formula}\nInputs:\n${inputs}Result:   ${working.result}\nRounding: ${working.rounding ?? 'none'}\n`;
};

function valueAt(job: CompiledJob, path: string): string {
  let value: unknown = job;
  for (const key of path.split('/')) {
    const next = entryOf(value, key);
    if (next === undefined) {
      const known = job.workings.map((one) => one.of);
      const near = nearest(path, known);
      const keys = keysOf(value);
      throw new CannotRun(
        `There is no \`${key}\` in \`${path}\`.${near ? ` Did you mean \`${near}\`?` : keys.length > 0 ? ` ${thereAre(keys.slice(0, 12))}` : ''} \`baywright explain ${job.id} --value\` lists what can be explained.`,
      );
    }
    value = next;
  }
  return typeof value === 'string' ? value : JSON.stringify(value, null, 2);
}

const isEntry = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;

function entryOf(value: unknown, key: string): unknown {
  if (Array.isArray(value))
    return value[Number(key)] ?? value.find((one) => isEntry(one) && [one.code, one.id, one.n, one.number].map(String).includes(key));
  return isEntry(value) && Object.hasOwn(value, key) ? value[key] : undefined;
}

const keysOf = (value: unknown): string[] =>
  Array.isArray(value)
    ? value.flatMap((one) => (isEntry(one) ? [String(one.code ?? one.id ?? one.n ?? one.number ?? '')] : [])).filter(Boolean)
    : isEntry(value)
      ? Object.keys(value)
      : [];
