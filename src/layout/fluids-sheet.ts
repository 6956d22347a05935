import type { Charge, CompiledJob, Fluid } from '../schema/generated/compiled-job.js';
import { type Blank, type Block, blanks, paragraph, section, smallStyle, space, strongStyle } from './blocks.js';
import { table } from './rows.js';
import { wasteRows } from './closing-page.js';
import { mixtureTable } from './mixture-table.js';
import type { Measure, Paper } from './page.js';
import { contentWidth } from './paginate.js';
import { paperOf } from './paper.js';
import {
  lostOf,
  bottleOf,
  chargeOf,
  massUnitOf,
  oilSize,
  toleranceOf,
  unitOf,
  volume,
  whatComes,
  whatGoesIn,
  whatIsCharged,
} from './amounts.js';
import { type Setting, settingOf } from './setting.js';
import { codesOf } from './times.js';

/** What comes out of each circuit and what goes in, with the table of mixtures, so that nobody needs a computer in the bay. */
export function fluidsSheet(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const set = settingOf(job, measure);
  const { fluidsSheet: words } = set.words;
  const blocks = [
    ...job.fluids.flatMap((fluid) => circuit(set, job, fluid, width)),
    ...job.charges.flatMap((charge) => byMass(set, job, charge, width)),
    ...job.bled.flatMap((one) =>
      section(
        set,
        titleOf(one),
        width,
        [paragraph(set, set.words.fluid.bleeding(set.figure(one.amount), one.spec ?? one.name), width)],
        10,
      ),
    ),
  ];
  if (blocks.length === 0) blocks.push(paragraph(set, words.nothing, width));
  if (job.waste.length > 0) {
    const { columns: titles } = words;
    const columns = [
      { title: titles.what, share: 3.4 },
      { title: titles.class, share: 1.6 },
      { title: titles.expected, share: 1.6 },
      { title: titles.vessel, share: 1.2 },
      { title: titles.to, share: 1.4 },
      { title: titles.measured, share: 1.8 },
    ];
    const rows = wasteRows(job, set, (one) => [set.figure(one.vessel ?? ''), one.to ?? '']);
    blocks.push(...section(set, words.waste, width, table(set, columns, rows, width), 0));
  }
  return paperOf(job, set, 'fluids-sheet', blocks);
}

const titleOf = (one: { readonly name: string; readonly spec: string | null }): string => `${one.name}${one.spec ? `, ${one.spec}` : ''}`;

/** A blank for each time that it is drained or filled. */
const each = (job: CompiledJob, code: string, label: (code: string) => string, of: Pick<Blank, 'unit' | 'limit'>): Blank[] =>
  codesOf(job, code).map((one) => ({ key: one, label: label(one), ...of }));

function circuit(set: Setting, job: CompiledJob, fluid: Fluid, width: number): Block[] {
  const { fluidsSheet: words, fluid: filling } = set.words;
  const { figure } = set;
  const { mix } = fluid;
  const { recovered, poured } = fluid.blanks;
  const size = (of: 'capacity' | 'drained' | 'residue' | 'pour') => volume(set, fluid, fluid[of], fluid.inShopUnit?.[of]);
  const strength = (when: string, label: string): Blank[] => (mix ? [{ key: `${fluid.id}/strength-${when}`, label, unit: '%' }] : []);
  const written: Blank[] = [
    ...each(job, recovered, filling.recovered, whatComes(set, fluid)),
    ...strength('before', words.strengthBefore),
    ...each(job, poured, filling.poured, whatGoesIn(set, fluid)),
    ...strength('after', words.strengthAfter),
  ];
  const blocks: Block[] = [];
  const say = (text: string, style?: typeof strongStyle) => void blocks.push(paragraph(set, text, width, style));
  if (fluid.accepted.length > 0) say(filling.accepted(set.words.list(fluid.accepted)), smallStyle);
  if (fluid.through.length > 0)
    say(words.holds(size('capacity'), set.words.list(fluid.through), size('drained'), toleranceOf(set, fluid), size('residue')));
  blocks.push(space(3), blanks(set, written, width, 8), space(4));
  if (mix) {
    say(words.mix(unitOf(fluid), figure(mix.target), mix.range && figure(mix.range), mix.protects), strongStyle);
    blocks.push(...mixtureTable(set, fluid, mix, width));
    if (mix.readyMix) say(words.readyMix(figure(mix.readyMix.strength), figure(mix.readyMix.gives), mix.readyMix.inRange), smallStyle);
  } else say(fluid.pouredBack ? words.pourBack(size('pour')) : words.pour(size('pour'), fluid.rounds), strongStyle);
  if (fluid.shares.length > 0) say(words.shares(fluid.shares.map((share) => `${figure(share)} %`).join(', ')));
  if (fluid.level) say(filling.level(null, figure(fluid.level)));
  return section(set, titleOf(fluid), width, blocks, 10);
}

function byMass(set: Setting, job: CompiledJob, charge: Charge, width: number): Block[] {
  const { fluidsSheet: words, fluid: filling } = set.words;
  const { figure } = set;
  const { recovered, charged } = charge.blanks;
  const { oil, lostShare } = charge;
  const lost = lostOf(set, charge);
  const unit = massUnitOf(charge);
  const written: Blank[] = [
    ...each(job, recovered, filling.recovered, { unit }),
    ...each(job, charged, filling.charged, whatIsCharged(set, charge)),
    { key: `${charge.id}/bottle-before`, label: words.bottleBefore, unit },
    { key: `${charge.id}/bottle-after`, label: words.bottleAfter, unit },
  ];
  const blocks = [
    paragraph(set, words.charge(chargeOf(set, charge), lost, lostShare && figure(lostShare), bottleOf(set, charge)), width),
    ...(oil
      ? [
          paragraph(
            set,
            words.oil(oil.spec, oilSize(set, oil, 'total'), oilSize(set, oil, 'recovered'), oilSize(set, oil, 'parts')),
            width,
            strongStyle,
          ),
        ]
      : []),
    space(3),
    blanks(set, written, width, 8),
  ];
  return section(set, titleOf(charge), width, blocks, 10);
}
