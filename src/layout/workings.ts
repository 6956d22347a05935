import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, inset, paragraph, smallStyle, space, stack, strongStyle } from './blocks.js';
import { spelt } from './characters.js';
import type { Setting } from './setting.js';

/** How each computed number came about: formula, inputs with where each came from, result, rounding. */
export function workingsPage(job: CompiledJob, set: Setting, width: number): Block[] {
  const { workings } = set.words;
  const said = (text: string) => set.figure(workings.phrase(text));
  return [
    { ...heading(set, workings.title, width, { newPage: true, running: true }), step: null },
    paragraph(set, workings.intro(`baywright explain ${job.id} --value PATH`), width, smallStyle),
    space(4),
    ...job.workings.flatMap((one) => {
      const inputs = one.inputs.map((input) =>
        inset(
          paragraph(set, `${said(input.name)}: ${said(input.value)}  (${spelt(workings.phrase(input.from))})`, width - 14, smallStyle),
          14,
        ),
      );
      const result = `${one.of} = ${said(one.result)}${one.rounding ? `  ${workings.rounding(said(one.rounding))}` : ''}`;
      const body = stack(
        [paragraph(set, result, width, strongStyle), paragraph(set, workings.phrase(one.formula), width, smallStyle), ...inputs],
        1,
      );
      return [body, space(6)];
    }),
  ];
}
