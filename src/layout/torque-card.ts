import type { CompiledJob, Joint } from '../schema/generated/compiled-job.js';
import { type Block, beside, leastStyle, paragraph, stack } from './blocks.js';
import { boltMap, hasMap } from './bolt-map.js';
import type { Mark, Measure, Paper } from './page.js';
import { contentWidth } from './paginate.js';
import { paperOf } from './paper.js';
import { type Setting, settingOf } from './setting.js';
import { margins, papers, sizes } from './style.js';
import { whenAgain } from './torque-strip.js';

/** The torque card: every joint once, in order of use, in the biggest figures that fit one page, its map beside it where there is room. */
export function torqueCard(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const set = settingOf(job, measure);
  const room = papers[job.shop.paper].height - margins.top - margins.bottom;
  const tries = [true, false].flatMap((maps) => [18, 16, 15, sizes.torque].map((size) => () => rows(job, set, width, size, maps)));
  const fitting = [...tries, () => [twoColumns(job, set, width)]].map((make) => make()).find((one) => stack(one).height <= room);
  const blocks = fitting ?? rows(job, set, width, sizes.torque, false);
  return paperOf(job, set, 'torque-card', blocks, { subject: job.work.map((one) => one.name).join('; ') });
}

function rows(job: CompiledJob, set: Setting, width: number, size: number, maps: boolean): Block[] {
  if (job.joints.length === 0) return [paragraph(set, set.words.torque.nothing, width)];
  const room = maps && job.joints.some(hasMap) ? mapWidth : 0;
  return job.joints.map((joint) => row(set, joint, width, size, room));
}

/** Two columns of about the same height, for the jobs with most joints. */
function twoColumns(job: CompiledJob, set: Setting, width: number): Block {
  const wide = (width - 14) / 2;
  const all = rows(job, set, wide, sizes.torque, false);
  const half = stack(all).height / 2;
  let left = 0;
  while (left < all.length && stack(all.slice(0, left)).height < half) left++;
  return beside([
    { x: 0, block: stack(all.slice(0, left)) },
    { x: wide + 14, block: stack(all.slice(left)) },
  ]);
}

const mapWidth = 120;

/** @param room width that is kept free for maps */
function row(set: Setting, joint: Joint, width: number, size: number, room: number): Block {
  const { torque, threads } = set.words;
  const { figure } = set;
  const left = (width - room) * 0.44;
  const right = width - left - room - (room > 0 ? 8 : 0);
  const name = paragraph(set, `${joint.code}  ${joint.name}`, left - 8, { size: sizes.text, weight: 'bold' });
  const about = [
    `${joint.count} × ${joint.thread ?? ''}`,
    joint.drive ? set.words.drive(joint.drive) : null,
    joint.renew ? torque.fresh : null,
    joint.threads === 'dry' || joint.threads === null ? null : (threads[joint.threads] ?? joint.threads),
    joint.leftHand ? torque.leftHandShort : null,
  ].filter((part) => part !== null);
  const words = paragraph(set, about.join('  '), left - 8, leastStyle);
  const due = joint.stages.slice(joint.firstStage - 1);
  const stages = due.map((stage) => {
    const conditions = [stage.onGround ? torque.ground : null, whenAgain(set, stage)].filter((part) => part !== null).join(', ');
    // Neither what a figure is of nor its condition stands apart from it: at the end of a line it would be read with the next.
    const words = `${stage.kind === 'angle' ? '+' : ''}${figure(stage.value)}`.replaceAll(' ', '\u00a0');
    return `${words}${conditions ? `\u00a0[${conditions}]` : ''}`;
  });
  const figures = paragraph(set, stages.join('  ·  '), right, { size, weight: 'bold' });
  const tools = [
    ...new Set(
      due.flatMap((stage) => (stage.tool ? [stage.setting ? torque.setShort(stage.tool, figure(stage.setting)) : stage.tool] : [])),
    ),
  ].join(', ');
  const other = due.flatMap((stage) => (stage.kind === 'torque' && stage.other ? [figure(stage.other)] : [])).join(', ');
  const small = paragraph(set, [tools, other ? `(${other})` : ''].filter(Boolean).join('  '), right, leastStyle);
  const body = beside([
    { x: 0, block: stack([name, words]) },
    { x: left, block: stack([figures, small]) },
    ...(room > 0 && hasMap(joint) ? [{ x: width - room, block: boltMap(set, joint, room, 54) }] : []),
  ]);
  const height = body.height + 3;
  const below: Mark = { kind: 'line', x: 0, y: height - 2, toX: width, toY: height - 2, width: 0.5 };
  return { height, pieces: [...body.pieces, below] };
}
