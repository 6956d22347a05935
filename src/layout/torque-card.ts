import type { CompiledJob, Joint } from '../schema/generated/compiled-job.js';
import { type Block, paragraph, stack } from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { shift } from './page.js';
import { contentWidth, paginate } from './paginate.js';
import { margins, papers, sizes } from './style.js';
import { afterWords } from '../words/en.js';

/** The torque card: every joint once, in order of use, in the biggest figures that fit one page. */
export function torqueCard(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const room = papers[job.shop.paper].height - margins.top - margins.bottom;
  const fitting = [18, 16, 15, 14].map((size) => rows(job, measure, width, size)).find((one) => stack(one).height <= room);
  return {
    title: `Torque card, job ${job.number}`,
    subject: job.work.map((one) => one.name).join('; '),
    language: job.shop.locale,
    pages: paginate(
      fitting ?? rows(job, measure, width, sizes.torque),
      job.shop.paper,
      jobFurniture(job, measure, 'TORQUE CARD', { ledger: false, internal: true }),
    ),
  };
}

function rows(job: CompiledJob, measure: Measure, width: number, size: number): Block[] {
  if (job.joints.length === 0) return [paragraph(measure, 'This job tightens nothing.', width)];
  return job.joints.map((joint) => row(measure, joint, width, size));
}

function row(measure: Measure, joint: Joint, width: number, size: number): Block {
  const left = width * 0.44;
  const name = paragraph(measure, `${joint.code}  ${joint.name}`, left - 8, { size: sizes.text, weight: 'bold' });
  const words = paragraph(
    measure,
    [
      `${joint.count} × ${joint.thread ?? ''}`,
      joint.drive,
      joint.renew ? 'NEW' : null,
      joint.threads === 'dry' ? null : joint.threads,
      joint.leftHand ? 'LEFT-HAND' : null,
    ]
      .filter((part) => part !== null)
      .join('  '),
    left - 8,
    { size: sizes.least, weight: 'regular' },
  );
  const stages = joint.stages.map((stage) => {
    const conditions = [stage.onGround ? 'ground' : null, stage.after ? (afterWords[stage.after] ?? stage.after) : null]
      .filter((part) => part !== null)
      .join(', ');
    return `${stage.kind === 'angle' ? '+' : ''}${stage.value}${conditions ? ` [${conditions}]` : ''}`;
  });
  const figures = paragraph(measure, stages.join('  ·  '), width - left, { size, weight: 'bold' });
  const tools = [
    ...new Set(joint.stages.flatMap((stage) => (stage.tool ? [stage.setting ? `${stage.tool} SET ${stage.setting}` : stage.tool] : []))),
  ].join(', ');
  const other = joint.stages.flatMap((stage) => (stage.kind === 'torque' && stage.other ? [stage.other] : [])).join(', ');
  const small = paragraph(measure, [tools, other ? `(${other})` : ''].filter(Boolean).join('  '), width - left, {
    size: sizes.least,
    weight: 'regular',
  });
  const a = stack([name, words]);
  const b = stack([figures, small]);
  const height = Math.max(a.height, b.height) + 3;
  return {
    height,
    marks: [...a.marks, ...shift(b.marks, left, 0), { kind: 'line', x: 0, y: height - 2, toX: width, toY: height - 2, width: 0.5 }],
  };
}
