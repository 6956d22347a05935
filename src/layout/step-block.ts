import type { Charge, CompiledJob, Fluid, Measurement, Step } from '../schema/generated/compiled-job.js';
import {
  type Block,
  beside,
  blank,
  blankWidthOf,
  flow,
  framed,
  inset,
  paragraph,
  plainStyle,
  smallStyle,
  space,
  stack,
  strongStyle,
  table,
  tick,
} from './blocks.js';
import type { Mark, Measure } from './page.js';
import { shift } from './page.js';
import { caution } from './signs.js';
import { box, rule, sizes } from './style.js';
import { torqueStrip } from './torque-strip.js';

const numberWidth = 32;

/** A step as it stands on the bay sheet: cautions above it, its action and tick box, what it opens and closes, blanks and torque. */
export function stepBlocks(measure: Measure, job: CompiledJob, step: Step, width: number): Block[] {
  const cautions = step.cautions.map((one) => inset(caution(measure, one, width - numberWidth), numberWidth));
  const words = width - numberWidth - box.side - 10;
  const number: Mark = { kind: 'text', x: 0, y: 1, size: sizes.step + 1.5, weight: 'bold', text: String(step.n) };
  const action = paragraph(measure, step.onlyIf ? `ONLY IF ${step.onlyIf}: ${step.sentence}` : step.sentence, words, {
    size: sizes.step,
    weight: 'bold',
  });
  const head: Block = {
    height: Math.max(action.height, step.opens.some((one) => one.temporary) ? 0 : box.side),
    marks: [number, ...shift(action.marks, numberWidth, 1), tick(width - box.side, 0)],
  };
  const parts: Block[] = [head];
  const under = (block: Block) => void parts.push(inset(block, numberWidth));
  const text = (content: string, style = plainStyle) => under(paragraph(measure, content, words, style));
  if (step.where) text(step.where, smallStyle);
  if (step.says) text(step.says);
  if (step.why) text(`Why: ${step.why}`, smallStyle);
  const notes = notesOf(step);
  if (notes) text(notes, smallStyle);
  if (step.parts.length > 0)
    text(`NEW: ${step.parts.map((one) => `${one.count} × ${one.name} (${one.count} out, ${one.count} in)`).join(', ')}`, {
      size: sizes.small,
      weight: 'semibold',
    });
  for (const code of step.measurements) {
    const one = job.measurements.find((candidate) => candidate.code === code);
    if (one) under(measurementBlock(measure, one, width - numberWidth));
  }
  if (step.choice) under(choiceBlock(measure, job, step.choice, width - numberWidth));
  const charge = job.charges.find((one) => one.steps.includes(step.n));
  if (charge) under(chargeBlock(measure, charge, step, width - numberWidth));
  const fluid = job.fluids.find((one) => one.id === step.fluid);
  if (fluid) under(fluidBlock(measure, fluid, step, width - numberWidth));
  for (const { joint: code, stages } of step.torque) {
    const joint = job.joints.find((one) => one.code === code);
    if (joint && stages.length > 0) under(torqueStrip(measure, joint, stages, width - numberWidth));
  }
  if (step.secondPerson)
    under(
      signBlock(measure, `${step.secondPerson.code}  SECOND PERSON looks at: ${step.secondPerson.look}`, width - numberWidth, [
        'initials',
        'time',
      ]),
    );
  if (step.authority)
    under(
      signBlock(measure, `${step.authority.code}  ASK THE CUSTOMER before going on: ${step.authority.why}`, width - numberWidth, [
        'who said yes',
        'time',
      ]),
    );
  const body = stack(parts, 3);
  const line: Mark = { kind: 'line', x: numberWidth, y: body.height + 4, toX: width, toY: body.height + 4, width: rule.hair };
  return [...cautions, { height: body.height + 9, marks: [...body.marks, line], step: step.n }];
}

/** What it opens and closes with the partner step, tools, persons, time, vessel. */
function notesOf(step: Step): string {
  const opened = step.opens.map((one) =>
    one.temporary ? `${one.name}: in here, OUT AT STEP ${one.partner ?? '—'}` : `${one.name}: closed at step ${one.partner ?? '—'}`,
  );
  const closed = step.closes.map((one) =>
    one.temporary ? `${one.name}: out here, in since step ${one.partner}` : `${one.name}: open since step ${one.partner}`,
  );
  const other = [
    step.with.length > 0 ? `tools: ${step.with.map((one) => one.name).join(', ')}` : null,
    step.people > 1 ? `${step.people} PERSONS` : null,
    step.wear.length > 0 ? `wear: ${step.wear.join(', ').replaceAll('-', ' ')}` : null,
    step.at ? `at ${step.at}` : null,
    step.onGround ? 'wheels on the ground' : null,
    step.into ? `vessel ${step.into} or larger` : null,
    step.until ? `until: ${step.until}` : null,
    step.unattended ? `runs ${step.unattended} by itself: go on with a step that needs nothing of this` : null,
    step.qualification ? `qualified for: ${step.qualification}` : null,
    step.figure ? `figure: ${step.figure}` : null,
  ].filter((part) => part !== null);
  return [...opened, ...closed, ...other].join('  ·  ');
}

const takesWords: Readonly<Record<string, string>> = {
  each: 'each reading counts',
  mean: 'the mean counts',
  max: 'the largest counts',
  min: 'the smallest counts',
  variation: 'largest less smallest counts',
  difference: 'the difference counts',
};

function measurementBlock(measure: Measure, one: Measurement, width: number): Block {
  const words = `${one.code}  ${one.name}: ${one.limit ? one.limit : 'write it down'}${one.takes ? ` (${takesWords[one.takes] ?? one.takes})` : ''}${one.spread ? `; the readings differ by no more than ${one.spread.replace(/^max /, '')}` : ''}${one.with ? `, with ${one.with}` : ''}${one.expected ? `; before the job ${one.expected}${one.verdict ? `: ${one.verdict}` : ''}` : ''}`;
  const blanks = Array.from({ length: one.points }, (_, index) => {
    const label = one.points > 1 ? `${index + 1}` : one.code;
    return { width: blankWidthOf(measure, label, one.unit), block: blank(measure, label, one.unit) };
  });
  const outside = one.outside ? [paragraph(measure, `Outside: ${one.outside}`, width - 12, smallStyle)] : [];
  return framed(stack([paragraph(measure, words, width - 12, strongStyle), flow(blanks, width - 12), ...outside], 4), width, 5, rule.hair);
}

function choiceBlock(measure: Measure, job: CompiledJob, code: string, width: number): Block {
  const choice = job.choices.find((one) => one.code === code);
  if (!choice) return space(0);
  const rows = table(
    measure,
    [
      { title: `${choice.code}  ${choice.name}, from ${choice.from}`, share: 4 },
      { title: 'gives', share: 3 },
      { title: 'tick', share: 1 },
    ],
    choice.rows.map((row) => [
      row.range,
      `${row.name}${row.item === choice.expected ? ' (expected)' : ''}`,
      { height: box.side, marks: [tick(0, 0)] },
    ]),
    width,
  );
  const outside = choice.outside ? [paragraph(measure, `Outside the table: ${choice.outside}`, width, smallStyle)] : [];
  return stack([...rows, ...outside], 1);
}

function fluidBlock(measure: Measure, fluid: Fluid, step: Step, width: number): Block {
  const inner = width - 12;
  if (step.verb === 'drain') {
    const words = `${fluid.name}: ${fluid.drained} L expected${fluid.tolerance ? ` (${fluid.tolerance})` : ''} through ${fluid.through.join(' and ')}. ${fluid.residue} L stay in. Much less or more: find out why before going on.`;
    return framed(
      stack([paragraph(measure, words, inner), blank(measure, `${fluid.blanks.recovered} recovered`, 'L')], 4),
      width,
      5,
      rule.hair,
    );
  }
  const blanks = flow(
    [
      { width: blankWidthOf(measure, `${fluid.blanks.poured} poured`, 'L'), block: blank(measure, `${fluid.blanks.poured} poured`, 'L') },
      {
        width: 230,
        block: paragraph(
          measure,
          `less ${fluid.blanks.recovered}: the difference is what was missing before${fluid.tolerance ? `; more than the ${fluid.drained} L (${fluid.tolerance}) of the profile allow needs a reason` : ''}`,
          220,
          smallStyle,
        ),
      },
    ],
    inner,
  );
  const parts: Block[] = [];
  if (fluid.mix) {
    const { mix } = fluid;
    parts.push(
      paragraph(measure, `${Number(mix.concentrate).toFixed(2)} L concentrate + ${Number(mix.water).toFixed(2)} L water`, inner, {
        size: sizes.torque,
        weight: 'bold',
      }),
    );
    parts.push(
      paragraph(
        measure,
        `${fluid.spec ?? fluid.name}. Right if ${fluid.drained} L came out and ${mix.initial ? `the strength before was ${mix.initial} %` : 'the strength before was on target'}; gives ${mix.target} %${mix.range ? ` (${mix.range})` : ''}${mix.protects ? `, protects to ${mix.protects}` : ''}. Otherwise take the mixture from the table: litres of concentrate / water.`,
        inner,
        smallStyle,
      ),
    );
    parts.push(
      ...table(
        measure,
        [{ title: 'drained', share: 1.2 }, ...mix.table.strengths.map((strength) => ({ title: `${strength} % before`, share: 1.6 }))],
        mix.table.rows.map((row) => [`${row.drained} L`, ...row.cells]),
        inner,
        smallStyle,
      ),
    );
    if (mix.readyMix) {
      const { readyMix } = mix;
      const verdict = readyMix.inRange
        ? 'inside the range, but not the target'
        : readyMix.rounds
          ? `outside the range; it takes ${readyMix.rounds} changes`
          : 'outside the range: do not use it';
      parts.push(
        paragraph(
          measure,
          `Ready mixture of ${readyMix.strength} % instead would make ${readyMix.gives} %, ${verdict}.`,
          inner,
          smallStyle,
        ),
      );
    }
  } else {
    const each = fluid.rounds > 1 ? Number(fluid.pour) / fluid.rounds : Number(fluid.pour);
    parts.push(
      paragraph(measure, `${each.toFixed(each % 1 === 0 ? 0 : 1)} L ${fluid.spec ?? fluid.name}`, inner, {
        size: sizes.torque,
        weight: 'bold',
      }),
    );
    parts.push(paragraph(measure, 'Pour what came out, and not the capacity; then by the level.', inner, smallStyle));
  }
  if (fluid.shares.length > 0) {
    const round = fluid.steps.filter((n) => n <= step.n).length / 2;
    parts.push(
      paragraph(
        measure,
        `Change ${Math.ceil(round)} of ${fluid.rounds}: ${fluid.shares[Math.ceil(round) - 1] ?? ''} % new fluid after it.`,
        inner,
        strongStyle,
      ),
    );
  }
  parts.push(blanks);
  if (fluid.level) parts.push(paragraph(measure, `Level: ${fluid.level}`, inner, smallStyle));
  return framed(stack(parts, 4), width, 5, rule.hair);
}

/** Recovering and charging by mass: what is weighed, what was lost, the oil that goes with it. */
function chargeBlock(measure: Measure, charge: Charge, step: Step, width: number): Block {
  const inner = width - 12;
  if (step.verb === 'drain') {
    const words = `${charge.name}: ${charge.charge} when full.${charge.recovered ? ` Before the job ${charge.recovered} came out: ${charge.lost} lost (${charge.lostShare} %).` : ''} Weigh what is recovered; what is missing has leaked.`;
    return framed(
      stack([paragraph(measure, words, inner), blank(measure, `${charge.blanks.recovered} recovered`, 'g')], 4),
      width,
      5,
      rule.hair,
    );
  }
  const oil = charge.oil
    ? [
        paragraph(
          measure,
          `${charge.oil.total} mL oil${charge.oil.spec ? ` ${charge.oil.spec}` : ''}: ${charge.oil.recovered} mL came out, ${charge.oil.parts} mL for new parts.`,
          inner,
          strongStyle,
        ),
      ]
    : [];
  const bottle = charge.bottle ? [paragraph(measure, `Bottle ledger of this job: ${charge.bottle} g.`, inner, smallStyle)] : [];
  return framed(
    stack(
      [
        paragraph(measure, `${charge.charge}${charge.spec ? ` ${charge.spec}` : ''}`, inner, { size: sizes.torque, weight: 'bold' }),
        ...oil,
        ...bottle,
        blank(measure, `${charge.blanks.charged} charged`, 'g'),
      ],
      4,
    ),
    width,
    5,
    rule.hair,
  );
}

function signBlock(measure: Measure, words: string, width: number, blanks: readonly string[]): Block {
  const row = flow(
    blanks.map((label) => ({ width: blankWidthOf(measure, label, ''), block: blank(measure, label, '') })),
    width - 12,
  );
  return framed(stack([paragraph(measure, words, width - 12, strongStyle), row], 4), width, 6, rule.heavy);
}

/** A list with a tick box before each line, in rows of some columns: a block a row, so that a page may break between. */
export function tickRows(measure: Measure, items: readonly string[], width: number, columns: number): Block[] {
  const wide = (width - (columns - 1) * 10) / columns;
  const one = (item: string): Block => {
    const words = paragraph(measure, item, wide - box.side - 6, columns > 1 ? { size: 10, weight: 'regular' } : plainStyle);
    return { height: Math.max(words.height + 2, box.side) + 3, marks: [tick(0, 0), ...shift(words.marks, box.side + 5, 2)] };
  };
  return Array.from({ length: Math.ceil(items.length / columns) }, (_, row) =>
    beside(items.slice(row * columns, (row + 1) * columns).map((item, index) => ({ x: index * (wide + 10), block: one(item) }))),
  );
}
