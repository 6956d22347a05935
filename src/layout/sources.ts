import { once } from '../once.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, paragraph, smallStyle, space } from './blocks.js';
import type { Setting } from './setting.js';

/** Where the figures of the job come from: each source with the documents and joints that follow it, each with its revision. */
export function sourcesBlocks(job: CompiledJob, set: Setting, width: number): Block[] {
  const { sources, head } = set.words;
  const cited = (source: CompiledJob['documents'][number]['source']): string =>
    source
      ? [source.document, source.section ? sources.section(source.section) : null, source.edition ? sources.edition(source.edition) : null]
          .filter((part) => part !== null)
          .join(', ')
      : sources.none;
  const users = new Map<string, string[]>();
  const use = (source: string, user: string) => void once(users, source, () => []).push(user);
  for (const one of job.documents) use(cited(one.source), `${one.name}${one.revision ? ` (${head.revision(one.revision)})` : ''}`);
  for (const joint of job.joints) if (joint.source) use(cited(joint.source), joint.code);
  const named = [...users].sort(([a], [b]) => Number(a === sources.none) - Number(b === sources.none));
  return [
    heading(set, sources.title, width),
    ...named.map(([source, by]) => paragraph(set, `${source}: ${by.join(', ')}`, width, smallStyle)),
    space(6),
  ];
}
