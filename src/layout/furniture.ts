import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { inOneLine, leastStyle, lines, textLine } from './blocks.js';
import { element, type Mark } from './page.js';
import type { Furniture } from './paginate.js';
import { codeMask, codeText, qrCode } from './qr.js';
import type { Setting } from './setting.js';
import { margins, mm, rule, sizes } from './style.js';

/** The end of the number that the vehicle itself carries: what is compared at a glance. */
export function numberEnd({ vin, serial }: CompiledJob['vehicle'], { head }: Setting['words']): string | null {
  if (vin) return head.vin(vin.slice(-8));
  return serial ? head.serial(serial.slice(-8)) : null;
}

/** Head and foot of every page: pages get separated, so that each says whose it is, what is open, and whether it is safe to leave. */
export function jobFurniture(
  job: CompiledJob,
  set: Setting,
  title: string,
  options: { readonly ledger: boolean; readonly internal: boolean },
): Furniture {
  const { head, safe, notSafe } = set.words;
  const documents = job.documents
    .filter((document) => document.kind === 'procedure')
    .map((document) => `${document.id}${document.revision ? ` ${head.revision(document.revision)}` : ''}`);
  const identity = inOneLine(
    [head.job(job.number), job.vehicle.plate, numberEnd(job.vehicle, set.words)].filter((part) => part !== null).join('   '),
  );
  const capitals = title.toLocaleUpperCase(job.shop.locale);
  const text = (text: string, x: number, y: number, size: number, weight: 'regular' | 'semibold' | 'bold'): Mark => ({
    kind: 'text',
    x,
    y,
    size,
    weight,
    text,
  });
  const mask = codeMask(job);
  return ({ number, of, step }, width, height) => {
    const right = width - margins.right;
    const flush = (words: string, y: number, size: number, weight: 'regular' | 'bold'): Mark =>
      text(words, right - set.width(words, size, weight), y, size, weight);
    const marks: Mark[] = [
      text(identity, margins.left + set.width(capitals, sizes.text, 'bold') + 12, mm(9), sizes.text, 'semibold'),
      flush(head.page(number, of), mm(9), sizes.text, 'bold'),
      { kind: 'line', x: margins.left, y: mm(21.5), toX: right, toY: mm(21.5), width: rule.thin },
    ];
    const below = [job.vehicle.name, ...(options.internal ? documents : [])].join('   ');
    lines(set, below, right - margins.left, leastStyle)
      .slice(0, 2)
      .forEach((line, index) => void marks.push(text(line, margins.left, mm(14) + index * sizes.least * 1.2, sizes.least, 'regular')));
    const foot = height - mm(15);
    marks.push({ kind: 'line', x: margins.left, y: foot - 4, toX: right, toY: foot - 4, width: rule.thin });
    marks.push(qrCode(codeText(job, number, of), mask, margins.left + mm(22), foot - 1, mm(10.5)));
    const beside = margins.left + mm(37);
    marks.push(
      text(job.digest.slice(0, 8), beside, foot, sizes.least, 'regular'),
      text(`${set.date(job.date)}   ${head.validity}`, beside, foot + 14, sizes.least, 'regular'),
    );
    if (options.ledger && step !== null) {
      const last = job.steps[step - 1];
      const state = last ? `${head.open(step, last.openAfter, last.looseAfter)}   ${last.safeToLeave ? safe : notSafe}` : '';
      marks.push(flush(state, foot - 1, sizes.text, 'bold'), flush(`${head.initials} ______`, foot + 14, sizes.least, 'regular'));
    }
    if (job.draft) marks.push({ kind: 'across', text: head.draft }, text(head.draftLine, margins.left, mm(3.5), sizes.text, 'bold'));
    const titled = textLine(capitals, margins.left, mm(9), { size: sizes.text, weight: 'bold' });
    // The title is the heading of the document where it stands first; on the pages after it is said again for the eye only.
    return number === 1 ? [{ ...titled, tag: 'H1' }, element('Artifact', marks)] : [element('Artifact', [...titled.children, ...marks])];
  };
}
