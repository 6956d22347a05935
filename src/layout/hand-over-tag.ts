import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, blank, blankWidthOf, flow, framed, heading, paragraph, space, stack, strongStyle, table } from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { contentWidth, paginate } from './paginate.js';
import { rule, sizes } from './style.js';

/**
 * The tag that hangs on a vehicle when work stops after a step: what is open, what is still in there, what must not be
 * done, what comes next, and whether it is safe to leave.
 * @param after number of the last step done
 */
export function handOverTag(job: CompiledJob, measure: Measure, after: number): Paper {
  const width = contentWidth(job.shop.paper);
  const open = job.ledger.lines.filter((line) => line.opened <= after && (line.closed === null || line.closed > after));
  const inThere = open.filter((line) => line.temporary);
  const states = open.filter((line) => !line.temporary);
  const last = job.steps[after - 1];
  const next = job.steps[after];
  const forbidden = new Map<string, string[]>();
  for (const line of open) for (const action of line.before) forbidden.set(action, [...(forbidden.get(action) ?? []), line.name]);
  const verdict = last?.safeToLeave ? 'SAFE TO LEAVE' : 'NOT SAFE TO LEAVE';
  const blocks: Block[] = [
    paragraph(measure, `STOPPED AFTER STEP ${after}`, width, { size: sizes.title, weight: 'bold' }),
    paragraph(measure, last ? last.sentence : '', width, strongStyle),
    space(4),
    framed(paragraph(measure, verdict, width - 16, { size: sizes.title, weight: 'bold' }), width, 6, rule.heavy),
    space(5),
  ];
  if (forbidden.size > 0) {
    const rows = [...forbidden].map(([action, names]) => paragraph(measure, `${action}: open or in place ${listOf(names)}.`, width - 16));
    blocks.push(
      framed(stack([paragraph(measure, 'DO NOT', width - 16, { size: sizes.heading, weight: 'bold' }), ...rows], 3), width, 8, rule.heavy),
      space(8),
    );
  }
  blocks.push(
    heading(measure, 'Next', width),
    paragraph(
      measure,
      next ? `Step ${next.n}: ${next.sentence}${next.people > 1 ? ` (${next.people} persons)` : ''}` : 'The job is done.',
      width,
      { size: sizes.step, weight: 'bold' },
    ),
    space(6),
  );
  const columns = [
    { title: 'what, since step', share: 4.4 },
    { title: 'until', share: 1 },
  ];
  // Three banks beside each other, so that the tag stays one page.
  const banks = (lines: typeof open): Block[] => {
    const cells = lines.map((line) => [
      `${line.name}${line.count && line.count > 1 ? ` (${line.count})` : ''}, ${line.opened}`,
      line.closed === null ? '—' : String(line.closed),
    ]);
    const third = Math.ceil(cells.length / 3);
    const rows = Array.from({ length: third }, (_, index) => [0, 1, 2].flatMap((bank) => cells[index + bank * third] ?? ['', '']));
    return table(measure, [...columns, ...columns, ...columns], rows, width, { size: sizes.least, weight: 'regular' });
  };
  if (inThere.length > 0) blocks.push(heading(measure, `Still in there: ${inThere.length}`, width), ...banks(inThere), space(6));
  if (states.length > 0) blocks.push(heading(measure, `Open: ${states.length}`, width), ...banks(states), space(6));
  if (open.length === 0) blocks.push(paragraph(measure, 'Nothing is open.', width, strongStyle), space(6));
  blocks.push(
    flow(
      ['handed over by', 'taken over by', 'date, time'].map((label) => ({
        width: blankWidthOf(measure, label, '', 90),
        block: blank(measure, label, '', 90),
      })),
      width,
      6,
    ),
  );
  return {
    title: `Hand-over tag, job ${job.number}, after step ${after}`,
    subject: job.vehicle.name,
    language: job.shop.locale,
    pages: paginate(blocks, job.shop.paper, jobFurniture(job, measure, 'HAND-OVER TAG', { ledger: false, internal: true })),
  };
}

const listOf = (names: readonly string[]): string =>
  names.length > 4 ? `${names.slice(0, 3).join(', ')} and ${names.length - 3} more` : names.join(', ');
