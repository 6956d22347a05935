import type { Charge, Choice, CompiledJob, Fluid, Measurement, Step } from '../schema/generated/compiled-job.js';
import {
  type Blank,
  type Block,
  blank,
  blankWidthOf,
  blanks,
  figureStyle,
  flow,
  framed,
  inset,
  paragraph,
  plainStyle,
  type Style,
  smallStyle,
  stack,
  strongStyle,
  table,
  tick,
  tickBlock,
} from './blocks.js';
import type { VerbName } from '../ledger/verbs.js';
import { mixtureTable } from './mixture-table.js';
import { element, type Limit, type Mark, shift } from './page.js';
import {
  lostOf,
  bottleOf,
  chargeOf,
  massUnitOf,
  mixture,
  oilSize,
  toleranceOf,
  unitOf,
  volume,
  whatComes,
  whatGoesIn,
  whatIsCharged,
} from './amounts.js';
import type { Setting } from './setting.js';
import { caution } from './signs.js';
import { box, rule, sizes } from './style.js';
import { codeAt, eachCounts } from './times.js';
import { torqueStrip } from './torque-strip.js';

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
    if (one) under(measurementBlock(set, one, codeAt(step, code), inner));
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
    step.agent ? words.agent(step.agent) : null,
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

/** What was read before the job, and what came of it; a single reading is said once. */
function readBefore({ words, figure }: Setting, { expected, verdict }: Measurement): string {
  if (!expected) return '';
  if (!verdict) return `; ${words.measurement.before(figure(expected))}`;
  return verdict.startsWith(`${expected} `)
    ? `; ${words.beforeJob(figure(verdict))}`
    : `; ${words.measurement.before(figure(expected))}: ${figure(verdict)}`;
}

/** What each of its readings must lie within by itself: of the largest no least, of a mean or a difference nothing. */
function limitOfEach(set: Setting, { points, takes, limit, low, high }: Measurement): Limit | null {
  if (limit === null) return null;
  const alone = points < 2 || eachCounts({ takes });
  const least = alone || takes === 'min' ? low : null;
  const most = alone || takes === 'max' ? high : null;
  return least === null && most === null ? null : { low: least, high: most, says: set.figure(limit) };
}

/** @param code what stands beside its blanks */
function measurementBlock(set: Setting, one: Measurement, code: string, width: number): Block {
  const { measurement, takes, limit } = set.words;
  const spread = one.spread?.replace(limit.most(''), '');
  const by = one.calculated && measurement.calculated(set.figure(one.calculated.formula), one.points > 1);
  const limited = one.limit && set.figure(one.limit);
  const how = by && limited ? `${by}; ${limited}` : (by ?? limited ?? measurement.writeDown);
  const words = [
    `${code}  ${one.name}: ${how}${one.takes && !(by && one.takes === 'each') ? ` (${takes[one.takes] ?? one.takes})` : ''}`,
    spread ? `; ${measurement.spread(set.figure(spread))}` : '',
    one.with ? `, ${measurement.with(one.with, one.resolution && set.figure(one.resolution))}` : '',
    // What is taken again, after the work, is not what was read before it.
    code === one.code ? readBefore(set, one) : '',
  ].join('');
  const { unit } = one;
  const alone = limitOfEach(set, one);
  const within = alone ? { limit: alone } : {};
  const points = Array.from({ length: one.points }, (_, index): Blank => {
    const n = String(index + 1);
    return one.points > 1
      ? { key: `${code}/${n}`, label: n, unit, says: `${code} ${n}`, ...within }
      : { key: code, label: code, unit, ...within };
  });
  const outside = one.outside ? [paragraph(set, measurement.outside(one.outside), width - 12, smallStyle)] : [];
  return framed(
    stack([paragraph(set, words, width - 12, strongStyle), blanks(set, points, width - 12), ...outside], 4),
    width,
    5,
    rule.hair,
  );
}

/** @param code what stands beside its boxes */
function choiceBlock(set: Setting, choice: Choice, code: string, width: number): Block {
  const words = set.words.choice;
  const { expected } = choice;
  const each = expected.length > 1;
  const columns = [
    { title: words.from(code, choice.name, choice.from), share: 4 },
    { title: words.gives, share: each ? 4 : 3 },
    ...(each ? [] : [{ title: words.tick, share: 1 }]),
  ];
  const rows = choice.rows.map((row) => {
    const at = expected.flatMap((item, n) => (item === row.item ? [n + 1] : []));
    const says = at.length === 0 ? '' : ` ${at.length === expected.length ? words.expected : words.expectedAt(at.join(', '))}`;
    return [set.figure(row.range), `${row.name}${says}`, ...(each ? [] : [tickBlock(`${code}/${row.item}`, row.name)])];
  });
  const chosen = Array.from(expected, (_, n): Blank => ({ key: `${code}/${n + 1}`, label: String(n + 1), says: `${code} ${n + 1}` }));
  const under = each ? [paragraph(set, words.each, width, smallStyle), blanks(set, chosen, width)] : [];
  const outside = choice.outside ? [paragraph(set, words.outside(choice.outside), width, smallStyle)] : [];
  return stack([...table(set, columns, rows, width), ...under, ...outside], 1);
}

function drainBlock(set: Setting, fluid: Fluid, step: Step, width: number): Block {
  const words = set.words.fluid;
  const says = words.drain(
    fluid.name,
    volume(set, fluid, fluid.drained, fluid.inShopUnit?.drained),
    toleranceOf(set, fluid),
    set.words.list(fluid.through),
    volume(set, fluid, fluid.residue, fluid.inShopUnit?.residue),
  );
  const recovered = codeAt(step, fluid.blanks.recovered);
  const out = blank(set, { key: recovered, label: words.recovered(recovered), ...whatComes(set, fluid) });
  return framed(stack([paragraph(set, says, width - 12), out], 4), width, 5, rule.hair);
}

function fillBlock(set: Setting, job: CompiledJob, fluid: Fluid, step: Step, width: number): Block {
  const words = set.words.fluid;
  const { figure } = set;
  const inner = width - 12;
  const parts: Block[] = [];
  const say = (text: string, style: Style) => void parts.push(paragraph(set, text, inner, style));
  if (fluid.mix) {
    const { mix } = fluid;
    say(mixture(set, fluid, mix), figureStyle);
    say(
      words.mixRight({
        spec: fluid.spec ?? fluid.name,
        drained: volume(set, fluid, fluid.drained, fluid.inShopUnit?.drained),
        unit: unitOf(fluid),
        initial: mix.initial && figure(mix.initial),
        target: figure(mix.target),
        range: mix.range && figure(mix.range),
        protects: mix.protects,
      }),
      smallStyle,
    );
    parts.push(...mixtureTable(set, fluid, mix, inner, smallStyle));
    if (mix.readyMix) {
      const { readyMix } = mix;
      const verdict = readyMix.inRange ? words.readyInside : readyMix.rounds ? words.readyRounds(readyMix.rounds) : words.readyNever;
      say(words.readyMix(figure(readyMix.strength), figure(readyMix.gives), verdict), smallStyle);
    }
  } else {
    const each = fluid.rounds > 1 ? Number(fluid.pour) / fluid.rounds : Number(fluid.pour);
    // What is poured each time is what came out.
    say(`${volume(set, fluid, each.toFixed(each % 1 === 0 ? 0 : 1), fluid.inShopUnit?.drained)} ${fluid.spec ?? fluid.name}`, figureStyle);
    say(step.pouredBack ? words.pourBack : words.pourWhatCame, step.pouredBack ? strongStyle : smallStyle);
  }
  if (fluid.shares.length > 0) {
    // Of changes after different outcomes only one is done.
    const round = Math.min(Math.ceil(fluid.steps.filter((n) => n <= step.n).length / 2), fluid.rounds);
    say(words.change(round, fluid.rounds, figure(fluid.shares[round - 1] ?? '')), strongStyle);
  }
  if (fluid.accepted.length > 0) say(words.accepted(set.words.list(fluid.accepted)), smallStyle);
  const poured = codeAt(step, fluid.blanks.poured);
  const drained = job.steps.findLast((one) => one.verb === 'drain' && one.fluid === fluid.id && one.n < step.n);
  const recovered = drained ? codeAt(drained, fluid.blanks.recovered) : fluid.blanks.recovered;
  const written: Blank = {
    key: poured,
    label: words.poured(poured),
    ...whatGoesIn(set, fluid),
  };
  const less = words.less(recovered, volume(set, fluid, fluid.drained, fluid.inShopUnit?.drained), toleranceOf(set, fluid));
  parts.push(
    flow(
      [
        { width: blankWidthOf(set, written) + 6, block: blank(set, written) },
        { width: 230, block: paragraph(set, less, 220, smallStyle) },
      ],
      inner,
    ),
  );
  if (fluid.level) say(words.level(null, figure(fluid.level)), smallStyle);
  return framed(stack(parts, 4), width, 5, rule.hair);
}

/** Recovering and charging by mass: what is weighed, what was lost, the oil that goes with it. */
function chargeBlock(set: Setting, charge: Charge, step: Step, width: number): Block {
  const words = set.words.fluid;
  const { figure } = set;
  const inner = width - 12;
  const recovered = codeAt(step, charge.blanks.recovered);
  const charged = codeAt(step, charge.blanks.charged);
  if (step.verb === 'drain') {
    const before = charge.recovered
      ? words.weighed(figure(charge.recovered), lostOf(set, charge) ?? '', figure(charge.lostShare ?? ''))
      : null;
    const says = words.weigh(charge.name, chargeOf(set, charge), before);
    const out = blank(set, { key: recovered, label: words.recovered(recovered), unit: massUnitOf(charge) });
    return framed(stack([paragraph(set, says, inner), out], 4), width, 5, rule.hair);
  }
  const { oil } = charge;
  const bottle = bottleOf(set, charge);
  const parts = [
    paragraph(set, `${chargeOf(set, charge)}${charge.spec ? ` ${charge.spec}` : ''}`, inner, figureStyle),
    ...(oil
      ? [
          paragraph(
            set,
            words.oil(oilSize(set, oil, 'total'), oil.spec, oilSize(set, oil, 'recovered'), oilSize(set, oil, 'parts')),
            inner,
            strongStyle,
          ),
        ]
      : []),
    ...(bottle ? [paragraph(set, words.bottle(bottle), inner, smallStyle)] : []),
    blank(set, { key: charged, label: words.charged(charged), ...whatIsCharged(set, charge) }),
  ];
  return framed(stack(parts, 4), width, 5, rule.hair);
}

const signBlock = (set: Setting, words: string, width: number, all: readonly Blank[]): Block =>
  framed(stack([paragraph(set, words, width - 12, strongStyle), blanks(set, all, width - 12)], 4), width, 6, rule.heavy);
