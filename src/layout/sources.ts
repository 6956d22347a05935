import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, smallStyle, space, table } from './blocks.js';
import type { Setting } from './setting.js';

/** Where the figures of the job come from: each document with its revision and its source. */
export function sourcesBlocks(job: CompiledJob, set: Setting, width: number): Block[] {
  const { sources } = set.words;
  const cited = (source: CompiledJob['documents'][number]['source']): string =>
    source
      ? [source.document, source.section ? sources.section(source.section) : null, source.edition ? sources.edition(source.edition) : null]
          .filter((part) => part !== null)
          .join(', ')
      : '';
  const rows = job.documents.map((one) => [one.name, one.revision ?? '', cited(one.source)]);
  const joints = new Map<string, string[]>();
  for (const joint of job.joints) {
    const text = cited(joint.source);
    if (text) joints.set(text, [...(joints.get(text) ?? []), joint.code]);
  }
  const columns = [
    { title: sources.columns.document, share: 4 },
    { title: sources.columns.revision, share: 1.2 },
    { title: sources.columns.source, share: 5 },
  ];
  const all = [...rows, ...[...joints].map(([text, codes]) => [codes.join(', '), '', text])];
  return [space(8), heading(set, sources.title, width), ...table(set, columns, all, width, smallStyle)];
}
