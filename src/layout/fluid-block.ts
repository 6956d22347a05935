import type { Charge, CompiledJob, Fluid, Step } from '../schema/generated/compiled-job.js';
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
import {
  type Blank,
  type Block,
  blank,
  blankWidthOf,
  figureStyle,
  flow,
  framed,
  paragraph,
  type Style,
  smallStyle,
  stack,
  strongStyle,
} from './blocks.js';
import { mixtureTable } from './mixture-table.js';
import type { Setting } from './setting.js';
import { rule } from './style.js';
import { codeAt } from './times.js';

/** What should come out, and the blank for what did. */
export function drainBlock(set: Setting, fluid: Fluid, step: Step, width: number): Block {
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

/** What is poured, its mixture, the blank for what was. */
export function fillBlock(set: Setting, job: CompiledJob, fluid: Fluid, step: Step, width: number): Block {
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
    // What is poured each time is what came out.
    say(`${volume(set, fluid, fluid.drained, fluid.inShopUnit?.drained)} ${fluid.spec ?? fluid.name}`, figureStyle);
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
export function chargeBlock(set: Setting, charge: Charge, step: Step, width: number): Block {
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
