import { once } from '../once.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, paragraph, smallStyle, space } from './blocks.js';
import type { Setting } from './setting.js';

/** Where the figures of the job come from: each source with the documents and joints that follow it, each with its revision. */
export function sourcesBlocks(job: CompiledJob, set: Setting, width: number): Block[] {
  const { sources, head, first } = set.words;
  const cited = (source: CompiledJob['documents'][number]['source']): string =>
    source
      ? [
          source.document,
          source.section ? sources.section(source.section) : null,
          source.edition ? sources.edition(source.edition) : null,
          source.checked ? sources.checked(source.checked) : null,
        ]
          .filter((part) => part !== null)
          .join(', ')
      : sources.none;
  const users = new Map<string, string[]>();
  const use = (source: string, user: string) => void once(users, source, () => []).push(user);
  const named = (name: string, notes: readonly (string | null)[]): string => {
    const said = notes.filter((note) => note !== null);
    return said.length > 0 ? `${name} (${said.join(', ')})` : name;
  };
  const { vehicle } = job;
  use(cited(vehicle.source), named(vehicle.name, [vehicle.revision && first.profile(vehicle.revision)]));
  for (const { name, revision, checked, source } of job.documents)
    use(
      cited(source),
      named(name, [revision && head.revision(revision), checked && sources.checked(`${checked.by}, ${set.date(checked.on)}`)]),
    );
  for (const { what, source } of job.cited) use(cited(source), what);
  for (const joint of job.joints) if (joint.source) use(cited(joint.source), joint.code);
  const all = [...users].sort(([a], [b]) => Number(a === sources.none) - Number(b === sources.none));
  return [
    heading(set, sources.title, width),
    ...all.map(([source, by]) => paragraph(set, `${source}: ${by.join(', ')}`, width, smallStyle)),
    space(6),
  ];
}
