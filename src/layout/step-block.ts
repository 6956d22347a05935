import type { CompiledJob, Step } from '../schema/generated/compiled-job.js';
import {
  type Blank,
  type Block,
  blanks,
  framed,
  inset,
  paragraph,
  plainStyle,
  type Style,
  smallStyle,
  stack,
  strongStyle,
} from './blocks.js';
import { tick } from './rows.js';
import { chargeBlock, drainBlock, fillBlock } from './fluid-block.js';
import { choiceBlock, measurementBlock } from './reading-block.js';
import { caution } from './signs.js';
import { torqueStrip } from './torque-strip.js';
import type { VerbName } from '../ledger/verbs.js';
import { element, type Mark, shift } from './page.js';
import type { Setting } from './setting.js';
import { box, rule, sizes } from './style.js';
import { codeAt } from './times.js';

const numberWidth = 32;

/** Of a trial with old bolts nothing is new. */
const asOld = { renew: false, reuse: null };

/** A step as it stands on the bay sheet: cautions above it, its action and tick box, what it opens and closes, blanks and torque. */
export function stepBlocks(set: Setting, job: CompiledJob, step: Step, width: number): Block[] {
  const words = set.words.step;
  const cautions = step.cautions.map((one) => inset(caution(set, one, width - numberWidth), numberWidth));
  const wide = width - numberWidth - box.side - 10;
  const parts: Block[] = [headOf(set, step, width, wide)];
  const under = (block: Block) => void parts.push(inset(block, numberWidth));
  const text = (content: string, style = plainStyle) => under(paragraph(set, content, wide, style));
  if (step.where) text(step.where, smallStyle);
  if (step.says) text(step.says);
  for (const note of step.notes) text(words.thisVehicle(note), strongStyle);
  if (step.leftHand.length > 0) {
    // Where the step is called as the joint, it need not be named again.
    const isNamed = step.objects.length === 1 && step.objects[0]?.name === step.leftHand.join();
    text(words.undoLeftHand(isNamed ? null : set.words.list(step.leftHand)), strongStyle);
  }
  for (const { name, way } of step.fits) text(words.wayRound(step.objects.length > 1 ? name : null, way), strongStyle);
  for (const { name, says } of step.levels)
    text(set.words.fluid.level(step.objects.length > 1 ? name : null, set.figure(says)), strongStyle);
  if (step.why) text(words.why(step.why), smallStyle);
  const notes = notesOf(set, job, step);
  if (notes) text(notes, smallStyle);
  if (step.parts.length > 0)
    text(words.fresh(step.parts.map((one) => words.part(one.count, one.name)).join(', ')), { size: sizes.small, weight: 'semibold' });
  if (step.trial) text(words.trial, strongStyle);
  const inner = width - numberWidth;
  for (const code of step.measurements) {
    const one = job.measurements.find((candidate) => candidate.code === code);
    if (one) under(measurementBlock(set, job, one, step, inner));
  }
  const choice = job.choices.find((one) => one.code === step.choice);
  if (choice) under(choiceBlock(set, choice, codeAt(step, choice.code), inner));
  const charge = job.charges.find((one) => one.steps.includes(step.n));
  if (charge) under(chargeBlock(set, charge, step, inner));
  for (const { amount, spec, name } of job.bled.filter(({ steps }) => steps.includes(step.n)))
    text(set.words.fluid.bleeding(set.figure(amount), spec ?? name), smallStyle);
  const fluid = job.fluids.find((one) => one.id === step.fluid);
  if (fluid) under(step.verb === 'drain' ? drainBlock(set, fluid, step, inner) : fillBlock(set, job, fluid, step, inner));
  for (const { joint: code, stages } of step.torque) {
    const joint = job.joints.find((one) => one.code === code);
    if (joint && stages.length > 0)
      under(torqueStrip(set, { ...joint, code: codeAt(step, code), ...(step.trial && asOld) }, stages, step.verb === 're-torque', inner));
  }
  if (step.secondPerson) {
    const { code, look } = step.secondPerson;
    under(
      signBlock(set, words.secondPerson(code, look), inner, [
        { key: `${code}/initials`, label: words.initials },
        { key: `${code}/time`, label: words.time },
      ]),
    );
  }
  if (step.authority) {
    const { code, why } = step.authority;
    under(
      signBlock(set, words.authority(code, why), inner, [
        { key: `${code}/who`, label: words.whoSaidYes },
        { key: `${code}/time`, label: words.time },
      ]),
    );
  }
  const body = stack(parts, 3);
  const line: Mark = { kind: 'line', x: numberWidth, y: body.height + 4, toX: width, toY: body.height + 4, width: rule.hair };
  return [...cautions, { height: body.height + 9, pieces: [element('Div', [...body.pieces, line], { look: 'step' })], step: step.n }];
}

/** Number, action, and the box to tick. */
function headOf(set: Setting, step: Step, width: number, wide: number): Block {
  const style: Style = { size: sizes.step, weight: 'bold' };
  const says = step.onlyIf ? set.words.step.onlyIf(step.onlyIf, step.sentence) : step.sentence;
  const action = paragraph(set, says, wide, style);
  const number: Mark = { kind: 'text', x: 0, y: 1, size: sizes.step + 1.5, weight: 'bold', text: String(step.n) };
  const lines = shift(
    action.pieces.flatMap((piece) => (piece.kind === 'element' ? piece.children : [piece])),
    numberWidth,
    1,
  );
  const head = [
    element('H3', [number, ...lines], { text: `${step.n}  ${says}` }),
    tick(`step/${step.n}`, set.words.step.done(step.n), width - box.side),
  ];
  return {
    height: Math.max(action.height, box.side),
    pieces: [element('Div', head, { look: 'head' })],
  };
}

const weights = ({ words, figure }: Setting, { objects, masses }: Step): string =>
  words.step.weighs(words.list(masses.map(({ name, mass }) => (objects.length > 1 ? `${name} ${figure(mass)}` : figure(mass)))));

/** What it opens and closes with the partner step, tools, persons, time, vessel. */
function notesOf(set: Setting, job: CompiledJob, step: Step): string {
  const { step: words, wear } = set.words;
  const ends = [...step.opens, ...step.closes].map((one) => {
    const partner = job.steps[(one.partner ?? 0) - 1];
    if (!partner) return words.never(one.name);
    if (step.verb === 'place') return words.inHere(one.name, String(partner.n));
    if (step.verb === 'clear') return words.outHere(one.name, String(partner.n));
    return words.doneAt(one.name, set.words.done[partner.verb as VerbName] ?? partner.verb, String(partner.n));
  });
  const other = [
    step.with.length > 0 ? words.tools(step.with.map((one) => one.name).join(', ')) : null,
    step.loosening?.order ? words.loosen[step.loosening.order](set.words.list(step.loosening.joints)) : null,
    step.loosening?.passes ? words.passes(step.loosening.passes) : null,
    // What is applied is in its sentence.
    step.agent && step.verb !== 'apply' ? words.agent(step.agent) : null,
    step.masses.length > 0 ? weights(set, step) : null,
    step.counterHold.length > 0 ? set.words.torque.counterHold(set.words.list(step.counterHold)) : null,
    step.people > 1 ? words.people(step.people) : null,
    step.wear.length > 0 ? words.wear(step.wear.map((one) => wear[one] ?? one.replaceAll('-', ' ')).join(', ')) : null,
    step.at ? words.at(set.figure(step.at)) : null,
    step.onGround ? words.onGround : null,
    step.into ? words.vessel(set.figure(step.into)) : null,
    step.until ? words.until(step.until) : null,
    step.unattended ? words.unattended(set.figure(step.unattended)) : null,
    step.qualification ? words.qualification(step.qualification) : null,
    step.figure ? words.figure(step.figure) : null,
  ].filter((part) => part !== null);
  return [...ends, ...other].join('  ·  ');
}

const signBlock = (set: Setting, words: string, width: number, all: readonly Blank[]): Block =>
  framed(stack([paragraph(set, words, width - 12, strongStyle), blanks(set, all, width - 12)], 4), width, 6, rule.heavy);
