import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { lines } from './blocks.js';
import type { Mark, Measure } from './page.js';
import type { Furniture } from './paginate.js';
import { codeText, qrCode } from './qr.js';
import { margins, mm, rule, sizes } from './style.js';

/** Head and foot of every page: pages get separated, so that each says whose it is, what is open, and whether it is safe to leave. */
export function jobFurniture(
  job: CompiledJob,
  measure: Measure,
  title: string,
  options: { readonly ledger: boolean; readonly internal: boolean },
): Furniture {
  const documents = job.documents
    .filter((document) => document.kind === 'procedure')
    .map((document) => `${document.id}${document.revision ? ` rev. ${document.revision}` : ''}`);
  const identity = [`Job ${job.number}`, job.vehicle.plate, job.vehicle.vin ? `VIN …${job.vehicle.vin.slice(-8)}` : null]
    .filter((part) => part !== null)
    .join('   ');
  return ({ number, of, step }, width, height) => {
    const right = width - margins.right;
    const page = `page ${number}/${of}`;
    const marks: Mark[] = [
      { kind: 'text', x: margins.left, y: mm(9), size: sizes.text, weight: 'bold', text: title },
      {
        kind: 'text',
        x: margins.left + measure.width(title, sizes.text, 'bold') + 12,
        y: mm(9),
        size: sizes.text,
        weight: 'semibold',
        text: identity,
      },
      { kind: 'text', x: right - measure.width(page, sizes.text, 'bold'), y: mm(9), size: sizes.text, weight: 'bold', text: page },
      { kind: 'line', x: margins.left, y: mm(21.5), toX: right, toY: mm(21.5), width: rule.thin },
    ];
    const below = [job.vehicle.name, ...(options.internal ? documents : [])].join('   ');
    lines(measure, below, right - margins.left, { size: sizes.least, weight: 'regular' })
      .slice(0, 2)
      .forEach(
        (text, index) =>
          void marks.push({
            kind: 'text',
            x: margins.left,
            y: mm(14) + index * sizes.least * 1.2,
            size: sizes.least,
            weight: 'regular',
            text,
          }),
      );
    const foot = height - mm(15);
    marks.push({ kind: 'line', x: margins.left, y: foot - 4, toX: right, toY: foot - 4, width: rule.thin });
    marks.push(...qrCode(codeText(job, number, of), margins.left + mm(22), foot - 1, mm(10.5)));
    const left = `${job.digest.slice(0, 8)}   ${job.date}   valid for this job only`;
    marks.push({ kind: 'text', x: margins.left + mm(37), y: foot, size: sizes.least, weight: 'regular', text: left });
    if (options.ledger && step !== null) {
      const last = job.steps[step - 1];
      const state = last ? `after step ${step}: ${last.openAfter} open   ${last.safeToLeave ? 'SAFE TO LEAVE' : 'NOT SAFE TO LEAVE'}` : '';
      marks.push({
        kind: 'text',
        x: right - measure.width(state, sizes.text, 'bold'),
        y: foot - 1,
        size: sizes.text,
        weight: 'bold',
        text: state,
      });
      const initials = 'initials ______';
      marks.push({
        kind: 'text',
        x: right - measure.width(initials, sizes.least, 'regular'),
        y: foot + 14,
        size: sizes.least,
        weight: 'regular',
        text: initials,
      });
    }
    if (job.draft)
      marks.push(
        { kind: 'across', text: 'DRAFT' },
        {
          kind: 'text',
          x: margins.left,
          y: mm(3.5),
          size: sizes.text,
          weight: 'bold',
          text: 'DRAFT, not released: errors are open. Do not work from this sheet.',
        },
      );
    return marks;
  };
}
