import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { inOrder } from '../order.js';
import { type Block, blanks, paragraph, section, smallStyle } from './blocks.js';
import { table, tickBlock } from './rows.js';
import type { Measure, Paper } from './page.js';
import { contentWidth } from './paginate.js';
import { paperOf } from './paper.js';
import { settingOf } from './setting.js';

/** What is left behind in the engine is found by this. */
const turning: ReadonlySet<string> = new Set(['turn', 'crank', 'start']);

/** The tool list by drawer, with a tick when a tool is taken and one when it is back: nothing stays in the engine. */
export function toolList(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const set = settingOf(job, measure);
  const { tools: words } = set.words;
  const { columns: titles } = words;
  const byDrawer = <T extends { readonly drawer: string | null; readonly name: string }>(tools: readonly T[]): T[] =>
    [...tools].sort((a, b) => inOrder(a.drawer ?? '~', b.drawer ?? '~') || inOrder(a.name, b.name));
  /** One table of what is carried out and back: a tick each way closes every row. */
  const carried = (
    title: string,
    columns: readonly { title: string; share: number }[],
    rows: readonly { readonly id: string; readonly cells: readonly (string | Block)[] }[],
  ): Block[] => {
    if (rows.length === 0) return [];
    const ways = [
      { title: titles.out, share: 0.9 },
      { title: titles.back, share: 0.9 },
    ];
    const ticked = rows.map(({ id, cells }) => [
      ...cells,
      tickBlock(`tool/${id}/out`, `${id} ${titles.out}`),
      tickBlock(`tool/${id}/back`, `${id} ${titles.back}`),
    ]);
    return section(set, title, width, table(set, [...columns, ...ways], ticked, width), 8);
  };
  const { special, torque, drives } = job.tools;
  const blocks: Block[] = [
    ...carried(
      words.special,
      [
        { title: titles.drawer, share: 1.2 },
        { title: titles.tool, share: 5 },
        { title: titles.pieces, share: 1 },
      ],
      byDrawer(special).map((tool) => ({ id: tool.id, cells: [tool.drawer ?? '', tool.name, String(tool.pieces)] })),
    ),
    ...carried(
      words.torque,
      [
        { title: titles.drawer, share: 1.1 },
        { title: titles.tool, share: 1.6 },
        { title: titles.range, share: 2 },
        { title: titles.due, share: 2.7 },
        { title: titles.used, share: 2 },
      ],
      byDrawer(torque).map((tool) => {
        const due = [tool.due ? set.date(tool.due) : words.unknown, tool.certificate].filter((one) => one !== null).join(', ');
        const really = blanks(set, [{ key: `tool/${tool.id}/used`, label: '', width: 60, says: `${tool.id} ${titles.used}` }], 70);
        return { id: tool.id, cells: [tool.drawer ?? '', tool.id, set.figure(tool.range), due, really] };
      }),
    ),
    ...carried(
      words.sockets,
      [{ title: titles.size, share: 6 }],
      drives.map((drive) => ({ id: drive, cells: [set.words.drive(drive)] })),
    ),
  ];
  if (blocks.length === 0) blocks.push(paragraph(set, words.none, width));
  const pieces = special.reduce((sum, tool) => sum + tool.pieces, 0);
  if (pieces > 0)
    blocks.push(
      paragraph(
        set,
        words.count(
          pieces,
          job.steps.some(({ verb }) => turning.has(verb)),
        ),
        width,
        smallStyle,
      ),
    );
  return paperOf(job, set, 'tool-list', blocks);
}
