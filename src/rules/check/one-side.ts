import { bare } from '../../bare.js';
import { inWords } from '../../library/names-in-words.js';
import { once } from '../../once.js';
import { goingOnIn, type Plan, type PlanStep } from '../../plan/plan.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
  'parts:\n',
  'parts:\n  disc-left: { name: left brake disc, item: pump }\n  disc-right: { name: right brake disc, item: pump }\n',
);
const discs = (...sides: readonly string[]) => ({
  'vehicles/sample-van.yaml': van,
  'procedures/discs.yaml': `kind: procedure\nid: discs\nname: Renew brake discs\nfor: sample-van\nlabour: { discs: { says: discs, time: 1 h } }\nsteps:\n${sides.map((side) => `  - remove: disc-${side}\n`).join('')}close-up:\n${sides.map((side) => `  - fit: disc-${side}\n    new: true\n`).join('')}`,
  'jobs/example.yaml': `kind: job\nid: example\ndate: "2026-11-25"\nvehicle: sample-van\nplate: "X 1"\ntechnician: T\nwork: [discs]\n`,
});

export const rule: Rule = {
  name: 'check/one-side',
  severity: 'warning',
  finds: 'A job in which pads, discs, shoes or drums of a brake are renewed on one side of an axle alone.',
  why: 'Old and new brake differently: the vehicle pulls to one side.',
  mend: 'Renew those of the other side too, or allow it with the reason.',
  bad: { ...discs('left'), 'jobs/example.yaml': discs('left')['jobs/example.yaml'].replace('[discs]\n', '[discs] # <-\n') },
  good: discs('left', 'right'),
  check(context, tell) {
    // One procedure may be for one side: what matters is the job.
    for (const job of context.jobs)
      for (const { plan } of context.plans)
        for (const { step, object } of onOneSide(plan))
          tell({
            span: spanOf(job, 'work'),
            about: object,
            message: `\`${object}\` goes on new, and nothing of its kind on the other side. Brakes are renewed on both sides of an axle: add the other side, or allow this with the reason.`,
            related: [{ span: stepSpan(step), message: 'it goes on here' }],
          });
  },
};

/** What wears in a brake, by its name; common practice, no source. In the languages of the tool. */
const wears =
  /\b(pads?|discs?|disks?|rotors?|shoes?|drums?)\b|brems(bel(ä|ae)ge?|scheiben?|trommeln?|backen?|kl(ö|oe)tze?)\b|\b(bel(ä|ae)ge|scheibe|trommel|backen)\b/;

/** Words that say the side: what they say besides, and whether it is the left one. */
const sides: Readonly<Record<string, readonly [axle: string, isLeft: boolean]>> = bare({
  left: ['', true],
  right: ['', false],
  l: ['', true],
  r: ['', false],
  lh: ['', true],
  rh: ['', false],
  links: ['', true],
  rechts: ['', false],
  fl: ['front', true],
  fr: ['front', false],
  lf: ['front', true],
  rf: ['front', false],
  rl: ['rear', true],
  rr: ['rear', false],
  lr: ['rear', true],
  vl: ['front', true],
  vr: ['front', false],
  hl: ['rear', true],
  hr: ['rear', false],
});

/** What something is called but for its side; null where no word of it says that. */
function withoutSide(words: string): { readonly kind: string; readonly isLeft: boolean } | null {
  const each = words.trim().split(' ');
  const at = each.findIndex((word) => sides[word] !== undefined);
  const [axle, isLeft] = sides[each[at] ?? ''] ?? [];
  if (axle === undefined || isLeft === undefined) return null;
  return { kind: each.with(at, axle).filter(Boolean).join(' '), isLeft };
}

interface GoesOn {
  readonly step: PlanStep;
  readonly object: string;
  readonly isLeft: boolean;
}

/** What of the brakes goes on new in a plan on one side, and not on the other. */
function onOneSide(plan: Plan): readonly GoesOn[] {
  const byKind = new Map<string, GoesOn[]>();
  for (const [step, all] of goingOnIn(plan))
    for (const { object, isNew } of all) {
      const name = step.participant.scope.parts.get(object)?.name;
      if (!isNew || !wears.test(inWords(object, name))) continue;
      const said = withoutSide(inWords(object, undefined)) ?? withoutSide(inWords('', name));
      if (said) once(byKind, said.kind, () => []).push({ step, object, isLeft: said.isLeft });
    }
  return [...byKind.values()].flatMap((all) => {
    const [first] = all;
    return first && all.every(({ isLeft }) => isLeft === first.isLeft) ? [first] : [];
  });
}
