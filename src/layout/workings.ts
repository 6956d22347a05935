import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, paragraph, smallStyle, space, stack, strongStyle } from './blocks.js';
import type { Measure } from './page.js';

/** How each computed number came about: formula, inputs with where each came from, result, rounding. */
export function workingsPage(job: CompiledJob, measure: Measure, width: number): Block[] {
  return [
    { ...heading(measure, 'Workings', width, { newPage: true, running: true }) },
    paragraph(
      measure,
      `Every computed number of this sheet. \`baywright explain ${job.id} --value PATH\` prints one of them.`,
      width,
      smallStyle,
    ),
    space(4),
    ...job.workings.flatMap((one) => {
      const inputs = one.inputs.map((input) =>
        paragraph(measure, `${input.name}: ${input.value}  (${input.from})`, width - 14, smallStyle),
      );
      const body = stack(
        [
          paragraph(measure, `${one.of} = ${one.result}${one.rounding ? `  (rounding: ${one.rounding})` : ''}`, width, strongStyle),
          paragraph(measure, one.formula, width, smallStyle),
          ...inputs.map(
            (block): Block => ({ ...block, marks: block.marks.map((mark) => (mark.kind === 'text' ? { ...mark, x: mark.x + 14 } : mark)) }),
          ),
        ],
        1,
      );
      return [body, space(6)];
    }),
  ];
}
