import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, paragraph, smallStyle, space, table, tick } from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { contentWidth, paginate } from './paginate.js';
import { box } from './style.js';

/** The tool list by drawer, with a tick when a tool is taken and one when it is back: nothing stays in the engine. */
export function toolList(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const boxed = (): Block => ({ height: box.side, marks: [tick(0, 0)] });
  const byDrawer = <T extends { readonly drawer: string | null; readonly name: string }>(tools: readonly T[]): T[] =>
    [...tools].sort(
      (a, b) => (a.drawer ?? '~').localeCompare(b.drawer ?? '~', 'en', { numeric: true }) || a.name.localeCompare(b.name, 'en'),
    );
  /** One table of what is carried out and back: a tick each way closes every row. */
  const carried = (title: string, columns: readonly { title: string; share: number }[], rows: readonly (readonly string[])[]): Block[] =>
    rows.length === 0
      ? []
      : [
          heading(measure, title, width),
          ...table(
            measure,
            [...columns, { title: 'out', share: 0.8 }, { title: 'back', share: 0.8 }],
            rows.map((cells) => [...cells, boxed(), boxed()]),
            width,
          ),
          space(8),
        ];
  const { special, torque, drives } = job.tools;
  const blocks: Block[] = [
    ...carried(
      'Special tools and instruments',
      [
        { title: 'drawer', share: 1.2 },
        { title: 'tool', share: 5 },
        { title: 'pieces', share: 1 },
      ],
      byDrawer(special).map((tool) => [tool.drawer ?? '', tool.name, String(tool.pieces)]),
    ),
    ...carried(
      'Torque tools',
      [
        { title: 'drawer', share: 1.1 },
        { title: 'tool', share: 2.6 },
        { title: 'range', share: 2 },
        { title: 'due', share: 1.7 },
        { title: 'really used', share: 2 },
      ],
      byDrawer(torque).map((tool) => [tool.drawer ?? '', tool.id, tool.range, tool.due ?? 'not known', '_________']),
    ),
    ...carried(
      'Sockets and keys',
      [{ title: 'size', share: 6 }],
      drives.map((drive) => [drive]),
    ),
  ];
  if (blocks.length === 0) blocks.push(paragraph(measure, 'This job needs no tool that is listed.', width));
  const pieces = special.reduce((sum, tool) => sum + tool.pieces, 0);
  if (pieces > 0)
    blocks.push(
      paragraph(
        measure,
        `Pieces of special tools that go out and come back: ${pieces}. Count them before the engine is turned.`,
        width,
        smallStyle,
      ),
    );
  return {
    title: `Tool list, job ${job.number}`,
    subject: job.vehicle.name,
    language: job.shop.locale,
    pages: paginate(blocks, job.shop.paper, jobFurniture(job, measure, 'TOOL LIST', { ledger: false, internal: true })),
  };
}
