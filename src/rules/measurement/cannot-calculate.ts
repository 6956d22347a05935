import { groupsOf, isCircle, readingsApart, unitOfReading } from '../../job/readings.js';
import type { Scope } from '../../library/scope.js';
import type { Measurement } from '../../schema/generated/types.js';
import { isDamaged, spanOf, spanOfName } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Found, Rule } from '../rule.js';

const shims = (points: string, mark = ''): string =>
  procedure(`measurements:
  shim-in: { name: shim that is in, unit: mm, points: 8, takes: each }
  gap: { name: clearance, limit: 0.18..0.22 mm, points: ${points}, takes: each, with: feeler gauges, outside: Another shim. }
  shim-wanted:
    name: shim that is wanted
    unit: mm
    points: 8
    takes: each
    calculated:
      plus: [shim-in, gap]${mark}
      constant: -0.20 mm
steps:
  - measure: shim-in
  - measure: gap
  - measure: shim-wanted
`);

export const rule: Rule = {
  name: 'measurement/cannot-calculate',
  severity: 'error',
  finds: 'A measurement that cannot be worked out from others: they have another number of readings, are of another kind, or wait for it.',
  why: 'Whoever stands there works out something, and nobody knows what.',
  mend: 'Give each of them as many readings as it has, or one, in units that measure the same.',
  bad: shims('4', ' # <-'),
  good: shims('8'),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      const own = Object.entries(document.measurements ?? {}).filter(([, one]) => one.calculated && !isDamaged(one));
      if (own.length === 0) continue;
      const scopes: readonly Pick<Scope, 'measurements'>[] = document.kind === 'vehicle' ? [] : context.scopesOf(document);
      const declared = new Map(Object.entries(document.measurements ?? {}));
      for (const { measurements } of scopes.length > 0 ? scopes : [{ measurements: declared }]) {
        const circles = groupsOf(measurements).filter((group) => isCircle(group, measurements));
        const circle = new Map(circles.flatMap((group) => group.map((name) => [name, group])));
        const isRound = (name: string, id: string): boolean => circle.has(name) && circle.get(name) === circle.get(id);
        for (const [id, one] of own) for (const found of wrongIn(id, one, measurements, isRound)) tell(found);
      }
    }
  },
};

/** @param isRound whether a name is itself worked out from another that is worked out from it */
function* wrongIn(
  id: string,
  one: Measurement,
  all: Scope['measurements'],
  isRound: (name: string, id: string) => boolean,
): Iterable<Found> {
  const { calculated: by } = one;
  if (!by) return;
  const unit = unitOfReading(one);
  for (const key of ['plus', 'minus'] as const)
    for (const name of by[key] ?? []) {
      const term = all.get(name);
      if (!term) continue;
      const at = { span: spanOfName(by, key, name), about: name };
      const other = unitOfReading(term);
      if (isRound(name, id)) yield { ...at, message: `\`${name}\` is itself worked out from \`${id}\`. Take one of the two another way.` };
      else if (unit && other && unit.dimension !== other.dimension)
        yield {
          ...at,
          message: `\`${name}\` is in ${other.symbol}, which measures something else than ${unit.symbol}. Correct the name, or the unit.`,
        };
      else if (readingsApart(term, one))
        yield {
          ...at,
          message: `\`${name}\` has ${term.points ?? 1} readings, and \`${id}\` has ${one.points ?? 1}: nobody knows which goes with which. Give both the same \`points:\`.`,
        };
    }
  if (unit && by.constant && by.constant.unit.dimension !== unit.dimension)
    yield {
      span: spanOf(by, 'constant'),
      message: `\`constant: ${by.constant.text}\` measures something else than ${unit.symbol}. Write it in ${unit.symbol}.`,
    };
}
