import { isDamaged, spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'tool/adapter-incomplete',
  severity: 'error',
  finds: 'An adapter of the tool list without its length.',
  why: 'The wrench is set wrong by what nobody knows.',
  mend: 'Write `offset:` from the square to the middle of the fastener, and `angle:` if it is not in line.',
  bad: { 'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('  gauge:', '  crowfoot: { type: adapter } # <-\n  gauge:') },
  good: { 'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('  gauge:', '  crowfoot: { type: adapter, offset: 40 mm }\n  gauge:') },
  looksAt: 'fasteners',
  check(context, tell) {
    const { tools } = context.library.shop ?? {};
    for (const { id, group } of context.fasteners) {
      const tool = group.adapter === undefined ? undefined : tools?.[group.adapter];
      if (tool && tool.type !== 'adapter' && !tool.offset && !isDamaged(tool))
        tell({
          span: spanOf(group, 'adapter'),
          message: `\`${group.adapter}\`, with which \`${id}\` is tightened, is no adapter in the tool list and has no \`offset:\`. Write \`type: adapter\` and its offset there: without it nobody knows what to dial.`,
        });
    }
  },
  compare({ library }, tell) {
    const tools = library.shop?.tools ?? {};
    for (const [id, tool] of Object.entries(tools))
      if (tool.type === 'adapter' && !tool.offset && !isDamaged(tool))
        tell({
          span: spanOf(tools, id, 'key'),
          message: `The adapter \`${id}\` has no \`offset:\` (from the square to the middle of the fastener). Measure it and write it: without it nobody knows what to dial.`,
        });
  },
};
